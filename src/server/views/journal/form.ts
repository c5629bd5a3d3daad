import type { InputProblem } from '../../../journal/index.js';
import { pointNumber, typedNumber } from '../../../language/number-input.js';
import { say } from '../../../language/say.js';
import type { FormField, FormView } from '../../../templates/journal-models.js';
import { mayOpen, signedIn } from '../../access/requester.js';
import { controlId } from '../errors.js';
import { lastOfDay, readWall } from './moments.js';

/** What was typed into a form: control → values. */
export type Typed = ReadonlyMap<string, readonly string[]>;

/** Something that cannot be used, at the control it belongs to. */
export interface FormProblem {
  readonly name: string;
  readonly message: string;
  readonly allowed: string;
}

/** The texts of a form or an address as typed values. */
export function typedFrom(params: URLSearchParams): Map<string, string[]> {
  const typed = new Map<string, string[]>();
  for (const [name, value] of params) typed.set(name, [...(typed.get(name) ?? []), value]);
  return typed;
}

/** Reads controls one by one and gathers what cannot be used. */
export interface FormReader {
  readonly problems: FormProblem[];
  text(name: string): string;
  /** The text, or null when the control was left empty. */
  optional(name: string): string | null;
  all(name: string): string[];
  /** A number from 0 with point or comma, spaces between thousands allowed; null when left empty. */
  amount(name: string, label: string): number | null;
  whole(name: string, label: string): number | null;
  /** A time as ISO 8601; undefined when left empty. */
  moment(name: string, label: string): string | undefined;
  /** The last instant of a day; undefined when left empty. */
  dayEnd(name: string, label: string): string | undefined;
  /** A text that must be there. */
  needed(name: string, label: string): string;
}

