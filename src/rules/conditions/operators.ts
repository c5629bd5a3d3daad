import { Operator } from 'json-rules-engine';

/**
 * The words rules compare with. Every one of them is false when the fact is unknown, the negative ones too
 * ("is-not" asks for a known value that differs): a rule must never fire on what nobody looked at.
 */
const known = (value: unknown) => value !== undefined && value !== null;
const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : [value]);
const bothNumbers = (fact: unknown, value: unknown) => typeof fact === 'number' && typeof value === 'number';

const tests: Record<string, (fact: unknown, value: unknown) => boolean> = {
  is: (fact, value) => known(fact) && list(fact).includes(value),
  'is-not': (fact, value) => known(fact) && !list(fact).includes(value),
  'is-one-of': (fact, value) => known(fact) && list(fact).some((item) => list(value).includes(item)),
  'is-none-of': (fact, value) => known(fact) && !list(fact).some((item) => list(value).includes(item)),
  includes: (fact, value) => known(fact) && list(fact).includes(value),
  excludes: (fact, value) => known(fact) && list(fact).length > 0 && !list(fact).includes(value),
  below: (fact, value) => bothNumbers(fact, value) && (fact as number) < (value as number),
  'at-most': (fact, value) => bothNumbers(fact, value) && (fact as number) <= (value as number),
  'at-least': (fact, value) => bothNumbers(fact, value) && (fact as number) >= (value as number),
  above: (fact, value) => bothNumbers(fact, value) && (fact as number) > (value as number),
};

/** Fresh operator objects for one engine. */
export function ruleOperators(): Operator[] {
  return Object.entries(tests).map(([name, test]) => new Operator<unknown, unknown>(name, test));
}
