import { PROPERTIES } from '../../rules/case/measured-properties.js';
import type { CaseInput } from '../../rules/case/types.js';
import { MEASURED_PROPERTIES } from '../../rules/case/types.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { PARTS } from '../../rules/knowledge/vocabulary.js';
import {
  CHANGE_WORDS,
  joinWords,
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

const GROUP_TITLES = {
  running: 'How the frame runs',
  yarn: 'The yarn',
  package: 'The package',
  fabric: 'The fabric and later stages',
  parts: 'The parts',
} as const;

const LEVELS = [
  ['', 'not looked at', 'not looked at'],
  ['absent', 'not seen', 'not seen'],
  ['slight', 'slight', 'slight'],
  ['marked', 'marked', 'marked'],
] as const;

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
      levels: viewOptions(
        name,
        LEVELS.map(([level, label]) => [level, label]),
        value(name),
      ).map((option, i) => ({ ...option, short: LEVELS[i]?.[2] ?? option.label })),
    };
  };
  const groups = Object.entries(GROUP_TITLES).map(([id, title]): SymptomGroupView => {
    const rest = symptoms
      .filter((symptom) => symptom.group === id && !common.includes(symptom))
      .sort((a, b) => a.label.localeCompare(b.label));
    const answered = rest.filter((symptom) => value(`observations.${symptom.id}`).length > 0).length;
    const wrong = rest.some((symptom) => error(`observations.${symptom.id}`) !== '');
    return {
      id,
      title,
      open: answered > 0 || wrong,
      state: answered === 0 ? `${rest.length} signs` : `${answered} of ${rest.length} answered`,
      symptoms: rest.map(row),
    };
  });
  const changed = value('changed');
  return {
    heading: frame === undefined ? 'What is wrong?' : `What is wrong on ${frame.name}?`,
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
      'Where does it show?',
      'Where it shows often says more than what it is.',
      upper(SCOPE_WORDS),
      value('scope'),
      error('scope'),
    ),
    onset: viewChoice('onset', 'How did it begin?', '', upper(ONSET_WORDS), value('onset'), error('onset')),
    changed: viewChoice(
      'changed',
      'What was changed shortly before?',
      'Tick “Nothing” only when you know that nothing was changed.',
      upper(CHANGE_WORDS),
      changed,
      error('changed'),
      true,
    ),
    changedOpen: changed.length > 0,
    changedState:
      changed.length === 0
        ? 'nothing ticked'
        : joinWords(changed.map((one) => CHANGE_WORDS[one as keyof typeof CHANGE_WORDS] ?? one)),
    parts: PARTS.map((part) => {
      const name = `findings.part-exchange.${part}`;
      return {
        id: controlId(name),
        name,
        label: sentenceCase(PART_WORDS[part]),
        error: error(name),
        options: viewOptions(name, [['', 'not tried'], ...Object.entries(PART_RESULT_WORDS)], value(name)),
      };
    }),
    partsOpen: PARTS.some((part) => value(`findings.part-exchange.${part}`).length > 0),
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
  if (state.frame !== undefined && own > 0)
    notes.push(`${own} ${own === 1 ? 'setting differs' : 'settings differ'} from the frame’s card`);
  if (before > 0)
    notes.push(`${before} ${before === 1 ? 'setting was' : 'settings were'} different before the trouble`);
  if (setupTexts(state).size === 0) notes.push('nothing given yet: usual values are assumed, and said so');
  return notes.length === 0 ? '' : `${sentenceCase(notes.join('; '))}.`;
}

