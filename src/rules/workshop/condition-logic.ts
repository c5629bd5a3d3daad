import type { Comparison, Condition } from '../knowledge/schema.js';
import type { FactDomain } from './fact-domains.js';
import { meet, type ValueSet, valuesOf, witnessOf } from './value-set.js';

/** Looks up what values a fact can have. */
export type DomainOf = (fact: string) => FactDomain | undefined;

/** One way in which a condition can hold: for every fact it names, the values it then has. */
export type Situation = ReadonlyMap<string, ValueSet>;

/** Ways of holding that are written out at most; conditions with more are not judged. */
const MOST_SITUATIONS = 400;

/**
 * All ways in which a condition can hold (its disjunctive normal form without the empty ones). Facts are taken as
 * independent of each other, so a listed situation may still be odd, but an empty list is certain.
 *
 * @returns undefined when there are too many to write out
 */
export function situations(condition: Condition, domainOf: DomainOf): Situation[] | undefined {
  if ('any' in condition) {
    const all: Situation[] = [];
    for (const part of condition.any) {
      const some = situations(part, domainOf);
      if (some === undefined || all.length + some.length > MOST_SITUATIONS) return undefined;
      all.push(...some);
    }
    return all;
  }
  if ('all' in condition) {
    let all: Situation[] = [new Map()];
    for (const part of condition.all) {
      const some = situations(part, domainOf);
      if (some === undefined || all.length * some.length > MOST_SITUATIONS) return undefined;
      all = all.flatMap((left) => some.flatMap((right) => both(left, right) ?? []));
    }
    return all;
  }
  const domain = domainOf(condition.fact);
  const values = domain === undefined ? undefined : valuesOf(condition, domain);
  return values === undefined ? [] : [new Map([[condition.fact, values]])];
}

/** Whether a condition can hold at all; undefined when it is too involved to say. */
export function canHold(condition: Condition, domainOf: DomainOf): boolean | undefined {
  const all = situations(condition, domainOf);
  return all === undefined ? undefined : all.length > 0;
}

/** Whether a condition holds whatever the values of the facts it names, once all of them are known. */
export function holdsWheneverKnown(condition: Condition, domainOf: DomainOf): boolean {
  const counter = situations(negate(condition), domainOf);
  return counter !== undefined && counter.length === 0;
}

/**
 * Whether `second` holds whenever `first` does. A fact that a situation of `first` leaves out may be unknown, and then
 * every comparison with it is false.
 *
 * @returns false also when it is too involved to say
 */
export function implies(first: Condition, second: Condition, domainOf: DomainOf): boolean {
  const cases = situations(first, domainOf);
  if (cases === undefined || cases.length === 0) return false;
  return cases.every((situation) => !canFailIn(second, situation, domainOf));
}

/** A situation in which both hold, in words; undefined when there is none. */
export function meetingOf(first: Condition, second: Condition, domainOf: DomainOf): string | undefined {
  const both = situations({ all: [first, second] }, domainOf)?.[0];
  return both === undefined ? undefined : describeSituation(both);
}

/** `setup.count 20, where includes frame`. */
export function describeSituation(situation: Situation): string {
  return [...situation].map(([fact, values]) => `${fact} ${witnessOf(values)}`).join(', ');
}

/** All comparisons of a condition, each with its path below the condition. */
export function comparisonsOf(
  condition: Condition,
  path: readonly PropertyKey[] = [],
): { readonly comparison: Comparison; readonly path: readonly PropertyKey[] }[] {
  if ('all' in condition) return condition.all.flatMap((part, i) => comparisonsOf(part, [...path, 'all', i]));
  if ('any' in condition) return condition.any.flatMap((part, i) => comparisonsOf(part, [...path, 'any', i]));
  return [{ comparison: condition, path }];
}

/** Whether the condition can be false with the facts of the situation as they are and all others unknown. */
function canFailIn(condition: Condition, situation: Situation, domainOf: DomainOf): boolean {
  const known: DomainOf = (fact) => (situation.has(fact) ? domainOf(fact) : undefined);
  const failing = failures(condition, known);
  if (failing === undefined) return true;
  return failing.some((one) => both(situation, one) !== undefined);
}

/** Ways in which a condition is false, where comparisons with facts that are not known are false anyway. */
function failures(condition: Condition, known: DomainOf): Situation[] | undefined {
  if ('all' in condition || 'any' in condition) {
    const parts = 'all' in condition ? condition.all : condition.any;
    const each = parts.map((part) => failures(part, known));
    if (each.some((one) => one === undefined)) return undefined;
    const lists = each as Situation[][];
    if ('all' in condition) return lists.flat().length > MOST_SITUATIONS ? undefined : lists.flat();
    let all: Situation[] = [new Map()];
    for (const some of lists) {
      if (all.length * some.length > MOST_SITUATIONS) return undefined;
      all = all.flatMap((left) => some.flatMap((right) => both(left, right) ?? []));
    }
    return all;
  }
  const domain = known(condition.fact);
  if (domain === undefined) return [new Map()];
  return situations(negate(condition), known);
}

function both(left: Situation, right: Situation): Situation | undefined {
  const merged = new Map(left);
  for (const [fact, values] of right) {
    const there = merged.get(fact);
    const common = there === undefined ? values : meet(there, values);
    if (common === undefined) return undefined;
    merged.set(fact, common);
  }
  return merged;
}

const OPPOSITE = {
  is: 'is-not',
  'is-not': 'is',
  'is-one-of': 'is-none-of',
  'is-none-of': 'is-one-of',
  below: 'at-least',
  'at-least': 'below',
  above: 'at-most',
  'at-most': 'above',
  includes: 'excludes',
  excludes: 'includes',
} as const satisfies Record<Comparison['operator'], Comparison['operator']>;

/** The opposite of a condition, for facts that are known. */
function negate(condition: Condition): Condition {
  if ('all' in condition) return { any: condition.all.map(negate) };
  if ('any' in condition) return { all: condition.any.map(negate) };
  return { ...condition, operator: OPPOSITE[condition.operator] };
}
