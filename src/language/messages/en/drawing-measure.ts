/** Measures of the drawing. */
export const drawingMeasure = {
  'rotor-diameter': 'Rotor diameter',
  'binding-in': 'Binding-in length',
  'required-binding-in': 'Binding-in length needed',
  'arm-length': 'Length of the yarn arm',
  'nozzle-radius': 'Entry radius of the nozzle',
  'contact-circle': 'Diameter of the contact circle',
  protrusion: 'Protrusion of the nozzle',
  'wrap-angle': 'Wrap at the nozzle',
  notches: 'Notches on the nozzle',
  'tube-bend': 'Bend of the draw-off tube',
  'insert-grooves': 'Grooves of the insert',
  'yarn-diameter': 'Yarn diameter',
  'twist-arm': 'Twist in the arm',
  'twist-before-bend': 'Twist between nozzle and bend',
  'twist-set': 'Twist after the bend (set)',
} as const;
