import { SETUP_PATHS } from '../case/types.js';
import type { RuleBook } from './knowledge-base.js';
import { MARGINS } from './schema.js';

/** Settings of the case that rules can see as `setup.<name>`: the fields of a setup, and its twist as alpha-e. */
const SETUP_FACTS: readonly string[] = [...SETUP_PATHS.filter((path) => path !== 'fibre'), 'alpha-e'];
/** Settings compared with the usual value (`deviation.`) or with what was before (`before.`). */
const COMPARED = [
  'twist',
  'rotor-speed',
  'opening-roller',
  'texture',
  'insert',
  'nozzle-radius',
  'nozzle-protrusion',
  'rotor-diameter',
  'tube-bend',
];
/** Computed medians that rules can see as `computed.<name>`. */
export const COMPUTED_FACTS = [
  'fibres-in-section',
  'draft',
  'rotor-to-staple',
  'nozzle-life-used',
  'yarn-temperature-rise',
  'tension-share',
  'back-doublings',
  'rim-speed',
] as const;

/** Whether rules can see a fact of this name. */
export function isKnownFact(name: string, book: Pick<RuleBook, 'symptoms' | 'checks'>): boolean {
  const dot = name.indexOf('.');
  const head = dot < 0 ? name : name.slice(0, dot);
  const rest = dot < 0 ? '' : name.slice(dot + 1);
  switch (head) {
    case 'setup':
      return SETUP_FACTS.includes(rest);
    case 'fibre':
      return rest !== '';
    case 'deviation':
    case 'before':
      return COMPARED.includes(rest);
    case 'computed':
      return (COMPUTED_FACTS as readonly string[]).includes(rest);
    case 'chance':
      return (MARGINS as readonly string[]).includes(rest);
    case 'observed':
      return book.symptoms.has(rest);
    case 'found':
      return book.checks.has(rest);
    default:
      return name === 'where' || name === 'began' || name === 'changed';
  }
}
