import { say } from '../../language/say.js';
import type { QuantityReading } from '../../spinning/units/quantity.js';
import { showValue } from './reading.js';

/**
 * Why a quantity of a case cannot be read, as one sentence that quotes what was written. The units that it may have
 * are told with what is allowed, so that the sentence does not repeat them.
 */
export function sayQuantityProblem(
  value: string | number,
  { reason, allowed }: Extract<QuantityReading, { readonly ok: false }>,
): string {
  const unit = String(value).replace(/^[\d\s.,'’+-]+|[\d\s.,'’+-]+$/g, '');
  return unit !== '' && reason === say('number.unit-allowed', { unit, units: allowed.join(', ') })
    ? say('case-file.no-unit', { unit, value: showValue(value) })
    : reason;
}