export function readTyped(typed: Typed): FormReader {
  const problems: FormProblem[] = [];
  const text = (name: string) => (typed.get(name)?.at(-1) ?? '').trim();
  const amount = (name: string, label: string): number | null => {
    const written = text(name);
    if (written === '') return null;
    const plain = pointNumber(written)
      .replace(/[\s\u00a0\u202f']/g, '')
      .replace(',', '.');
    const value = /^\d+(\.\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
    if (value <= 1e9) return value;
    problems.push({
      name,
      message: say('record.not-number', { label, text: written.slice(0, 40) }),
      allowed: say('record.number-example'),
    });
    return null;
  };
  const moment = (name: string, label: string): string | undefined => {
    const written = text(name);
    if (written === '') return undefined;
    const wall = readWall(written);
    if (wall.kind === 'instant') return wall.instant;
    problems.push({
      name,
      message:
        wall.kind === 'skipped'
          ? say('form.was-no-time', { label, text: written.slice(0, 40) })
          : say('form.not-a-time', { label, text: written.slice(0, 40) }),
      allowed: wall.kind === 'skipped' ? say('form.time-around') : say('form.time-example'),
    });
    return undefined;
  };
  return {
    problems,
    text,
    optional: (name) => (text(name) === '' ? null : text(name)),
    all: (name) => (typed.get(name) ?? []).map((one) => one.trim()).filter((one) => one !== ''),
    amount,
    whole(name, label) {
      const value = amount(name, label);
      if (value === null || Number.isInteger(value)) return value;
      problems.push({
        name,
        message: say('record.not-whole', { label, text: text(name) }),
        allowed: say('record.whole-number'),
      });
      return null;
    },
    moment,
    dayEnd(name, label) {
      const day = moment(name, label);
      return day === undefined ? undefined : lastOfDay(day);
    },
    needed(name, label) {
      const written = text(name);
      if (written === '') problems.push({ name, message: say('record.missing', { label }), allowed: '' });
      return written;
    },
  };
}

/** Problems that the journal found, put to the controls of the form that sent them. */
export function formProblems(
  problems: readonly InputProblem[],
  controls: readonly FormField[],
): FormProblem[] {
  return problems.map(({ field, value, allowed }) => {
    const last = field.split('.').at(-1) ?? field;
    const control =
      controls.find((one) => one.name === last) ??
      controls.find((one) => one.name.endsWith(last) || field.includes(one.name));
    const label = control?.label ?? field;
    return {
      name: control?.name ?? last,
      message: say('record.cannot-use', { label, value }),
      allowed,
    };
  });
}

type Extra = Partial<Pick<FormField, 'hint' | 'unit' | 'autocomplete'>> & { readonly value?: string };

/** Makes the controls of a form: what was typed goes before the value given. */
export function startFields(typed: Typed, problems: readonly FormProblem[]) {
  const make = (kind: FormField['kind'], name: string, label: string, extra: Extra = {}): FormField => ({
    kind,
    id: controlId(name),
    name,
    label,
    hint: extra.hint ?? '',
    unit: extra.unit ?? '',
    autocomplete: extra.autocomplete ?? '',
    error: problems
      .filter((problem) => problem.name === name)
      .map((problem) => problem.message)
      .join(' '),
    value:
      typed.get(name)?.at(-1) ?? (kind === 'number' ? typedNumber(extra.value ?? '') : (extra.value ?? '')),
    options: [],
  });
  const choose = (
    kind: 'select' | 'radios' | 'checkboxes',
    name: string,
    label: string,
    words: Iterable<readonly [string, string]>,
    extra: Omit<Extra, 'value'> & { readonly chosen?: readonly string[] } = {},
  ): FormField => {
    const { chosen = [], ...rest } = extra;
    const values = typed.get(name) ?? chosen;
    return {
      ...make(kind, name, label, rest),
      options: [...words].map(([value, text], n) => ({
        id:
          n === 0
            ? controlId(name)
            : `${controlId(name)}-${controlId(value === '' ? 'none' : value).slice(2)}`,
        value,
        label: text,
        chosen: values.includes(value) || (kind !== 'checkboxes' && value === '' && values.length === 0),
      })),
    };
  };
  return {
    text: (name: string, label: string, extra?: Extra) => make('text', name, label, extra),
    /** A text of a line or so. */
    line: (name: string, label: string, extra?: Extra) => make('line', name, label, extra),
    /** What is typed is never shown again. */
    password: (name: string, label: string, extra?: Extra) => ({
      ...make('password', name, label, extra),
      value: '',
    }),
    number: (name: string, label: string, extra?: Extra) => make('number', name, label, extra),
    area: (name: string, label: string, extra?: Extra) => make('textarea', name, label, extra),
    moment: (name: string, label: string, extra?: Extra) => make('moment', name, label, extra),
    day: (name: string, label: string, extra?: Extra) => make('day', name, label, extra),
    file: (name: string, label: string, extra?: Extra) => make('file', name, label, extra),
    hidden: (name: string, value: string) => ({ ...make('hidden', name, ''), value }),
    select: (
      name: string,
      label: string,
      words: Iterable<readonly [string, string]>,
      extra?: Parameters<typeof choose>[4],
    ) => choose('select', name, label, words, extra),
    radios: (
      name: string,
      label: string,
      words: Iterable<readonly [string, string]>,
      extra?: Parameters<typeof choose>[4],
    ) => choose('radios', name, label, words, extra),
    checkboxes: (
      name: string,
      label: string,
      words: Iterable<readonly [string, string]>,
      extra?: Parameters<typeof choose>[4],
    ) => choose('checkboxes', name, label, words, extra),
  };
}
export type Fields = ReturnType<typeof startFields>;

/**
 * A form with its controls and, where there are any, its problems. Nobody who is signed in is asked for their name, and
 * a form that would be refused has no controls, so that it is not shown.
 */
export const viewForm = (
  action: string,
  submit: string,
  fields: readonly FormField[],
  problems: readonly FormProblem[] = [],
): FormView => ({
  action,
  submit,
  fields: mayOpen(action, 'POST')
    ? fields.filter((field) => !(signedIn() !== undefined && field.name === 'who'))
    : [],
  errors: {
    items: problems.map((problem) => ({
      href: `#${controlId(problem.name)}`,
      text: problem.message,
      allowed: problem.allowed,
    })),
  },
  upload: fields.some((field) => field.kind === 'file'),
});
