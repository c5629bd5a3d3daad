import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { QUANTITIES, type QuantityInfo, quantityById } from '../../spinning/quantities.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { simulate } from '../../spinning/simulation.js';
import { summariseColumn } from '../../spinning/summary.js';
import { textureAt } from '../case/ladders.js';
import { resolveSetup } from '../case/resolve-setup.js';
import { clampToPossible, INSERTS, type NumberKey, quantityFieldOf } from '../case/setup-fields.js';
import type { CaseInput } from '../case/types.js';
import { TEXTURES } from '../knowledge/end-use-schema.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { PLAN_SETTINGS, type PlanSetting } from '../knowledge/plan-schema.js';
import { joinWords } from '../words.js';
import { describeSetting, settingRank } from './settings.js';
import type { Ranged } from './types.js';

/** Settings a quantity can be followed along: those of a plan, and the rotor diameter. */
export const CURVE_SETTINGS = [
  ...PLAN_SETTINGS.filter((one) => one !== 'nozzle-material'),
  'rotor-diameter',
] as const;
export type CurveSetting = Exclude<PlanSetting, 'nozzle-material'> | 'rotor-diameter';

/** A point of a curve. */
export interface CurvePoint extends Ranged {
  /** The setting's value: its unit for numbers, the rung for ladders. */
  readonly at: number;
  /** The value in words. */
  readonly words: string;
  readonly present: boolean;
}

/** How a quantity answers to one setting, all others staying. */
export interface ResponseCurve {
  readonly quantity: Pick<QuantityInfo, 'id' | 'label' | 'unit' | 'meaning' | 'standing'>;
  readonly setting: { readonly id: CurveSetting; readonly label: string; readonly unit: string };
  /** True for numbers: the points may be joined; false for rungs of a ladder. */
  readonly continuous: boolean;
  readonly points: readonly CurvePoint[];
  /** In words: from where to where it runs, and where the present point lies. */
  readonly words: string;
}

const DRAWS = 256;

/** Numbers: field, unit, and the range followed, as shares of the present value or in its unit about it. */
const NUMBER_SETTINGS: Partial<
  Record<CurveSetting, { key: NumberKey; unit: string; span: readonly [number, number]; relative: boolean }>
> = {
  twist: { key: 'twistPerMetre', unit: 't/m', span: [0.8, 1.2], relative: true },
  'rotor-speed': { key: 'rotorSpeedRpm', unit: 'rpm', span: [0.7, 1.25], relative: true },
  'rotor-diameter': { key: 'rotorDiameterMm', unit: 'mm', span: [0.8, 1.4], relative: true },
  'nozzle-radius': { key: 'nozzleRadiusMm', unit: 'mm', span: [1.5, 6], relative: false },
  'nozzle-protrusion': { key: 'nozzleProtrusionMm', unit: 'mm', span: [-1.5, 4], relative: false },
  'tube-bend': { key: 'tubeBendDeg', unit: 'deg', span: [0, 90], relative: false },
};

/**
 * Follows a quantity along one setting with all others as they are: median and 90 % band over the doubt, the same
 * draws at every point, and the present point among them.
 *
 * @param quantity kebab-case id of a computed quantity
 * @param points for numbers, 3 to 101 besides the present one; 21 unless said
 * @throws RangeError naming what is allowed for an unknown quantity or setting, or a number of points out of range
 */
export function responseCurve(
  knowledge: Knowledge,
  input: CaseInput,
  quantity: string,
  setting: string,
  points = 21,
): ResponseCurve {
  const info = quantityById(quantity);
  if (info === undefined)
    throw new RangeError(
      `quantity: "${quantity}" is not known; known are: ${QUANTITIES.map((one) => one.id).join(', ')}`,
    );
  if (!isCurveSetting(setting))
    throw new RangeError(`setting: "${setting}" is not known; known are: ${CURVE_SETTINGS.join(', ')}`);
  if (!Number.isInteger(points) || points < 3 || points > 101)
    throw new RangeError(`points: ${points} is not possible; give a whole number from 3 to 101`);
  const fibres = knowledge.parameters.fibres;
  const { uncertain } = resolveSetup(input.given, { endUses: knowledge.endUses, fibres });
  const stops = stopsAlong(setting, uncertain.central, points);
  const simulation = simulate(uncertain, knowledge.parameters, {
    draws: DRAWS,
    variants: Object.fromEntries(stops.map((stop, i) => [String(i), stop.apply])),
    variantFields: [info.field],
  });
  const curve = stops.map((stop, i): CurvePoint => {
    const column = stop.present ? simulation.base[info.field] : simulation.variants[String(i)]?.[info.field];
    const { median, low, high } = summariseColumn(column ?? new Float64Array(1));
    return { at: stop.at, words: stop.words, present: stop.present, value: median, low, high };
  });
  const number = NUMBER_SETTINGS[setting];
  const label = say(`curve-setting.${setting}`);
  return {
    quantity: {
      id: info.id,
      label: info.label,
      unit: info.unit,
      meaning: info.meaning,
      standing: info.standing,
    },
    setting: { id: setting, label, unit: number?.unit ?? '' },
    continuous: number !== undefined,
    points: curve,
    words: sayCurve(info, label, curve),
  };
}

