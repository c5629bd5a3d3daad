import type { Change, Level, Onset, Part, PartResult, Scope, Stop } from './knowledge/vocabulary.js';

/** The words of case files in plain language, for pages, ledgers and the terminal alike. */
export const SCOPE_WORDS: Record<Scope, string> = {
  position: 'one position',
  section: 'a run of neighbours',
  frame: 'the whole frame',
  can: 'follows the cans of one delivery',
  lot: 'every frame on the lot',
  mill: 'all frames and lots',
  shift: 'some shifts or hours',
};

export const ONSET_WORDS: Record<Onset, string> = {
  sudden: 'suddenly',
  creeping: 'creeping over weeks',
  'saw-tooth': 'builds up and resets',
  'time-of-day': 'by time of day',
  'since-change': 'since a change',
  ongoing: 'always been so',
  once: 'once, not repeated',
};

export const CHANGE_WORDS: Record<Change, string> = {
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
};

export const LEVEL_WORDS: Record<Level, string> = { absent: 'not seen', slight: 'slight', marked: 'marked' };

export const PART_WORDS: Record<Part, string> = {
  nozzle: 'nozzle',
  insert: 'insert',
  tube: 'draw-off tube',
  rotor: 'rotor',
  'opening-roller': 'opening roller',
  feed: 'feed unit',
  can: 'can',
  winding: 'winding unit',
};

export const PART_RESULT_WORDS: Record<PartResult, string> = {
  cured: 'cured it',
  'no-effect': 'changed nothing',
  'moves-with-part': 'took the fault along',
};

export const STOP_WORDS: Record<Stop, string> = {
  none: 'nothing stops',
  position: 'the position stands',
  section: 'the section stands',
  frame: 'the frame stands',
  lab: 'in the laboratory',
};

/** "a, b and c". */
export function joinWords(items: readonly string[], last = 'and'): string {
  if (items.length <= 1) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${last} ${items.at(-1)}`;
}

/** Capital first letter. */
export const sentenceCase = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
