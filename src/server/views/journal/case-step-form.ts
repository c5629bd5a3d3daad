import type { CaseDetail, StepInput } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { FactView, FormField } from '../../../templates/journal-models.js';
import type { Fields, FormReader } from './form.js';

/** What a step's form is made from. */
export interface StepContext {
  readonly record: CaseDetail;
  readonly knowledge: Knowledge;
  /** Check or action that is recorded; empty: not chosen yet. */
  readonly subject: string;
  /** Choices for selects: id and name. */
  readonly frames: readonly (readonly [string, string])[];
  readonly yarns: readonly (readonly [string, string])[];
  readonly lots: readonly (readonly [string, string])[];
  /** Causes, the likeliest by the last diagnosis first. */
  readonly causes: readonly (readonly [string, string])[];
  /** The step as it stands, when it is corrected. */
  readonly old?: StepInput | ({ readonly step: 'opened' } & Record<string, unknown>);
}

/** A step's form: what it is about, its controls, and how what is typed becomes the step. */
export interface StepForm {
  readonly heading: string;
  readonly submit: string;
  readonly lead: string;
  readonly cautions: readonly string[];
  readonly how: readonly string[];
  readonly facts: readonly FactView[];
  fields(make: Fields): FormField[];
  read(reader: FormReader): StepInput | ({ readonly step: 'opened' } & Record<string, unknown>);
}

/** A step as it stands, field by field. */
export type Old = Record<string, unknown>;

/** The choice of a select that means none. */
export const NOTHING: readonly [string, string] = ['', '–'];

/** A fact without a link. */
export const fact = (term: string, text: string): FactView => ({ term, text, href: '' });

/** A kept value as it stands in a control. */
export const plain = (value: unknown): string => (value === null || value === undefined ? '' : String(value));

export const note = (make: Fields, old: unknown, hint = ''): FormField =>
  make.area('note', say('record.note'), { value: plain(old), hint });

export const minutes = (make: Fields, old: unknown): FormField =>
  make.number('minutes', say('record.work-time'), { unit: 'min', value: plain(old) });

/** A form about nothing in particular. */
export const bare = { cautions: [], how: [], facts: [], lead: '' } as const;

/** The texts of cautions by their ids. */
export const cautionsOf = (knowledge: Knowledge, ids: readonly string[] | undefined): string[] =>
  (ids ?? []).flatMap((id) => knowledge.book.cautions.get(id)?.text ?? []);

/** One of some words; a missing answer is a problem at its control. */
export function readChoice<W extends string>(
  reader: FormReader,
  name: string,
  label: string,
  words: readonly W[],
): W {
  const value = reader.text(name);
  const found = words.find((word) => word === value);
  if (found === undefined)
    reader.problems.push({ name, message: say('record.needs-answer', { label }), allowed: '' });
  return found ?? (words[0] as W);
}
