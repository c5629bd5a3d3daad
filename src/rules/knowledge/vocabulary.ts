import { wordTable } from '../../language/say.js';

/**
 * The words a case file and the knowledge base share: where a fault shows, how it began, what was changed,
 * and the named scales on which experts state strengths and weights.
 */

/** Where the trouble shows. `section` is a run of neighbouring positions, `can` follows the cans of one delivery. */
export const SCOPES = ['position', 'section', 'frame', 'can', 'lot', 'mill', 'shift'] as const;
export type Scope = (typeof SCOPES)[number];

/** How the trouble began; `saw-tooth` builds up and resets. */
export const ONSETS = [
  'sudden',
  'creeping',
  'saw-tooth',
  'time-of-day',
  'since-change',
  'ongoing',
  'once',
] as const;
export type Onset = (typeof ONSETS)[number];

/** What was changed shortly before; `none` says that nothing was. */
export const CHANGES = [
  'nozzle-surface',
  'nozzle-radius',
  'nozzle-material',
  'nozzle-renewed',
  'protrusion',
  'tube',
  'insert',
  'twist',
  'rotor-speed',
  'rotor',
  'count',
  'lot',
  'fibre',
  'opening-roller',
  'winding',
  'piecer',
  'cleaning-round',
  'overhaul',
  'climate',
  'none',
] as const;
export type Change = (typeof CHANGES)[number];

/** How strongly a symptom shows. */
export const LEVELS = ['absent', 'slight', 'marked'] as const;
export type Level = (typeof LEVELS)[number];

/** Parts that can be tried in place of another (`part-exchange` finding). */
export const PARTS = [
  'nozzle',
  'insert',
  'tube',
  'rotor',
  'opening-roller',
  'feed',
  'can',
  'winding',
] as const;
export type Part = (typeof PARTS)[number];

/** Results of trying a part in place of another. */
export const PART_RESULTS = ['cured', 'no-effect', 'moves-with-part'] as const;
export type PartResult = (typeof PART_RESULTS)[number];

/** What came of an action that was tried; `undecided`: it is not known yet, or the counts do not tell. */
export const TRIAL_RESULTS = ['helped', 'no-change', 'undecided'] as const;
export type TrialResult = (typeof TRIAL_RESULTS)[number];

/** Chance that a parent alone brings its child about: the scale on which links are stated. */
export const STRENGTHS = {
  faint: 0.1,
  weak: 0.25,
  moderate: 0.5,
  strong: 0.8,
  'near-certain': 0.95,
} as const;
export type StrengthName = keyof typeof STRENGTHS;

/** Likelihood ratio of a rule's weight: the scale on which rules are stated. */
export const WEIGHTS = { slightly: 2, clearly: 5, strongly: 20, decisively: 100 } as const;
export type WeightName = keyof typeof WEIGHTS;

/** What a statement rests on. Only `published` may be shown as a citation. */
export const STANDINGS = ['physics', 'published', 'common-practice', 'judgement', 'memory'] as const;
export type Standing = (typeof STANDINGS)[number];

/** What must stand still for a check or an action. */
export const STOPS = ['none', 'position', 'section', 'frame', 'lab'] as const;
export type Stop = (typeof STOPS)[number];

/** Groups under which causes are listed. */
export const FAMILIES = wordTable('family', [
  'nozzle',
  'tube-and-insert',
  'twist-and-speed',
  'rotor',
  'opening',
  'air-and-trash',
  'feed-and-sliver',
  'sliver-quality',
  'fibre',
  'winding',
  'room-and-care',
  'downstream',
  'chance',
]);
export type Family = keyof typeof FAMILIES;
