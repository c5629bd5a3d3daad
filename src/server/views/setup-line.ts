import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { describeTexture } from '../../rules/case/ladders.js';
import { endUseWord, fibreWord, optionWord } from '../../rules/case/option-words.js';
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
        ? fibreWord(values.fibres[0]?.fibre ?? '')
        : values.fibres.map((one) => `${formatNumber(one.share * 100)} % ${fibreWord(one.fibre)}`).join(', '),
    );
  if (values.countTex !== undefined) parts.push(`${round(fromTex(values.countTex, 'Ne'), 1)} Ne`);
  if (values.twistPerMetre !== undefined)
    parts.push(
      values.countTex === undefined
        ? `${round(values.twistPerMetre, 0)} t/m`
        : `αe ${round(fromTurnsPerMetre(values.twistPerMetre, 'alpha-e', values.countTex), 2)}`,
    );
  const size = values.rotorDiameterMm === undefined ? '' : together(values.rotorDiameterMm, 'mm');
  const speed = values.rotorSpeedRpm === undefined ? '' : together(values.rotorSpeedRpm, 'rpm');
  if (size !== '' && speed !== '') parts.push(say('setup.rotor-at', { size, speed }));
  else if (size !== '') parts.push(say('setup.rotor', { size }));
  else if (speed !== '') parts.push(say('setup.rotor-only-at', { speed }));
  if (values.nozzleSurface !== undefined)
    parts.push(
      say('setup.nozzle', {
        texture: describeTexture({ surface: values.nozzleSurface, notches: values.notches ?? 0 }),
      }),
    );
  if (values.insert !== undefined)
    parts.push(
      values.insert === 'none'
        ? say('setup.no-insert')
        : say('setup.insert', { kind: optionWord(values.insert) }),
    );
  if (given.endUse !== undefined) parts.push(say('setup.for-use', { use: endUseWord(given.endUse) }));
  return parts.join(' · ');
}

/** A number with its unit, which no line end parts. */
const together = (value: number, unit: string) =>
  `${formatNumber(value).replaceAll(' ', '\u202f')}\u00a0${unit}`;

const round = (value: number, digits: number) => localDecimal(String(Number(value.toFixed(digits))));
