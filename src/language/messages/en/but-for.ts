/** Settings that a cause of coordination is judged by. */
export const butFor = {
  twist: 'the twist',
  'nozzle-surface': 'the nozzle texture',
  'nozzle-radius': 'the nozzle radius',
  'nozzle-material': 'the nozzle material',
  'nozzle-protrusion': 'the nozzle protrusion',
  'tube-bend': 'the tube bend',
  insert: 'the insert',
  'rotor-speed': 'the rotor speed',
  'rotor-diameter': 'the rotor diameter',
  count: 'the count',
  fineness: 'the fibre fineness',
} as const;
