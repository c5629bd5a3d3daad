/**
 * The state of the bench: a case in the making. It lives in the address alone, so that it can be sent on,
 * bookmarked and gone back to. Field names are the dotted names of the case file.
 */

import type { Language } from '../language/languages.js';
import { notationOf, pointNumber, pointNumbers } from '../language/number-input.js';
import { NOT_CHOSEN } from '../rules/case/read-tried.js';
import { setupField } from '../rules/case/setup-fields.js';
import { type CaseInput, SETUP_PATHS, type SetupPath } from '../rules/case/types.js';
import { caseObject } from '../rules/case/write-case.js';
import type { Mill, ReadFrame } from '../rules/knowledge/load-mill.js';

/** What a field holds when the card's value was deliberately taken out: not known, not the card's. */
export const NOT_GIVEN = '-';
/** Fibres a blend can be typed with. */
export const BLEND_ROWS = [1, 2, 3] as const;

const LONGEST = 400;
/** A note and a list of readings may be longer. */
const LONGEST_TEXT = 5000;
const MOST_FIELDS = 400;
const PREFIXES = ['setup.', 'before.', 'observations.', 'findings.', 'tried.', 'measurements.'];
const PLAIN = ['title', 'note', 'scope', 'onset', 'changed'];

export interface BenchState {
  /** The frame whose card fills the setup. */
  readonly frame: ReadFrame | undefined;
  /** Field → what was typed, empty ones left out; of the setup only what differs from the frame's card. */
  readonly fields: ReadonlyMap<string, readonly string[]>;
  /** Checks put off. */
  readonly later: readonly string[];
  /** The case of the journal that this goes on with. */
  readonly caseId?: string;
}

/**
 * Reads the state from an address or a form.
 *
 * Fields that a form splits (a number and its unit, the rows of a blend) are put together; `drop` names fields to
 * take out, for buttons that undo. Names that are no field are passed over. Numbers of a form that says so are typed
 * with a decimal comma.
 */
export function readState(params: URLSearchParams, mill: Mill): BenchState {
  const frame = mill.get(params.get('frame') ?? '');
  const dropped = new Set(params.getAll('drop'));
  const notation = notationOf(params);
  const typed = new Map<string, string[]>();
  for (const [name, value] of [...params].slice(0, MOST_FIELDS)) {
    if (!PLAIN.includes(name) && !PREFIXES.some((prefix) => name.startsWith(prefix))) continue;
    const values = typed.get(name) ?? [];
    const text = value
      .trim()
      .slice(0, name === 'note' || name.endsWith('.readings') ? LONGEST_TEXT : LONGEST);
    values.push(withPoint(name, text, notation));
    typed.set(name, values);
  }
  for (const part of ['setup', 'before'] as const) joinParts(typed, part);
  joinTried(typed);

  const card = frame === undefined ? new Map<SetupPath, string>() : cardTexts(frame.card);
  const fields = new Map<string, readonly string[]>();
  for (const [name, values] of [...typed].sort(([a], [b]) => order(a) - order(b) || (a < b ? -1 : 1))) {
    if (dropped.has(name)) continue;
    const path = setupPath(name, 'setup');
    if (path === undefined) {
      const kept = [...new Set(values.filter((value) => value !== ''))];
      if (kept.length > 0) fields.set(name, kept);
      continue;
    }
    const value = plainText(path, values.at(-1) ?? '');
    const onCard = card.get(path);
    if (value === onCard) continue;
    if (value !== '' && value !== NOT_GIVEN) fields.set(name, [value]);
    else if (onCard !== undefined) fields.set(name, [NOT_GIVEN]);
  }
  const later = [...new Set(params.getAll('later'))].filter(
    (check) => /^[a-z0-9-]{1,60}$/.test(check) && !dropped.has(`later.${check}`),
  );
  const caseId = params.get('case') ?? '';
  return { frame, fields, later, ...(/^case-\d{1,9}$/.test(caseId) ? { caseId } : {}) };
}

/** What was typed into a field with a decimal comma, as the case file writes it. */
function withPoint(name: string, text: string, notation: Language | undefined): string {
  if (name.endsWith('.readings')) return pointNumbers(text, notation);
  return /^(?:setup|before|measurements)\./.test(name) ? pointNumber(text, notation) : text;
}

/** The state as a query, always the same for the same state; empty for an empty state, else starting with "?". */
export function writeQuery(state: BenchState, more: Readonly<Record<string, string>> = {}): string {
  const params = new URLSearchParams();
  if (state.frame !== undefined) params.set('frame', state.frame.id);
  for (const [name, values] of state.fields) for (const value of values) params.append(name, value);
  for (const check of state.later) params.append('later', check);
  if (state.caseId !== undefined) params.set('case', state.caseId);
  for (const [name, value] of Object.entries(more)) params.set(name, value);
  const query = params.toString();
  return query === '' ? '' : `?${query}`;
}

