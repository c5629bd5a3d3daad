import { typedNumber } from '../../language/number-input.js';
import { localDecimal } from '../../language/numbers.js';
import { keyPart, say } from '../../language/say.js';
import { convertQuantity } from '../../spinning/units/conversion.js';
import type { ConvertPage } from '../../templates/models.js';
import { sayUnit } from '../words.js';
import { notationField } from './bench.js';
import { controlId } from './errors.js';

const COUNTS = ['Ne', 'tex', 'Nm', 'den', 'dtex'] as const;
const TWISTS = ['alpha-e', 'alpha-m', 'alpha-tex', 't/m', 'tpi'] as const;
const nameOf = (unit: (typeof COUNTS | typeof TWISTS)[number]) => say(`convert.${keyPart(unit)}`);

/** The converter: a count in every system, and a twist in every system on that count. */
export function viewConvert(input: {
  readonly count: string;
  readonly countUnit: string;
  readonly twist: string;
  readonly twistUnit: string;
}): ConvertPage {
  const countUnit = COUNTS.some((unit) => unit === input.countUnit) ? input.countUnit : 'Ne';
  const twistUnit = TWISTS.some((unit) => unit === input.twistUnit) ? input.twistUnit : 'alpha-e';
  const count = withUnit(input.count, countUnit);
  const twist = withUnit(input.twist, twistUnit);
  const tex = count === '' ? undefined : convertQuantity(count, 'tex');
  const countOk = tex?.ok === true;
  const probe = twist === '' ? undefined : convertQuantity(twist, 't/m', countOk ? { count } : {});
  return {
    hidden: notationField(),
    count: typedNumber(input.count),
    countUnits: units('count-unit', COUNTS, countUnit),
    countError: tex === undefined || tex.ok ? '' : sentence(tex.reason),
    counts: countOk ? COUNTS.map((unit) => row(count, unit, nameOf(unit))) : [],
    twist: typedNumber(input.twist),
    twistUnits: units('twist-unit', TWISTS, twistUnit),
    twistError: probe === undefined || probe.ok ? '' : sentence(probe.reason),
    twists:
      probe?.ok === true
        ? TWISTS.map((unit) => row(twist, unit, nameOf(unit), countOk ? count : undefined))
        : [],
  };
}

const withUnit = (text: string, unit: string) => {
  const trimmed = text.trim();
  return trimmed === '' || !/^[-+\d.,\s']+$/.test(trimmed) ? trimmed : `${trimmed} ${unit}`;
};

function row(text: string, unit: string, name: string, count?: string): ConvertPage['counts'][number] {
  const result = convertQuantity(text, unit, count === undefined ? {} : { count });
  return {
    unit: sayUnit(unit),
    name,
    value: result.ok ? localDecimal(String(Number(result.value.toPrecision(5)))) : say('convert.needs-count'),
  };
}

const units = (name: string, words: readonly string[], chosen: string) =>
  words.map((unit) => ({
    id: controlId(`${name}-${unit}`),
    value: unit,
    label: sayUnit(unit),
    chosen: unit === chosen,
  }));

const sentence = (text: string) =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
