import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { DELUSTRANTS, QUANTITY_FIELDS, setupField } from '../case/setup-fields.js';
import type { SetupPath } from '../case/types.js';
import { isKnownFact } from '../knowledge/facts.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { CHANGES, LEVELS, ONSETS, SCOPES } from '../knowledge/vocabulary.js';

/** Values a fact can have where it is known: a number in a range, one word of a set, or several words of a set. */
export type FactDomain =
  | { readonly kind: 'number'; readonly low: number; readonly high: number }
  | { readonly kind: 'word'; readonly words: readonly string[] }
  | { readonly kind: 'list'; readonly words: readonly string[] };

/** What the domains depend on. */
export interface FactWorld {
  readonly book: Pick<RuleBook, 'symptoms' | 'checks'>;
  readonly fibres: readonly string[];
  readonly endUses: readonly string[];
}

const number = (low: number, high: number): FactDomain => ({ kind: 'number', low, high });
const word = (words: readonly string[]): FactDomain => ({ kind: 'word', words });
const list = (words: readonly string[]): FactDomain => ({ kind: 'list', words });

/** Ends of the ladders on which textures (7 rungs) and inserts (5 rungs) are compared. */
const STEPS = { texture: 6, insert: 4 } as const;
/** Compared settings that are differences in mm or degrees, with the field whose range they can span. */
const SPANS: Readonly<Record<string, SetupPath>> = {
  'nozzle-radius': 'nozzle.radius',
  'nozzle-protrusion': 'nozzle.protrusion',
  'rotor-diameter': 'rotor.diameter',
  'tube-bend': 'tube.bend',
};
/** Compared settings that are percentages, with the field whose ratio bounds them. */
const PERCENTS: Readonly<Record<string, SetupPath>> = {
  twist: 'twist',
  'rotor-speed': 'rotor.speed',
  'opening-roller': 'opening-roller.speed',
};

/**
 * What values a case can give to a fact, from the ranges that the case reader accepts.
 *
 * @returns undefined for a fact that no case can give
 */
export function factDomain(fact: string, world: FactWorld): FactDomain | undefined {
  if (!isKnownFact(fact, world.book)) return undefined;
  const dot = fact.indexOf('.');
  const head = dot < 0 ? fact : fact.slice(0, dot);
  const rest = dot < 0 ? '' : fact.slice(dot + 1);
  switch (head) {
    case 'where':
      return list(SCOPES);
    case 'began':
      return list(ONSETS);
    case 'changed':
      return list(CHANGES);
    case 'observed':
      return word(LEVELS);
    case 'found':
      return list(Object.keys(world.book.checks.get(rest)?.outcomes ?? {}));
    case 'chance':
      return number(0, 1);
    case 'computed':
      return number(0, Number.POSITIVE_INFINITY);
    case 'fibre':
      if (rest === 'main') return word(world.fibres);
      return rest === 'thermoplastic' || world.fibres.includes(rest) ? number(0, 100) : undefined;
    case 'deviation':
    case 'before':
      return comparedDomain(rest);
    case 'setup':
      return setupDomain(rest, world);
    default:
      return undefined;
  }
}

function setupDomain(name: string, world: FactWorld): FactDomain | undefined {
  if (name === 'end-use') return word(world.endUses);
  if (name === 'delustrant') return word(DELUSTRANTS);
  if (name === 'alpha-e') {
    const [twistLow, twistHigh] = rangeOf('twist');
    const [countLow, countHigh] = rangeOf('count');
    return number(
      fromTurnsPerMetre(twistLow, 'alpha-e', countLow),
      fromTurnsPerMetre(twistHigh, 'alpha-e', countHigh),
    );
  }
  const field = setupField(name as SetupPath);
  if (field === undefined) return undefined;
  return field.type === 'word' ? word(field.words) : number(...field.possible);
}

function comparedDomain(name: string): FactDomain | undefined {
  if (name === 'texture' || name === 'insert') return number(-STEPS[name], STEPS[name]);
  const span = SPANS[name];
  if (span !== undefined) {
    const [low, high] = rangeOf(span);
    return number(low - high, high - low);
  }
  const ratio = PERCENTS[name];
  if (ratio === undefined) return undefined;
  const [low, high] = rangeOf(ratio);
  return number(100 * (low / high - 1), 100 * (high / low - 1));
}

function rangeOf(path: SetupPath): readonly [number, number] {
  return QUANTITY_FIELDS.find((field) => field.path === path)?.possible ?? [0, Number.POSITIVE_INFINITY];
}