/** The state that shows a case on no particular frame. */
export function stateOfCase(input: CaseInput): BenchState {
  const params = new URLSearchParams();
  const add = (name: string, value: unknown): void => {
    if (value === undefined || value === null) return;
    if (Array.isArray(value)) {
      if (name.endsWith('.readings')) params.append(name, value.join('; '));
      else for (const one of value) add(name, one);
    } else if (typeof value === 'object') {
      if (name === 'setup.fibre' || name === 'before.fibre') params.append(name, blendText(value));
      else for (const [key, one] of Object.entries(value)) add(`${name}.${key}`, one);
    } else params.append(name, String(value));
  };
  for (const [key, value] of Object.entries(caseObject(input))) add(key, value);
  return readState(params, new Map());
}

/** The setup as it stands, card and changes together: path → text. */
export function setupTexts(state: BenchState): ReadonlyMap<SetupPath, string> {
  const texts = new Map(state.frame === undefined ? [] : cardTexts(state.frame.card));
  for (const path of SETUP_PATHS) {
    const own = state.fields.get(`setup.${path}`)?.[0];
    if (own === NOT_GIVEN) texts.delete(path);
    else if (own !== undefined) texts.set(path, own);
  }
  return texts;
}

/** Texts of cards: a card stays as it is, and every request about its frame asks for them. */
const textsOfCards = new WeakMap<CaseInput, ReadonlyMap<SetupPath, string>>();

/** What a frame's card says: path → text. */
export function cardTexts(card: CaseInput): ReadonlyMap<SetupPath, string> {
  const known = textsOfCards.get(card);
  if (known !== undefined) return known;
  const texts = readCard(card);
  textsOfCards.set(card, texts);
  return texts;
}

function readCard(card: CaseInput): ReadonlyMap<SetupPath, string> {
  const setup = caseObject(card).setup;
  const texts = new Map<SetupPath, string>();
  for (const path of SETUP_PATHS) {
    let value: unknown = setup;
    for (const key of path.split('.'))
      value = typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
    if (value === undefined) continue;
    const text = typeof value === 'object' && value !== null ? blendText(value) : String(value);
    texts.set(path, plainText(path, text));
  }
  return texts;
}

/** The case object of the state, for the case reader. */
export function toCaseObject(state: BenchState): Record<string, unknown> {
  const leaves: [string, unknown][] = [...setupTexts(state)].map(([path, text]) => [
    `setup.${path}`,
    setupValue(path, text),
  ]);
  for (const [name, values] of state.fields) {
    if (name.startsWith('setup.')) continue;
    const before = setupPath(name, 'before');
    if (before !== undefined) leaves.push([name, setupValue(before, values[0] ?? '')]);
    else if (name.endsWith('.readings')) leaves.push([name, splitReadings(values[0] ?? '')]);
    else leaves.push([name, values.length === 1 ? values[0] : values]);
  }
  return nest(leaves);
}

/** Dotted leaves as nested objects; only own keys, so that no name can reach a prototype. */
function nest(leaves: readonly (readonly [string, unknown])[]): Record<string, unknown> {
  const groups = new Map<string, [string, unknown][]>();
  const plain: [string, unknown][] = [];
  for (const [name, value] of leaves) {
    const dot = name.indexOf('.');
    if (dot < 0) {
      plain.push([name, value]);
      continue;
    }
    const head = name.slice(0, dot);
    const group = groups.get(head) ?? [];
    group.push([name.slice(dot + 1), value]);
    groups.set(head, group);
  }
  return Object.fromEntries([
    ...plain,
    ...[...groups].map(([head, group]): [string, unknown] => [head, nest(group)]),
  ]);
}

/** `50 cotton` → for the reader: an id, or ids with shares. */
function setupValue(path: SetupPath, text: string): unknown {
  if (path !== 'fibre' || !text.includes(':')) return text;
  return Object.fromEntries(
    text.split(',').map((part): [string, string] => {
      const [fibre = '', share = ''] = part.split(':');
      return [fibre.trim(), share.trim()];
    }),
  );
}

const blendText = (shares: object) =>
  Object.entries(shares)
    .map(([fibre, share]) => `${fibre}:${String(share).replace(/\s*%$/, '')}`)
    .join(',');

/** Readings parted by semicolons, line ends or, where no unit is written, by spaces. */
function splitReadings(text: string): string[] {
  const parts = /[;\n]/.test(text) || /[a-z%]/i.test(text) ? text.split(/[;\n]/) : text.split(/\s+/);
  return parts.map((part) => part.trim()).filter((part) => part !== '');
}

