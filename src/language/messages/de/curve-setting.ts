export const curveSetting = {
  twist: 'Drehung',
  texture: 'Düsenoberfläche',
  'nozzle-radius': 'Düsenradius',
  'nozzle-material': 'Düsenwerkstoff',
  'nozzle-protrusion': 'Düsenüberstand',
  'tube-bend': 'Röhrchenumlenkung',
  insert: 'Einsatz',
  rotor: 'Rotor',
  fibre: 'Faser',
  'rotor-speed': 'Rotordrehzahl',
  'rotor-diameter': 'Rotordurchmesser',
} as const;