export const isCurveSetting = (setting: string): setting is CurveSetting =>
  (CURVE_SETTINGS as readonly string[]).includes(setting);

interface Stop {
  readonly at: number;
  readonly words: string;
  readonly present: boolean;
  readonly apply: (setup: SpinningSetup) => SpinningSetup;
}

function stopsAlong(setting: CurveSetting, central: SpinningSetup, points: number): Stop[] {
  const number = NUMBER_SETTINGS[setting];
  if (setting === 'texture' || setting === 'insert') return rungsOf(setting, central);
  if (number === undefined) throw new RangeError(`setting: "${setting}" has no range`);
  const { key, span, relative } = number;
  const now = central[key];
  const [from, to] = relative ? [now * span[0], now * span[1]] : span;
  const low = clampToPossible(key, Math.min(from, now));
  const high = clampToPossible(key, Math.max(to, now));
  const step = (high - low) / (points - 1);
  const values = Array.from({ length: points }, (_unused, i) => low + i * step)
    // The present value stands in for a neighbour that would all but coincide with it.
    .filter((value) => Math.abs(value - now) > step / 4);
  const words = (value: number) => {
    const field = quantityFieldOf(key);
    return `${localDecimal(String(Number((value / field.scale).toPrecision(4))))} ${number.unit}`;
  };
  const stops: Stop[] = values.map((value) => ({
    at: value,
    words: words(value),
    present: false,
    apply: (setup) => ({ ...setup, [key]: value }),
  }));
  stops.push({ at: now, words: words(now), present: true, apply: (setup) => setup });
  return stops.sort((a, b) => a.at - b.at);
}

function rungsOf(setting: 'texture' | 'insert', central: SpinningSetup): Stop[] {
  const rungs =
    setting === 'insert'
      ? INSERTS.map((insert) => ({ insert }))
      : TEXTURES.map((_word, rung) => {
          const { surface, notches } = textureAt(rung);
          return { nozzleSurface: surface, notches };
        });
  const stops = rungs.map((values, at): Stop => {
    const apply = (setup: SpinningSetup) => ({ ...setup, ...values });
    const changed = apply(central);
    const present = settingRank(changed, setting) === settingRank(central, setting);
    return { at, words: describeSetting(changed, setting), present, apply };
  });
  if (stops.some((stop) => stop.present)) return stops;
  // A count of notches that is no rung stands between its neighbours.
  const at = settingRank(central, setting);
  const own: Stop = { at, words: describeSetting(central, setting), present: true, apply: (setup) => setup };
  return [...stops, own].sort((a, b) => a.at - b.at);
}

function sayCurve(info: QuantityInfo, label: string, points: readonly CurvePoint[]): string {
  const [first, last] = [points[0], points.at(-1)];
  const present = points.find((point) => point.present);
  if (first === undefined || last === undefined || present === undefined) return '';
  const isMargin = info.unit === 'margin';
  const figure = (value: number) =>
    (isMargin ? `${Math.round(100 * value)} %` : localDecimal(String(Number(value.toPrecision(3))))).replace(
      '-',
      '−',
    );
  const unit = isMargin || info.unit === 'ratio' ? '' : ` ${info.unit}`;
  const best = points.reduce((most, point) => (point.value > most.value ? point : most));
  const least = points.reduce((most, point) => (point.value < most.value ? point : most));
  const ends = [first, last];
  const inner = [best, least].filter((point) => !ends.includes(point));
  const turning = inner.map((point) =>
    say(point === best ? 'side-by-side.greatest' : 'side-by-side.least', {
      value: figure(point.value),
      at: point.words,
    }),
  );
  return say('side-by-side.goes', {
    quantity: info.label,
    from: figure(first.value),
    to: `${figure(last.value)}${unit}`,
    setting: label,
    start: first.words,
    end: last.words,
    turning: turning.length === 0 ? 'no' : 'yes',
    turns: joinWords(turning),
    now: figure(present.value),
    low: figure(present.low),
    high: figure(present.high),
    at: present.words,
  });
}
