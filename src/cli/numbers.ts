import type { Given } from './command.js';
import { argumentError } from './errors.js';

/** A number of the command line: decimal point or comma, no thousands. */
export function readNumber(text: string): number | undefined {
  const plain = text.trim();
  return /^\d{1,12}(?:[.,]\d{1,9})?$/.test(plain) ? Number(plain.replace(',', '.')) : undefined;
}

/**
 * A number given as an option.
 * @throws InputError when it is none or outside the range (ends included)
 */
export function numberOption(
  given: Given,
  name: string,
  [least, most]: readonly [number, number],
  what: string,
): number | undefined {
  const text = given.options.get(name);
  if (text === undefined || text === true) return undefined;
  const value = readNumber(text);
  if (value !== undefined && value >= least && value <= most) return value;
  throw argumentError(`--${name}`, text, 'is not allowed here', [`${what}, ${least} to ${most}`]);
}

/** The same, for an option that must be there. */
export function neededNumber(
  given: Given,
  name: string,
  range: readonly [number, number],
  what: string,
): number {
  const value = numberOption(given, name, range, what);
  if (value !== undefined) return value;
  throw argumentError(`--${name}`, '', 'is missing', [`--${name} with ${what}, ${range[0]} to ${range[1]}`]);
}
