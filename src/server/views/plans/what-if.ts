import { typedNumber } from '../../../language/number-input.js';
import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { optionWord } from '../../../rules/case/option-words.js';
import { setupField, setupLabel } from '../../../rules/case/setup-fields.js';
import { sayChance } from '../../../rules/plans/plan-words.js';
import { CURVE_SETTINGS, type CurveSetting, isCurveSetting } from '../../../rules/plans/response.js';
import { sentenceCase } from '../../../rules/words.js';
import { QUANTITIES } from '../../../spinning/quantities.js';
import type { SpinningSetup } from '../../../spinning/setup.js';
import type { WhatIfField, WhatIfPage, WhatIfResult } from '../../../templates/plan-models.js';
import type { CauseChance, PaperResult } from '../../bench-engine.js';
import { type BenchState, stateOfCase, writeQuery } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import { drawCurve } from '../../pictures/plans/response-curve.js';
import { WHAT_IF_PATHS, type WhatIfForm } from '../../plans/what-if-form.js';
import { STANDING_WORDS, sayPercent, sayRough, sayUnit } from '../../words.js';
import { notationField } from '../bench.js';
import { controlId, problemText, viewErrors } from '../errors.js';
import { caseFields, headingOf, viewFrame } from './frame.js';

/** Curve asked for; the usual one where the address names none that is known. */
export interface CurveChoice {
  readonly quantity: string;
  readonly setting: CurveSetting;
}

/** Quantities followed first in the list. */
const FIRST_QUANTITIES = [
  'stability-margin',
  'twist-margin',
  'tension-margin',
  'take-up-tension',
  'output',
  'hairiness',
  'softness',
  'fly',
];
const SHOWN_CAUSES = 6;
/** Changes below half a percent are left out of the table. */
const MOVED = 0.005;

export function curveChoice(params: URLSearchParams): CurveChoice {
  const quantity = params.get('quantity') ?? '';
  const setting = params.get('along') ?? '';
  return {
    quantity: QUANTITIES.some((one) => one.id === quantity) ? quantity : 'stability-margin',
    setting: isCurveSetting(setting) ? setting : 'twist',
  };
}

/** The page "what if". */
export function viewWhatIf(
  tried: WhatIfForm,
  central: SpinningSetup,
  result: WhatIfResult,
  curve: CurveChoice,
  state: BenchState,
  form: CaseForm,
): WhatIfPage {
  const quantities = [...QUANTITIES].sort((a, b) => rank(a.id) - rank(b.id));
  return {
    frame: viewFrame(headingOf(say('bench.what-if'), state, form.case), '/what-if', state, form, undefined),
    errors: viewErrors(
      tried.problems,
      (name) => setupLabel(name.replace(/^setup\./, '') as 'twist'),
      (name) => `#${controlId(name.replace(/^setup\./, 'to.'))}`,
    ),
    hidden: [...notationField(), ...caseFields(state)],
    fields: WHAT_IF_PATHS.map((path) => viewField(path, tried, central)),
    quantities: quantities.map((one) => ({
      id: `q-${one.id}`,
      value: one.id,
      label: one.label,
      chosen: one.id === curve.quantity,
    })),
    settings: CURVE_SETTINGS.map((one) => ({
      id: `s-${one}`,
      value: one,
      label: sentenceCase(labelOfSetting(one)),
      chosen: one === curve.setting,
    })),
    clearHref: `/what-if${writeQuery(state)}`,
    result,
  };
}

const rank = (id: string) => {
  const at = FIRST_QUANTITIES.indexOf(id);
  return at < 0 ? FIRST_QUANTITIES.length : at;
};

const labelOfSetting = (setting: (typeof CURVE_SETTINGS)[number]) => say(`curve-setting.${setting}`);