/** Puts number and unit, and the rows of a blend, into one value. */
function joinParts(typed: Map<string, string[]>, part: 'setup' | 'before'): void {
  const take = (name: string) => {
    const value = typed.get(name)?.at(-1);
    typed.delete(name);
    return value;
  };
  for (const path of SETUP_PATHS) {
    const unit = take(`${part}.${path}.unit`);
    const text = typed.get(`${part}.${path}`)?.at(-1);
    if (unit === undefined || unit === '' || text === undefined || text === '' || text === NOT_GIVEN)
      continue;
    if (/^[-+\d.,\s']+$/.test(text)) typed.set(`${part}.${path}`, [`${text} ${unit}`.slice(0, LONGEST)]);
  }
  const rows = BLEND_ROWS.map((row) => ({
    fibre: take(`${part}.fibre.${row}`),
    share: take(`${part}.share.${row}`) ?? '',
  }));
  if (rows.every((row) => row.fibre === undefined)) return;
  const used = rows.filter((row) => (row.fibre ?? '') !== '');
  const [only] = used;
  const text =
    used.length === 0
      ? ''
      : used.length === 1 && only !== undefined && ['', '100'].includes(only.share.replace(/\s*%$/, ''))
        ? (only.fibre ?? '')
        : used.map((row) => `${row.fibre}:${row.share.replace(/\s*%$/, '')}`).join(',');
  typed.set(`${part}.fibre`, [text.slice(0, LONGEST)]);
}

/**
 * Puts action and result of the rows of what was tried into one field for each. A row without an action keeps its
 * result, so that the page can ask for the action.
 */
function joinTried(typed: Map<string, string[]>): void {
  const rows = [...typed].flatMap(([name, values]) => {
    const row = /^tried\.(\d{1,2})\.action$/.exec(name)?.[1];
    return row === undefined ? [] : [{ row, action: values.at(-1) ?? '' }];
  });
  for (const { row, action } of rows) {
    const result = typed.get(`tried.${row}.result`)?.at(-1) ?? '';
    typed.delete(`tried.${row}.action`);
    typed.delete(`tried.${row}.result`);
    if (action === '' && (result === '' || result === 'undecided')) continue;
    const name = `tried.${action === '' ? NOT_CHOSEN : action}`;
    typed.set(name, [...(typed.get(name) ?? []), result === '' ? 'undecided' : result]);
  }
}

/** A text without its field's own unit, which the page shows beside the box. */
function plainText(path: SetupPath, text: string): string {
  const field = setupField(path);
  if (field?.type !== 'quantity' || unitsToChoose(path).length > 0) return text;
  const unit = field.unit;
  return unit !== '1' && text.endsWith(unit) && /[\d\s]$/.test(text.slice(0, -unit.length))
    ? text.slice(0, -unit.length).trim()
    : text;
}

/** Units a page offers to choose from for a field; none where the usual unit is the only one in use. */
export function unitsToChoose(path: SetupPath): readonly string[] {
  return UNIT_CHOICES[path] ?? [];
}

const UNIT_CHOICES: Partial<Record<SetupPath, readonly string[]>> = {
  count: ['Ne', 'tex', 'Nm'],
  twist: ['alpha-e', 'alpha-m', 'alpha-tex', 't/m', 'tpi'],
  fineness: ['mtex', 'dtex', 'den', 'mic'],
  staple: ['mm', 'inch'],
  'sliver.count': ['ktex', 'Ne', 'gr/yd'],
  'room.temperature': ['C', 'F'],
};

function setupPath(name: string, part: 'setup' | 'before'): SetupPath | undefined {
  if (!name.startsWith(`${part}.`)) return undefined;
  const rest = name.slice(part.length + 1);
  return PLACE_OF_PATH.has(rest) ? (rest as SetupPath) : undefined;
}

const PLACE_OF_PATH: ReadonlyMap<string, number> = new Map(SETUP_PATHS.map((path, place) => [path, place]));

/** Place of a field in the address: setup as on the card, then what was seen, found and measured. */
function order(name: string): number {
  for (const [part, start] of [
    ['setup', 10],
    ['before', 100],
  ] as const) {
    const path = setupPath(name, part);
    if (path !== undefined) return start + (PLACE_OF_PATH.get(path) ?? 0);
  }
  const place = [
    'title',
    'note',
    'setup.',
    'before.',
    'observations.',
    'scope',
    'onset',
    'changed',
    'findings.',
    'tried.',
    'measurements.',
  ].findIndex((start) => name.startsWith(start));
  return place < 2 ? place : 200 + place;
}
