import { typedNumber } from '../../language/number-input.js';
import { localDecimal } from '../../language/numbers.js';
import { type KeysOf, say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import { fibreWord, optionWord } from '../../rules/case/option-words.js';
import { setupField, setupLabel } from '../../rules/case/setup-fields.js';
import type { Assumption, CaseInput, SetupPath } from '../../rules/case/types.js';
import { SETUP_PATHS } from '../../rules/case/types.js';
import type { SetupReport } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { convertQuantity } from '../../spinning/units/conversion.js';
import type { SetupFieldView, SetupPage, SetupReportView } from '../../templates/models.js';
import {
  type BenchState,
  BLEND_ROWS,
  cardTexts,
  setupTexts,
  unitsToChoose,
  writeQuery,
} from '../bench-state.js';
import type { CaseForm } from '../case-form.js';
import { drawMargins } from '../pictures/margin-bars.js';
import { STANDING_WORDS, sayPercent, sayRough, sayUnit } from '../words.js';
import { sayLeftOut } from './answer.js';
import { labelOf, notationField } from './bench.js';
import { viewOptions } from './choices.js';
import { controlId, errorText, isOnSetupPage, viewErrors } from './errors.js';
import { setupLabelOf } from './setup-labels.js';

const GROUPS = [
  { title: 'yarn-group', paths: ['count', 'twist', 'end-use'] },
  { title: 'fibre-group', paths: ['fibre', 'recycled', 'delustrant', 'staple', 'fineness'] },
  {
    title: 'rotor-group',
    paths: ['rotor.diameter', 'rotor.speed', 'rotor.groove', 'opening-roller.speed'],
  },
  {
    title: 'nozzle-group',
    paths: [
      'nozzle.surface',
      'nozzle.notches',
      'nozzle.material',
      'nozzle.radius',
      'nozzle.protrusion',
      'nozzle.hours',
    ],
  },
  { title: 'tube-group', paths: ['tube.bend', 'tube.insert', 'tube.hours'] },
  {
    title: 'rest-group',
    paths: ['sliver.count', 'sliver.trash', 'winding.tension-draft', 'room.temperature', 'room.humidity'],
  },
] as const satisfies readonly { readonly title: KeysOf<'setup'>; readonly paths: readonly SetupPath[] }[];

/** The setup form with what the model computes from it. */
export function viewSetup(
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
  report: SetupReport,
): SetupPage {
  const query = writeQuery(state);
  const assumed = new Map(report.assumed.map((one) => [one.field, one]));
  const view = viewField(state, form, knowledge, assumed);
  const before = SETUP_PATHS.filter((path) => path !== 'end-use');
  return {
    heading:
      state.frame === undefined ? say('setup.heading') : say('setup.heading-of', { frame: state.frame.name }),
    frameName: state.frame?.name ?? '',
    backHref: `/bench${query}`,
    errors: viewErrors(
      form.problems,
      (name) => setupLabelOf(name) ?? labelOf(name, knowledge),
      (name) => `${isOnSetupPage(name) ? '' : `/bench${query}`}#${controlId(name)}`,
    ),
    hidden: carriedFields(state),
    groups: GROUPS.map(({ title, paths }) => ({
      title: say(`setup.${title}`),
      fields: paths.map((path) => view('setup', path)),
    })),
    before: before.map((path) => view('before', path)),
    beforeOpen: [...state.fields.keys()].some((name) => name.startsWith('before.')),
    report: viewReport(report, form, knowledge),
  };
}

/** Fields the setup page carries along for the bench. */
function carriedFields(state: BenchState): SetupPage['hidden'] {
  const hidden: { name: string; value: string }[] = [...notationField()];
  if (state.frame !== undefined) hidden.push({ name: 'frame', value: state.frame.id });
  for (const [name, values] of state.fields)
    if (!isOnSetupPage(name)) for (const value of values) hidden.push({ name, value });
  for (const value of state.later) hidden.push({ name: 'later', value });
  if (state.caseId !== undefined) hidden.push({ name: 'case', value: state.caseId });
  return hidden;
}

function viewField(
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
  assumed: ReadonlyMap<SetupPath, Assumption>,
): (part: 'setup' | 'before', path: SetupPath) => SetupFieldView {
  const texts = setupTexts(state);
  const card = state.frame === undefined ? undefined : cardTexts(state.frame.card);
  return (part, path) => {
    const name = `${part}.${path}`;
    const typed = part === 'setup' ? (texts.get(path) ?? '') : (state.fields.get(name)?.[0] ?? '');
    const units = unitsToChoose(path);
    const [value, unit] = units.length === 0 ? [typed, ''] : splitUnit(typed, units);
    const field = setupField(path);
    const onCard = card?.get(path) ?? '';
    const ownUnit = field?.type === 'quantity' && units.length === 0 ? sayUnit(field.unit) : '';
    const words = optionsOf(path, knowledge);
    const guess = part === 'setup' ? assumed.get(path) : undefined;
    return {
      id: controlId(name),
      name,
      label: setupLabel(path),
      kind: path === 'fibre' ? 'blend' : words.length > 0 ? 'select' : 'text',
      unit: ownUnit,
      value: typedNumber(value, field?.type === 'quantity' && /^(?:speed|hours)$/.test(field.quantity)),
      units: units.map((one) => ({
        id: controlId(`${name}.unit.${one}`),
        value: one,
        label: sayUnit(one),
        chosen: one === unit,
      })),
      options:
        words.length === 0
          ? []
          : viewOptions(
              name,
              [['', say(part === 'setup' ? 'setup.not-given' : 'setup.the-same')], ...words],
              typed === '' ? [] : [typed],
            ),
      blend: path === 'fibre' ? blendRows(name, typed, knowledge) : [],
      hint: guess === undefined || guess.value === '' ? '' : say('setup.assumed', { value: guess.value }),
      converted: convertField(
        part === 'setup' ? form.case.given : (form.case.before ?? { values: {}, typed: {} }),
        path,
        form.case,
      ),
      card:
        part === 'setup' && card !== undefined && typed !== onCard
          ? onCard === ''
            ? say('setup.not-given')
            : `${sayCardText(onCard)}${ownUnit === '' ? '' : ` ${ownUnit}`}`
          : '',
      error: errorText(form.problems, name),
    };
  };
}

const sayCardText = (text: string) =>
  text.includes(':')
    ? text
        .split(',')
        .map((part) => part.split(':').reverse().join(' % '))
        .join(', ')
    : localDecimal(text).replace(/alpha-(e|m|tex)/, (_, unit: string) => `α${unit}`);

/** "4.3 alpha-e" as number and unit; a text in another unit stays whole beside the first unit. */
function splitUnit(text: string, units: readonly string[]): readonly [string, string] {
  const match = /^([-+\d.,\s']+)\s*(\S.*)?$/.exec(text);
  const named = match?.[2]?.trim() ?? '';
  const unit = units.find((one) => one === named);
  if (match !== null && unit !== undefined) return [(match[1] ?? '').trim(), unit];
  return [text, units[0] ?? ''];
}

function optionsOf(path: SetupPath, knowledge: Knowledge): (readonly [string, string])[] {
  if (path === 'end-use') return [...knowledge.endUses.values()].map((use) => [use.id, use.label] as const);
  const field = setupField(path);
  if (field?.type !== 'word') return [];
  return field.words.map((word) => [word, optionWord(word)] as const);
}

function blendRows(name: string, typed: string, knowledge: Knowledge): SetupFieldView['blend'] {
  const parts = typed === '' ? [] : typed.split(',').map((part) => part.split(':').map((one) => one.trim()));
  return BLEND_ROWS.map((row) => {
    const [fibre = '', share = ''] = parts[row - 1] ?? [];
    return {
      row,
      share: typedNumber(share),
      options: [
        {
          id: `${controlId(name)}-${row}-none`,
          value: '',
          label: say(row === 1 ? 'setup.not-given' : 'setup.none'),
          chosen: fibre === '',
        },
        ...[...knowledge.fibres.keys()].map((id) => ({
          id: `${controlId(name)}-${row}-${id}`,
          value: id,
          label: fibreWord(id),
          chosen: id === fibre,
        })),
      ],
    };
  });
}

/** A value in the other units of its kind, as computed from what was read. */
function convertField(given: CaseInput['given'], path: SetupPath, input: CaseInput): string {
  const { values } = given;
  const countTex = values.countTex ?? input.given.values.countTex;
  if (path === 'count' && values.countTex !== undefined)
    return inUnits(`${values.countTex} tex`, ['Ne', 'tex', 'Nm']);
  if (path === 'twist' && values.twistPerMetre !== undefined)
    return inUnits(
      `${values.twistPerMetre} t/m`,
      countTex === undefined ? ['t/m', 'tpi'] : ['alpha-e', 'alpha-m', 'alpha-tex', 't/m', 'tpi'],
      countTex,
    );
  if (path === 'fineness' && values.finenessMtex !== undefined)
    return inUnits(`${values.finenessMtex} mtex`, ['mtex', 'dtex', 'den', 'mic']);
  if (path === 'staple' && values.stapleMm !== undefined)
    return inUnits(`${values.stapleMm} mm`, ['mm', 'inch']);
  if (path === 'sliver.count' && values.sliverKtex !== undefined)
    return inUnits(`${values.sliverKtex} ktex`, ['ktex', 'Ne']);
  return '';
}

/** "4.3 αe = 4113 αtex = …": the units a value can be read in. */
export function inUnits(text: string, units: readonly string[], countTex?: number): string {
  return units
    .flatMap((unit) => {
      const result = convertQuantity(text, unit, countTex === undefined ? {} : { count: countTex });
      return result.ok ? [`${sayValue(result.value)} ${sayUnit(unit)}`] : [];
    })
    .join(' = ');
}

/** A converted value, to about a thousandth of itself. */
export function sayValue(value: number): string {
  return localDecimal(String(Number(value.toPrecision(4))));
}

/** What the model computes from the setup. */
export function viewReport(report: SetupReport, form: CaseForm, knowledge: Knowledge): SetupReportView {
  const short = report.margins.filter((margin) => margin.chanceNegative >= 0.5);
  return {
    leftOut: sayLeftOut(form, knowledge),
    strip:
      short.length === 0
        ? say('setup.none-used')
        : say('setup.used-up', { what: short.map((margin) => inSentence(margin.label)).join(', ') }),
    margins: report.margins.map((margin) => ({
      label: margin.label,
      meaning: margin.meaning,
      value: sayMargin(margin.value),
      range: say('setup.to', { low: sayMargin(margin.low), high: sayMargin(margin.high) }),
      chance: margin.chanceNegative === 0 ? say('setup.practically-none') : sayPercent(margin.chanceNegative),
      probability: margin.chanceNegative,
      verdict: verdictOf(margin.chanceNegative),
      verdictWords: say(`setup.${verdictOf(margin.chanceNegative)}`),
    })),
    marginPicture: drawMargins(say('setup.margins-picture'), report.margins),
    quantities: Object.values(report.computed).map((quantity) => ({
      label: quantity.label,
      value: sayRough(quantity.value),
      range:
        sayRough(quantity.low) === sayRough(quantity.high)
          ? say('setup.exact')
          : say('setup.to', { low: sayRough(quantity.low), high: sayRough(quantity.high) }),
      unit: quantity.unit === 'ratio' || quantity.unit === 'margin' ? '' : sayUnit(quantity.unit),
      standing: STANDING_WORDS[quantity.standing],
      meaning: quantity.meaning,
    })),
    assumed: report.assumed.map(({ label, value, why }) => ({ label, value, why })),
    warnings: [...new Set(report.warnings.map((one) => one.message))],
    cautions: report.cautions.map((one) => one.text),
  };
}

const verdictOf = (chanceNegative: number) =>
  chanceNegative >= 0.5 ? 'short' : chanceNegative >= 0.1 ? 'tight' : 'ample';

function sayMargin(value: number): string {
  if (value > 3) return say('setup.over-300').replaceAll(' %', '\u00a0%');
  return `${value >= 0 ? '+' : '−'}${Math.abs(Math.round(value * 100))}\u00a0%`;
}
