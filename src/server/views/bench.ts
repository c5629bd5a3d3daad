import { NOTATION_FIELD, typedNotation, typedNumber, typedNumbers } from '../../language/number-input.js';
import { keyPart, say, wordTable } from '../../language/say.js';
import { compareTexts, inSentence } from '../../language/words.js';
import { PROPERTIES } from '../../rules/case/measured-properties.js';
import { NOT_CHOSEN } from '../../rules/case/read-tried.js';
import type { CaseInput } from '../../rules/case/types.js';
import { MEASURED_PROPERTIES } from '../../rules/case/types.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { PARTS } from '../../rules/knowledge/vocabulary.js';
import {
  CHANGE_WORDS,
  joinWords,
  LEVEL_WORDS,
  ONSET_WORDS,
  PART_RESULT_WORDS,
  PART_WORDS,
  SCOPE_WORDS,
  sentenceCase,
} from '../../rules/words.js';
import type {
  AnswerView,
  BenchPage,
  HiddenField,
  MeasurementView,
  SymptomGroupView,
  SymptomView,
  TextFieldView,
} from '../../templates/models.js';
import { type BenchState, setupTexts, writeQuery } from '../bench-state.js';
import type { CaseForm, FieldProblem } from '../case-form.js';
import { viewChoice, viewOptions } from './choices.js';
import { controlId, errorText, isOnSetupPage, viewErrors } from './errors.js';
import { describeSetup } from './setup-line.js';
import { sayKey, sayTriedCount, viewTried } from './tried.js';

/** What most calls to a frame are about; shown before anything else. Standing: judgement. */
export const COMMON_SYMPTOMS = [
  'end-breaks',
  'breaks-after-piecing',
  'piecing-poor',
  'low-tenacity',
  'hairy',
  'fly-machine',
  'harsh',
] as const;

const GROUP_TITLES = wordTable('bench', ['running', 'yarn', 'package', 'fabric', 'parts']);

const levels = (): [string, string][] => [['', say('bench.not-looked')], ...Object.entries(LEVEL_WORDS)];

/** The bench page: questions on the left, the answer on the right. */
export function viewBench(
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
  answer: AnswerView,
): BenchPage {
  const { frame } = state;
  const value = (name: string) => state.fields.get(name) ?? [];
  const error = (name: string) => errorText(form.problems, name);
  const query = writeQuery(state);
  const symptoms = [...knowledge.book.symptoms.values()];
  const common = COMMON_SYMPTOMS.flatMap((id) => symptoms.filter((symptom) => symptom.id === id));
  const row = (symptom: (typeof symptoms)[number]): SymptomView => {
    const name = `observations.${symptom.id}`;
    return {
      id: controlId(name),
      name,
      label: symptom.label,
      look: symptom.look,
      error: error(name),
      levels: viewOptions(name, levels(), value(name)).map((option) => ({ ...option, short: option.label })),
    };
  };
  const groups = Object.entries(GROUP_TITLES).map(([id, title]): SymptomGroupView => {
    const rest = symptoms
      .filter((symptom) => symptom.group === id && !common.includes(symptom))
      .sort((a, b) => compareTexts(a.label, b.label));
    const answered = rest.filter((symptom) => value(`observations.${symptom.id}`).length > 0).length;
    const wrong = rest.some((symptom) => error(`observations.${symptom.id}`) !== '');
    return {
      id,
      title,
      open: answered > 0 || wrong,
      state:
        answered === 0
          ? say('bench.signs', { n: rest.length })
          : say('bench.answered', { n: answered, total: rest.length }),
      symptoms: rest.map(row),
    };
  });
  const changed = value('changed');
  return {
    heading:
      frame === undefined ? say('bench.what-wrong') : say('bench.what-wrong-on', { frame: frame.name }),
    frame: frame === undefined ? undefined : { name: frame.name, place: frame.place, note: frame.note },
    title: value('title')[0] ?? '',
    note: value('note')[0] ?? '',
    setupLine: describeSetup(form.case.given),
    setupNote: setupNote(state),
    setupHref: `/setup${query}`,
    errors: viewErrors(
      form.problems,
      (name) => labelOf(name, knowledge),
      (name) => `${isOnSetupPage(name) ? `/setup${query}` : ''}#${controlId(name)}`,
    ),
    hidden: hiddenFields(state),
    common: common.map(row),
    groups,
    scope: viewChoice(
      'scope',
      say('bench.where'),
      say('bench.where-hint'),
      upper(SCOPE_WORDS),
      value('scope'),
      error('scope'),
    ),
    onset: viewChoice('onset', say('bench.began'), '', upper(ONSET_WORDS), value('onset'), error('onset')),
    changed: viewChoice(
      'changed',
      say('bench.changed'),
      say('bench.changed-hint'),
      upper(CHANGE_WORDS),
      changed,
      error('changed'),
      true,
    ),
    changedOpen: changed.length > 0,
    changedState:
      changed.length === 0
        ? say('bench.nothing-ticked')
        : joinWords(changed.map((one) => CHANGE_WORDS[one as keyof typeof CHANGE_WORDS] ?? one)),
    parts: PARTS.map((part) => {
      const name = `findings.part-exchange.${part}`;
      return {
        id: controlId(name),
        name,
        label: sentenceCase(PART_WORDS[part]),
        error: error(name),
        options: viewOptions(
          name,
          [['', say('bench.not-tried')], ...Object.entries(PART_RESULT_WORDS)],
          value(name),
        ),
      };
    }),
    partsOpen: PARTS.some((part) => value(`findings.part-exchange.${part}`).length > 0),
    tried: viewTried(state, form.problems, knowledge.book),
    triedOpen: [...state.fields.keys()].some((name) => name.startsWith('tried.')),
    triedState: sayTriedCount(form.case),
    measurements: viewMeasurements(state, form.problems),
    measured: sayMeasured(form.case),
    answer,
  };
}