/** Fields that the bench page carries along without showing them. */
export function hiddenFields(state: BenchState): HiddenField[] {
  const hidden: HiddenField[] = [];
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
  if (head === 'observations') return knowledge.book.symptoms.get(second)?.label ?? 'Sign';
  if (head === 'findings') return knowledge.book.checks.get(second)?.label ?? 'Check';
  if (head === 'measurements') {
    const property =
      second === 'end-breaks'
        ? 'End breaks'
        : (PROPERTIES[second as keyof typeof PROPERTIES]?.label ?? second);
    const field = MEASURED_FIELDS[rest.join('.')];
    return field === undefined ? property : `${property}, ${field}`;
  }
  const plain: Record<string, string> = {
    scope: 'Where',
    onset: 'Beginning',
    changed: 'What was changed',
    title: 'Title',
    note: 'Note',
  };
  return plain[head] ?? name;
}

const MEASURED_FIELDS: Record<string, string> = {
  count: 'number of breaks',
  'rotor-hours': 'rotor-hours',
  'norm-per-1000': 'usual rate',
  'picked-from': 'picked as the worst of',
  dispersion: 'bunching',
  'a.count': 'number of breaks in the comparison',
  'a.rotor-hours': 'rotor-hours of the comparison',
  'b.count': 'number of breaks in trouble',
  'b.rotor-hours': 'rotor-hours in trouble',
  mean: 'mean',
  cv: 'CV',
  tests: 'number of tests',
  target: 'should be',
  readings: 'single readings',
};

function viewMeasurements(state: BenchState, problems: readonly FieldProblem[]): MeasurementView[] {
  const field = (name: string, label: string, unit: string, hint = '', numeric = true): TextFieldView => ({
    id: controlId(name),
    name,
    label,
    unit,
    value: state.fields.get(name)?.[0] ?? '',
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
    view(
      'end-breaks',
      'End breaks against the usual rate',
      'Rotor-hours are positions times hours run: 24 positions over 10 hours are 240.',
      [
        field(`${breaks}.count`, 'Breaks counted', ''),
        field(`${breaks}.rotor-hours`, 'Rotor-hours', 'h'),
        field(`${breaks}.norm-per-1000`, 'Usual breaks per 1000 rotor-hours', ''),
        field(
          `${breaks}.picked-from`,
          'Picked as the worst of so many positions',
          '',
          'Leave empty unless you looked for the worst one.',
        ),
        field(
          `${breaks}.dispersion`,
          'Bunching of breaks',
          '',
          'Variance over mean of such counts, if it is known to be above 1.',
        ),
      ],
    ),
    view(
      'end-breaks-groups',
      'End breaks of two groups',
      'In place of a usual rate: sister frame or time before, against the group in trouble.',
      [
        field(`${breaks}.a.count`, 'Comparison: breaks', ''),
        field(`${breaks}.a.rotor-hours`, 'Comparison: rotor-hours', 'h'),
        field(`${breaks}.b.count`, 'In trouble: breaks', ''),
        field(`${breaks}.b.rotor-hours`, 'In trouble: rotor-hours', 'h'),
      ],
    ),
    ...MEASURED_PROPERTIES.map((property) => {
      const info = PROPERTIES[property];
      const unit = info.unit === '1' ? '' : info.unit;
      const name = `measurements.${property}`;
      return view(
        property,
        info.label,
        'Give mean and number of tests, or the single readings; both need what it should be.',
        [
          field(`${name}.mean`, 'Mean', unit),
          ...(info.scatter === 'given' ? [field(`${name}.cv`, 'CV of the tests', '%')] : []),
          field(
            `${name}.tests`,
            info.scatter === 'poisson-per-km' ? 'Kilometres tested' : 'Number of tests',
            info.scatter === 'poisson-per-km' ? 'km' : '',
          ),
          field(`${name}.target`, 'Should be', unit),
          field(`${name}.readings`, 'Or single readings', unit, 'Parted by spaces or semicolons.', false),
        ],
      );
    }),
  ];
}

function sayMeasured(input: CaseInput): string {
  const names = Object.keys(input.measurements.values).map((key) =>
    PROPERTIES[key as keyof typeof PROPERTIES].label.toLowerCase(),
  );
  if (input.measurements.endBreaks !== undefined) names.unshift('end breaks');
  return names.length === 0 ? 'none entered' : joinWords(names);
}
