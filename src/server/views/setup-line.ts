import { describeTexture } from '../../rules/case/ladders.js';
import { formatNumber } from '../../rules/case/setup-fields.js';
import type { GivenSetup } from '../../rules/case/types.js';
import { fromTex } from '../../spinning/units/count.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';

/** The given setup in one line: "cotton · 20 Ne · αe 4.3 · 33 mm rotor at 105 000 rpm · spiral nozzle". */
export function describeSetup(given: GivenSetup): string {
  const { values } = given;
  const parts: string[] = [];
  if (values.fibres !== undefined)
    parts.push(
      values.fibres.length === 1
        ? (values.fibres[0]?.fibre ?? '')
        : values.fibres.map((one) => `${formatNumber(one.share * 100)} % ${one.fibre}`).join(', '),
    );
  if (values.countTex !== undefined) parts.push(`${round(fromTex(values.countTex, 'Ne'), 1)} Ne`);
  if (values.twistPerMetre !== undefined)
    parts.push(
      values.countTex === undefined
        ? `${round(values.twistPerMetre, 0)} t/m`
        : `αe ${round(fromTurnsPerMetre(values.twistPerMetre, 'alpha-e', values.countTex), 2)}`,
    );
  const rotor = [
    values.rotorDiameterMm === undefined ? '' : `${formatNumber(values.rotorDiameterMm)} mm`,
    'rotor',
    values.rotorSpeedRpm === undefined ? '' : `at ${formatNumber(values.rotorSpeedRpm)} rpm`,
  ].filter((part) => part !== '');
  if (rotor.length > 1) parts.push(rotor.join(' '));
  if (values.nozzleSurface !== undefined)
    parts.push(`${describeTexture({ surface: values.nozzleSurface, notches: values.notches ?? 0 })} nozzle`);
  if (values.insert !== undefined)
    parts.push(values.insert === 'none' ? 'no insert' : `${values.insert} insert`);
  if (given.endUse !== undefined) parts.push(`for ${given.endUse.replace('-', ' ')}`);
  return parts.join(' · ');
}

const round = (value: number, digits: number) => Number(value.toFixed(digits));