const upper = (words: Readonly<Record<string, string>>) =>
  Object.fromEntries(Object.entries(words).map(([key, text]) => [key, sentenceCase(text)]));

function setupNote(state: BenchState): string {
  const own = [...state.fields.keys()].filter((name) => name.startsWith('setup.')).length;
  const before = [...state.fields.keys()].filter((name) => name.startsWith('before.')).length;
  const notes: string[] = [];
  if (state.frame !== undefined && own > 0) notes.push(say('bench.differ', { n: own }));
  if (before > 0) notes.push(say('bench.were-different', { n: before }));
  if (setupTexts(state).size === 0) notes.push(say('bench.nothing-given'));
  return notes.length === 0 ? '' : `${sentenceCase(notes.join('; '))}.`;
}

/** Says that the numbers of a form are typed with a decimal comma, where they are. */
export function notationField(): HiddenField[] {
  const notation = typedNotation();
  return notation === undefined ? [] : [{ name: NOTATION_FIELD, value: notation }];
}

/** Fields that the bench page carries along without showing them. */
export function hiddenFields(state: BenchState): HiddenField[] {
  const hidden: HiddenField[] = [...notationField()];
  if (state.frame !== undefined) hidden.push({ name: 'frame', value: state.frame.id });
  if (state.caseId !== undefined) hidden.push({ name: 'case', value: state.caseId });
  for (const [name, values] of state.fields)
    if (name.startsWith('setup.') || name.startsWith('before.') || name === 'title' || name === 'note')
      for (const value of values) hidden.push({ name, value });
  return hidden;
}

/** A field's name in plain words, for the list of errors. */
export function labelOf(name: string, knowledge: Knowledge): string {
  const [head = '', second = '', ...rest] = name.split('.');
  if (head === 'observations') return knowledge.book.symptoms.get(second)?.label ?? say('bench.sign');
  if (head === 'findings') return knowledge.book.checks.get(second)?.label ?? say('bench.check');
  if (head === 'tried')
    return second === NOT_CHOSEN ? say('bench.tried') : sayKey(name.slice('tried.'.length), knowledge.book);
  if (head === 'measurements') {
    const property =
      second === 'end-breaks'
        ? say('bench.end-breaks')
        : (PROPERTIES[second as keyof typeof PROPERTIES]?.label ?? second);
    const field = measuredField(rest.join('.'));
    return field === undefined ? property : say('bench.with-field', { property, field });
  }
  const plain: Record<string, string> = {
    scope: say('bench.field-where'),
    onset: say('bench.field-onset'),
    changed: say('bench.field-changed'),
    title: say('bench.field-title'),
    note: say('bench.note'),
  };
  return plain[head] ?? name;
}

