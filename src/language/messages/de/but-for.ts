export const butFor = {
  twist: 'die Drehung',
  'nozzle-surface': 'die Düsenoberfläche',
  'nozzle-radius': 'der Düsenradius',
  'nozzle-material': 'der Düsenwerkstoff',
  'nozzle-protrusion': 'der Düsenüberstand',
  'tube-bend': 'die Umlenkung im Röhrchen',
  insert: 'der Einsatz',
  'rotor-speed': 'die Rotordrehzahl',
  'rotor-diameter': 'der Rotordurchmesser',
  count: 'die Feinheit',
  fineness: 'die Faserfeinheit',
} as const;
