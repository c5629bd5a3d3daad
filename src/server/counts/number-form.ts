import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { readPlainNumber } from './table-query.js';

/** A number field of a form. */
export interface NumberSpec {
  readonly name: string;
  readonly label: string;
  readonly unit?: string;
  readonly hint?: string;
  readonly range: readonly [number, number];
  readonly whole?: boolean;
  /** Must be given. */
  readonly needed?: boolean;
}

/** The numbers that could be read, and what is wrong with the others. */
export interface NumberForm {
  readonly values: Readonly<Record<string, number | undefined>>;
  /** Field → what is wrong; empty when nothing is, or when nothing was typed at all. */
  readonly problems: Readonly<Record<string, string>>;
  readonly typed: Readonly<Record<string, string>>;
  /** Whether anything was typed. */
  readonly asked: boolean;
}

/** Reads the fields from an address. An untouched form has no problems. */
export function readNumberForm(params: URLSearchParams, specs: readonly NumberSpec[]): NumberForm {
  const typed = Object.fromEntries(
    specs.map((spec) => [spec.name, (params.get(spec.name) ?? '').trim().slice(0, 40)]),
  );
  const asked = specs.some((spec) => typed[spec.name] !== '');
  const values: Record<string, number | undefined> = {};
  const problems: Record<string, string> = {};
  for (const spec of asked ? specs : []) {
    const text = typed[spec.name] ?? '';
    const [least, most] = spec.range;
    const allowed = say(spec.whole === true ? 'counts.whole-allowed' : 'counts.number-allowed', {
      least: localDecimal(String(least)),
      most: localDecimal(String(most)),
    });
    if (text === '') {
      if (spec.needed === true) problems[spec.name] = say('counts.missing', { allowed });
      continue;
    }
    const value = readPlainNumber(text);
    if (
      value === undefined ||
      value < least ||
      value > most ||
      (spec.whole === true && !Number.isInteger(value))
    )
      problems[spec.name] = say('counts.unusable', { text, allowed });
    else values[spec.name] = value;
  }
  return { values, problems, typed, asked };
}