function viewField(
  path: (typeof WHAT_IF_PATHS)[number],
  tried: WhatIfForm,
  central: SpinningSetup,
): WhatIfField {
  const field = setupField(path);
  if (field === undefined) throw new RangeError(`no field "${path}"`);
  const now =
    field.type === 'word'
      ? String(central[field.key])
      : plain(
          central[field.key] / field.scale,
          field.key === 'twistPerMetre' || field.key === 'rotorSpeedRpm' ? 0 : 2,
        );
  const typed = tried.typed.get(path);
  const value = typed ?? now;
  const problem = tried.problems.find((one) => one.name === `setup.${path}`);
  return {
    id: controlId(`to.${path}`),
    name: `to.${path}`,
    label: setupLabel(path),
    unit: field.type === 'word' || field.unit === '1' ? '' : sayUnit(field.unit),
    value: field.type === 'word' ? value : typedNumber(value, field.quantity === 'speed'),
    now: field.type === 'word' ? optionWord(now) : localDecimal(now),
    changed: field.key in tried.changes,
    error: problem === undefined ? '' : problemText(problem),
    options:
      field.type === 'word'
        ? field.words.map((word) => ({
            id: controlId(`to.${path}.${word}`),
            value: word,
            label: optionWord(word),
            chosen: word === value,
          }))
        : [],
  };
}

const plain = (value: number, digits: number) => String(Number(value.toFixed(digits)));

/** What the changes come to. */
export function viewResult({ moved: result, curve, causes }: PaperResult): WhatIfResult {
  const written = (value: number) =>
    curve.quantity.unit === 'margin' ? `${Math.round(100 * value)} %`.replace('-', '−') : sayRough(value);
  return {
    lead:
      result.changed.length === 0
        ? say('what-if.as-is', { chance: sayChance(result.runsBefore) })
        : say('what-if.stable', { before: sayChance(result.runsBefore), after: sayChance(result.runsAfter) }),
    changed: result.changed.map((one) => `${sentenceCase(one.label)}: ${one.from} → ${one.to}`),
    margins: result.margins
      .filter((margin) => !(margin.before.low >= 9 && margin.after.low >= 9))
      .map((margin) => ({
        label: margin.label,
        before: sayPercent(margin.shortBefore),
        after: sayPercent(margin.shortAfter),
        verdict:
          Math.abs(margin.shortAfter - margin.shortBefore) < 0.01
            ? 'same'
            : margin.shortAfter < margin.shortBefore
              ? 'better'
              : 'worse',
      })),
    causes: causes === undefined ? [] : movedCauses(causes.before, causes.after),
    causesLead: causes === undefined ? say('what-if.none-complained') : say('what-if.how-likely'),
    quantities: result.quantities
      .filter((one) => one.unit !== 'margin' && moves(one.before.value, one.after.value))
      .map((one) => ({
        label: one.label,
        unit: one.unit === 'ratio' ? '' : sayUnit(one.unit),
        before: sayRough(one.before.value),
        after: sayRough(one.after.value),
        change: say('answer.range', {
          change: signed(one.change.value),
          low: signed(one.change.low),
          high: signed(one.change.high),
        }),
        standing: STANDING_WORDS[one.standing],
      })),
    curve: {
      title: say('what-if.against', {
        quantity: curve.quantity.label,
        setting: curve.setting.label,
      }),
      picture: drawCurve(curve),
      words: curve.words,
      standing: STANDING_WORDS[curve.quantity.standing],
      unit:
        curve.quantity.unit === 'ratio' || curve.quantity.unit === 'margin'
          ? ''
          : sayUnit(curve.quantity.unit),
      rows: curve.points.map((point) => ({
        at: point.words,
        value: written(point.value),
        range: `${written(point.low)} to ${written(point.high)}`,
        now: point.present,
      })),
    },
    benchHref: `/bench${writeQuery(stateOfCase(result.case))}`,
  };
}

function movedCauses(before: readonly CauseChance[], after: readonly CauseChance[]): WhatIfResult['causes'] {
  const then = new Map(after.map((cause) => [cause.id, cause.probability]));
  return before
    .map((cause) => ({ label: cause.label, was: cause.probability, is: then.get(cause.id) ?? 0 }))
    .sort((a, b) => Math.max(b.was, b.is) - Math.max(a.was, a.is))
    .slice(0, SHOWN_CAUSES)
    .map((cause) => ({ label: cause.label, before: sayPercent(cause.was), after: sayPercent(cause.is) }));
}

const moves = (before: number, after: number) =>
  Math.abs(after - before) > MOVED * Math.max(1e-9, Math.abs(before));

const signed = (value: number) => (value > 0 ? `+${sayRough(value)}` : sayRough(value));
