import type { Comparison, Condition } from '../knowledge/schema.js';
import { canHold, comparisonsOf, type DomainOf, holdsWheneverKnown } from './condition-logic.js';
import type { ConditionPlace } from './condition-places.js';
import type { FactDomain } from './fact-domains.js';
import type { Draft } from './finding.js';

const BY_SIZE: readonly Comparison['operator'][] = ['below', 'at-most', 'at-least', 'above'];
const ONE_WORD: readonly Comparison['operator'][] = ['is', 'is-not', 'includes', 'excludes'];

/** Comparisons that mean nothing, and conditions that never or always hold. */
export function lintConditions(places: readonly ConditionPlace[], domainOf: DomainOf): Draft[] {
  return places.flatMap((place) => {
    const faults = comparisonsOf(place.condition).flatMap(({ comparison, path }) =>
      comparisonFault(comparison, place, [...place.path, ...path], domainOf(comparison.fact)),
    );
    return faults.length > 0 ? faults : wholeFault(place.condition, place, place.path, domainOf);
  });
}

function comparisonFault(
  { fact, operator, value }: Comparison,
  { file, owner, mayAskIfKnown }: ConditionPlace,
  path: readonly PropertyKey[],
  domain: FactDomain | undefined,
): Draft[] {
  const say = (code: Draft['code'], message: string, hint: string): Draft[] => [
    { code, file, path: [...path, 'value'], message: `${owner}: ${message}`, hint },
  ];
  if (domain === undefined)
    return say('never-fires', `no case can give "${fact}"`, 'Use a fact that case files or the model give.');
  const bySize = BY_SIZE.includes(operator);
  if (domain.kind === 'number') {
    if (typeof value !== 'number')
      return say('wrong-type', `"${fact}" is a number, compared with text`, 'Compare it with a number.');
    const asksIfKnown =
      ((operator === 'at-least' || operator === 'above') && value < domain.low) ||
      ((operator === 'at-most' || operator === 'below') && value > domain.high);
    if (mayAskIfKnown && asksIfKnown) return [];
    if (value < domain.low || value > domain.high)
      return say(
        'impossible-value',
        `"${fact}" is never ${value}; it lies from ${short(domain.low)} to ${short(domain.high)}`,
        'Check the unit: shares are in %, lengths in mm, speeds in rpm.',
      );
    return [];
  }
  if (bySize || typeof value === 'number')
    return say(
      'wrong-type',
      `"${fact}" is a word, compared ${bySize ? `by size ("${operator}")` : 'with a number'}`,
      `Its words: ${domain.words.join(', ')}.`,
    );
  if (Array.isArray(value) && ONE_WORD.includes(operator))
    return say(
      'wrong-type',
      `"${operator}" takes one word, not a list`,
      'Use is-one-of or is-none-of for a list of words.',
    );
  const unknown = [value].flat().filter((one) => !domain.words.includes(one));
  if (unknown.length > 0)
    return say(
      'impossible-value',
      `"${fact}" is never ${unknown.map((one) => `"${one}"`).join(' or ')}`,
      `Its words: ${domain.words.join(', ')}.`,
    );
  return [];
}

function wholeFault(
  condition: Condition,
  place: ConditionPlace,
  path: readonly PropertyKey[],
  domainOf: DomainOf,
): Draft[] {
  const { file, owner } = place;
  if (canHold(condition, domainOf) === false)
    return [
      {
        code: 'never-fires',
        file,
        path,
        message: `${owner}: the condition contradicts itself and never holds`,
        hint: 'Look at the limits of one fact that exclude each other; perhaps "any" was meant instead of "all".',
      },
    ];
  if (place.mayAskIfKnown === undefined && holdsWheneverKnown(condition, domainOf))
    return [
      {
        code: 'always-fires',
        file,
        path,
        message: `${owner}: the condition holds whatever the value, as soon as it is known`,
        hint: 'State the limit that matters, or leave the statement out.',
      },
    ];
  // A part that never holds is dead weight inside a condition that can hold.
  const parts: [Condition, PropertyKey[]][] =
    'any' in condition
      ? condition.any.map((part, i) => [part, ['any', i]])
      : 'all' in condition
        ? condition.all.map((part, i) => [part, ['all', i]])
        : [];
  return parts.flatMap(([part, at]) =>
    'any' in part || 'all' in part ? wholeFault(part, place, [...path, ...at], domainOf) : [],
  );
}

const short = (value: number) => (Number.isFinite(value) ? String(Number(value.toPrecision(4))) : 'any size');
