/** Settings along which a curve is drawn. */
export const curveSetting = {
  twist: 'twist',
  texture: 'nozzle texture',
  'nozzle-radius': 'nozzle radius',
  'nozzle-material': 'nozzle material',
  'nozzle-protrusion': 'nozzle protrusion',
  'tube-bend': 'tube bend',
  insert: 'insert',
  rotor: 'rotor',
  fibre: 'fibre',
  'rotor-speed': 'rotor speed',
  'rotor-diameter': 'rotor diameter',
} as const;
