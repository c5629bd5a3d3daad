import type { Comparison } from '../knowledge/schema.js';
import type { FactDomain } from './fact-domains.js';

/** Some of the values a fact can have; never empty. */
export type ValueSet = NumberSet | WordSet | ListSet;

interface NumberSet {
  readonly kind: 'number';
  readonly low: number;
  readonly lowOpen: boolean;
  readonly high: number;
  readonly highOpen: boolean;
  /** Single values that are left out. */
  readonly not: ReadonlySet<number>;
}

interface WordSet {
  readonly kind: 'word';
  readonly words: ReadonlySet<string>;
}

/** Lists that hold at least one word of each of `some`, and only words of `allowed`. */
interface ListSet {
  readonly kind: 'list';
  readonly some: readonly ReadonlySet<string>[];
  readonly allowed: ReadonlySet<string>;
}

/** All values of a domain. */
export function wholeDomain(domain: FactDomain): ValueSet {
  switch (domain.kind) {
    case 'number':
      return {
        kind: 'number',
        low: domain.low,
        lowOpen: false,
        high: domain.high,
        highOpen: domain.high === Number.POSITIVE_INFINITY,
        not: new Set(),
      };
    case 'word':
      return { kind: 'word', words: new Set(domain.words) };
    case 'list':
      return { kind: 'list', some: [], allowed: new Set(domain.words) };
  }
}

/**
 * The values of a domain for which a comparison is true.
 *
 * @returns undefined when there are none, as for words compared by size
 */
export function valuesOf({ operator, value }: Comparison, domain: FactDomain): ValueSet | undefined {
  const whole = wholeDomain(domain);
  const named = new Set(Array.isArray(value) ? value : [value]);
  switch (whole.kind) {
    case 'number':
      return numbersOf(operator, value, named, whole);
    case 'word':
      return wordsOf(operator, named, whole);
    case 'list':
      return listsOf(operator, named, whole);
  }
}

function numbersOf(
  operator: Comparison['operator'],
  value: Comparison['value'],
  named: ReadonlySet<string | number>,
  whole: NumberSet,
): ValueSet | undefined {
  if (typeof value !== 'number') {
    // "is not one of these words" is true of every number; nothing else is.
    return operator === 'is-not' || operator === 'is-none-of' || operator === 'excludes' ? whole : undefined;
  }
  switch (operator) {
    case 'is':
    case 'is-one-of':
    case 'includes':
      return tidy({ ...whole, low: value, high: value, lowOpen: false, highOpen: false }, whole);
    case 'is-not':
    case 'is-none-of':
    case 'excludes':
      return tidy({ ...whole, not: new Set([...named].filter((one) => typeof one === 'number')) });
    case 'below':
      return tidy({ ...whole, high: value, highOpen: true }, whole);
    case 'at-most':
      return tidy({ ...whole, high: value, highOpen: false }, whole);
    case 'at-least':
      return tidy({ ...whole, low: value, lowOpen: false }, whole);
    case 'above':
      return tidy({ ...whole, low: value, lowOpen: true }, whole);
  }
}

function wordsOf(
  operator: Comparison['operator'],
  named: ReadonlySet<string | number>,
  whole: WordSet,
): ValueSet | undefined {
  switch (operator) {
    case 'is':
    case 'is-one-of':
    case 'includes':
      return someWords([...whole.words].filter((one) => named.has(one)));
    case 'is-not':
    case 'is-none-of':
    case 'excludes':
      return someWords([...whole.words].filter((one) => !named.has(one)));
    default:
      return undefined;
  }
}

function listsOf(
  operator: Comparison['operator'],
  named: ReadonlySet<string | number>,
  whole: ListSet,
): ValueSet | undefined {
  switch (operator) {
    case 'is':
    case 'is-one-of':
    case 'includes':
      return tidyList({
        ...whole,
        some: [new Set([...whole.allowed].filter((one) => named.has(one)))],
      });
    case 'is-not':
    case 'is-none-of':
    case 'excludes':
      return tidyList({ ...whole, allowed: new Set([...whole.allowed].filter((one) => !named.has(one))) });
    default:
      return undefined;
  }
}

/** The values in both sets; undefined when there are none. */
export function meet(a: ValueSet, b: ValueSet): ValueSet | undefined {
  if (a.kind === 'number' && b.kind === 'number') return tidy({ ...a, not: union(a.not, b.not) }, b);
  if (a.kind === 'word' && b.kind === 'word')
    return someWords([...a.words].filter((one) => b.words.has(one)));
  if (a.kind === 'list' && b.kind === 'list')
    return tidyList({
      kind: 'list',
      some: [...a.some, ...b.some],
      allowed: new Set([...a.allowed].filter((one) => b.allowed.has(one))),
    });
  return undefined;
}

/** One value of the set, in words. */
export function witnessOf(values: ValueSet): string {
  switch (values.kind) {
    case 'word':
      return [...values.words][0] ?? '';
    case 'list': {
      const words = values.some.map((group) => [...group].find((one) => values.allowed.has(one)) ?? '');
      return `[${[...new Set(words.length > 0 ? words : [...values.allowed].slice(0, 1))].join(', ')}]`;
    }
    case 'number':
      return String(Number(numberIn(values).toPrecision(4)));
  }
}

function numberIn({ low, high, lowOpen, highOpen, not }: NumberSet): number {
  const ends = [...(lowOpen ? [] : [low]), ...(highOpen ? [] : [high])];
  const upper = Number.isFinite(high) ? high : Math.max(2 * Math.abs(low), low + 1);
  const between = [0.5, 0.25, 0.75, 0.125].map((share) => low + share * (upper - low));
  return [...ends, ...between].find((one) => Number.isFinite(one) && !not.has(one)) ?? low;
}

/** The part of a number set inside another; undefined when it is empty. */
function tidy(set: NumberSet, within: NumberSet = set): ValueSet | undefined {
  const lowFirst = set.low > within.low || (set.low === within.low && set.lowOpen);
  const highFirst = set.high < within.high || (set.high === within.high && set.highOpen);
  const low = lowFirst ? set.low : within.low;
  const lowOpen = lowFirst ? set.lowOpen : within.lowOpen;
  const high = highFirst ? set.high : within.high;
  const highOpen = highFirst ? set.highOpen : within.highOpen;
  if (low > high) return undefined;
  if (low === high && (lowOpen || highOpen || set.not.has(low))) return undefined;
  return { kind: 'number', low, lowOpen, high, highOpen, not: set.not };
}

function someWords(words: readonly string[]): ValueSet | undefined {
  return words.length === 0 ? undefined : { kind: 'word', words: new Set(words) };
}

function tidyList(set: ListSet): ValueSet | undefined {
  if (set.allowed.size === 0) return undefined;
  const some = set.some.map((group) => new Set([...group].filter((one) => set.allowed.has(one))));
  return some.some((group) => group.size === 0) ? undefined : { ...set, some };
}

function union(a: ReadonlySet<number>, b: ReadonlySet<number>): ReadonlySet<number> {
  return a.size === 0 ? b : new Set([...a, ...b]);
}