const MEASURED_FIELDS = [
  'count',
  'rotor-hours',
  'norm-per-1000',
  'picked-from',
  'dispersion',
  'a.count',
  'a.rotor-hours',
  'b.count',
  'b.rotor-hours',
  'mean',
  'cv',
  'tests',
  'target',
  'readings',
] as const;

/** Words for a field of a measurement; undefined for a name that is none. */
function measuredField(name: string): string | undefined {
  const known = MEASURED_FIELDS.find((one) => one === name);
  return known === undefined ? undefined : say(`bench.m-${keyPart(known)}`);
}

function viewMeasurements(state: BenchState, problems: readonly FieldProblem[]): MeasurementView[] {
  const field = (name: string, label: string, unit: string, hint = '', numeric = true): TextFieldView => ({
    id: controlId(name),
    name,
    label,
    unit,
    value: numeric
      ? typedNumber(state.fields.get(name)?.[0] ?? '')
      : typedNumbers(state.fields.get(name)?.[0] ?? ''),
    hint,
    error: errorText(problems, name),
    numeric,
  });
  const view = (
    id: string,
    label: string,
    hint: string,
    fields: readonly TextFieldView[],
  ): MeasurementView => ({
    id,
    label,
    hint,
    open: fields.some((one) => one.value !== '' || one.error !== ''),
    fields,
  });
  const breaks = 'measurements.end-breaks';
  return [
    view('end-breaks', say('bench.breaks-usual'), say('bench.breaks-usual-hint'), [
      field(`${breaks}.count`, say('bench.breaks-counted'), ''),
      field(`${breaks}.rotor-hours`, say('bench.rotor-hours'), 'h'),
      field(`${breaks}.norm-per-1000`, say('bench.usual-breaks'), ''),
      field(`${breaks}.picked-from`, say('bench.picked'), '', say('bench.picked-hint')),
      field(`${breaks}.dispersion`, say('bench.bunching'), '', say('bench.bunching-hint')),
    ]),
    view('end-breaks-groups', say('bench.two-groups'), say('bench.two-groups-hint'), [
      field(`${breaks}.a.count`, say('bench.a-breaks'), ''),
      field(`${breaks}.a.rotor-hours`, say('bench.a-hours'), 'h'),
      field(`${breaks}.b.count`, say('bench.b-breaks'), ''),
      field(`${breaks}.b.rotor-hours`, say('bench.b-hours'), 'h'),
    ]),
    ...MEASURED_PROPERTIES.map((property) => {
      const info = PROPERTIES[property];
      const unit = info.unit === '1' ? '' : info.unit;
      const name = `measurements.${property}`;
      return view(property, info.label, say('bench.measured-hint'), [
        field(`${name}.mean`, say('bench.mean'), unit),
        ...(info.scatter === 'given' ? [field(`${name}.cv`, say('bench.cv-tests'), '%')] : []),
        field(
          `${name}.tests`,
          info.scatter === 'poisson-per-km' ? say('bench.km-tested') : say('bench.tests-number'),
          info.scatter === 'poisson-per-km' ? 'km' : '',
        ),
        field(`${name}.target`, say('bench.should-be'), unit),
        field(`${name}.readings`, say('bench.or-readings'), unit, say('bench.readings-hint'), false),
      ]);
    }),
  ];
}

function sayMeasured(input: CaseInput): string {
  const names = Object.keys(input.measurements.values).map((key) =>
    inSentence(PROPERTIES[key as keyof typeof PROPERTIES].label),
  );
  if (input.measurements.endBreaks !== undefined) names.unshift(say('bench.end-breaks-in-list'));
  return names.length === 0 ? say('bench.none-entered') : joinWords(names);
}
