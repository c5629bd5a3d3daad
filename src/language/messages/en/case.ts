/** The words of case files in plain language. */

export const scope = {
  position: 'one position',
  section: 'a run of neighbours',
  frame: 'the whole frame',
  can: 'follows the cans of one delivery',
  lot: 'every frame on the lot',
  mill: 'all frames and lots',
  shift: 'some shifts or hours',
} as const;

export const onset = {
  sudden: 'suddenly',
  creeping: 'creeping over weeks',
  'saw-tooth': 'builds up and resets',
  'time-of-day': 'by time of day',
  'since-change': 'since a change',
  ongoing: 'always been so',
  once: 'once, not repeated',
} as const;

export const change = {
  'nozzle-surface': 'nozzle texture',
  'nozzle-radius': 'nozzle radius',
  'nozzle-material': 'nozzle material',
  'nozzle-renewed': 'new nozzles of the same kind',
  protrusion: 'nozzle protrusion',
  tube: 'draw-off tube',
  insert: 'twist-retention insert',
  twist: 'twist',
  'rotor-speed': 'rotor speed',
  rotor: 'rotor',
  count: 'yarn count',
  lot: 'lot',
  fibre: 'fibre or mix',
  'opening-roller': 'opening roller',
  winding: 'winding',
  piecer: 'piecing settings',
  'cleaning-round': 'cleaning round',
  overhaul: 'overhaul',
  climate: 'room climate',
  none: 'nothing',
} as const;

export const level = { absent: 'not seen', slight: 'slight', marked: 'marked' } as const;

export const partResult = {
  cured: 'cured it',
  'no-effect': 'changed nothing',
  'moves-with-part': 'took the fault along',
} as const;

export const trialResult = {
  helped: 'it helped',
  'no-change': 'nothing changed',
  undecided: 'not known yet',
} as const;

export const part = {
  nozzle: 'nozzle',
  insert: 'insert',
  tube: 'draw-off tube',
  rotor: 'rotor',
  'opening-roller': 'opening roller',
  feed: 'feed unit',
  can: 'can',
  winding: 'winding unit',
} as const;

export const stop = {
  none: 'nothing stops',
  position: 'the position stands',
  section: 'the section stands',
  frame: 'the frame stands',
  lab: 'in the laboratory',
} as const;
