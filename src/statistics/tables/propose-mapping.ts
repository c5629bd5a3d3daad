import { say, wordTable } from '../../language/say.js';
import { readCellHours, readCellNumber } from './cell-number.js';
import { readCellClock, readCellTime } from './cell-time.js';
import { headerUnit, roleOfHeader } from './header-words.js';
import {
  COLUMN_ROLES,
  type ColumnRole,
  type DateOrder,
  type Dialect,
  type HoursUnit,
  type TableKind,
  type TableMapping,
} from './types.js';

/** How sure a guess is: the header is a known word and the cells fit; one of the two; or merely the only thing left. */
export type GuessConfidence = 'sure' | 'likely' | 'guess';

/** What a column probably holds. */
export interface ColumnGuess {
  readonly index: number;
  readonly header: string;
  readonly role: ColumnRole | undefined;
  readonly confidence: GuessConfidence | undefined;
  /** Why, in one sentence. */
  readonly why: string;
  /** The first few different cells. */
  readonly examples: readonly string[];
}

/** A proposal for the user to confirm. */
export interface MappingProposal {
  readonly mapping: TableMapping;
  readonly kind: TableKind | undefined;
  readonly guesses: readonly ColumnGuess[];
  /** What the user must still state, in sentences; empty when the proposal can be used as it is. */
  readonly questions: readonly string[];
}

interface Content {
  readonly filled: number;
  readonly stamps: number;
  readonly dates: number;
  readonly clocks: number;
  readonly whole: number;
  readonly numbers: number;
  readonly hours: number;
  readonly distinct: number;
  readonly largest: number;
}

/** Share of a column's cells that must fit a role for the column to have it. */
const FITS = 0.8;
/**
 * The share where the header is a word for the role and nothing else: cells that do not fit are then bad rows, to be
 * told, and not a sign that the column is something else. Standing: judgement.
 */
const FITS_NAMED = 0.5;

/**
 * Proposes which column is what, from the headers and some rows, to be confirmed by the user before anything is imported.
 * @param sampleRows rows cut into cells, in any number; about 100 are enough
 */
export function proposeMapping(
  headers: readonly string[],
  sampleRows: readonly (readonly string[])[],
  dialect: Dialect = { separator: ',', decimal: '.', firstLine: 1, hasHeader: true },
): MappingProposal {
  const contents = headers.map((_, index) => readContent(sampleRows, index, dialect.decimal));
  const candidates = headers.map((header, index) => candidate(header, contents[index] as Content, dialect));

  // A role goes to its best column; ties to the leftmost.
  const columns: Partial<Record<ColumnRole, number>> = {};
  const order = candidates
    .map((one, index) => ({ ...one, index }))
    .filter((one) => one.role !== undefined)
    .sort((a, b) => b.score - a.score || a.index - b.index);
  for (const { role, index } of order)
    if (role !== undefined && columns[role] === undefined) columns[role] = index;
  if (!dialect.hasHeader || order.length === 0) fillByContent(columns, contents);
  settleTimes(columns, contents);

  const dateOrder = findDateOrder(columns, sampleRows);
  const hoursColumn = columns['rotor-hours'] ?? columns['run-hours'];
  const hoursUnit = hoursColumn === undefined ? undefined : headerUnit(headers[hoursColumn] ?? '');
  const mapping: TableMapping = {
    columns,
    dialect,
    headers: [...headers],
    ...(dateOrder.order === undefined ? {} : { dateOrder: dateOrder.order }),
    ...(hoursColumn === undefined ? {} : { hoursUnit: hoursUnit ?? ('h' satisfies HoursUnit) }),
  };
  const kind = kindOf(columns);
  return {
    mapping,
    kind,
    guesses: headers.map((header, index) => {
      const role = COLUMN_ROLES.find((one) => columns[one] === index);
      const own = candidates[index];
      const known = role !== undefined && own?.role === role;
      return {
        index,
        header,
        role,
        confidence: role === undefined ? undefined : known ? own.confidence : 'guess',
        why:
          role === undefined
            ? (own?.why ?? say('table-reading.not-needed'))
            : known
              ? own.why
              : say('table-reading.cells-only'),
        examples: examplesOf(sampleRows, index),
      };
    }),
    questions: [
      ...(dateOrder.ambiguous ? [say('table-reading.either-order-question')] : []),
      ...(kind === undefined ? [say('table-reading.which-column')] : []),
    ],
  };
}

/** What the rows of a table with these columns stand for; undefined when they say nothing about breaks. */
export function kindOf(columns: TableMapping['columns']): TableKind | undefined {
  if (columns.count !== undefined) return columns.position === undefined ? 'totals' : 'positions';
  return columns.time !== undefined || columns.date !== undefined || columns.position !== undefined
    ? 'events'
    : undefined;
}

interface Candidate {
  readonly role: ColumnRole | undefined;
  readonly confidence: GuessConfidence | undefined;
  readonly score: number;
  readonly why: string;
}

function candidate(header: string, content: Content, dialect: Dialect): Candidate {
  const none = (why: string): Candidate => ({ role: undefined, confidence: undefined, score: 0, why });
  if (!dialect.hasHeader) return none(say('table-reading.no-header'));
  const named = roleOfHeader(header);
  if (named === undefined) return none(say('table-reading.not-needed'));
  const role = named.role === 'moment' ? momentRole(content) : named.role;
  if (role === undefined) return none(say('table-reading.maybe-time'));
  // "Count" may be the yarn count, "code" or "type" anything.
  const vague = /^(?:count|type|code|unit|h|start|number)$/i.test(header.trim());
  const fits = fitOf(role, content, named.exact && !vague ? FITS_NAMED : FITS);
  if (content.filled > 0 && !fits) return none(say('table-reading.maybe-role', { role: ROLE_WORDS[role] }));
  const sure = named.exact && content.filled > 0 && !vague;
  return {
    role,
    confidence: sure ? 'sure' : 'likely',
    score: (named.exact ? 2 : 1) + (vague ? -0.5 : 0),
    why: sure
      ? say('table-reading.sure')
      : named.exact
        ? say('table-reading.by-header')
        : say('table-reading.by-word'),
  };
}

/** The roles in words. */
export const ROLE_WORDS: Readonly<Record<ColumnRole, string>> = wordTable('column-role', COLUMN_ROLES);

function momentRole(content: Content): ColumnRole | undefined {
  const { filled, stamps, dates, clocks, whole, hours } = content;
  if (filled === 0) return undefined;
  if (stamps + dates >= FITS * filled) return stamps > 0 ? 'time' : 'date';
  if (clocks >= FITS * filled) return 'clock';
  if (whole >= FITS * filled || hours >= FITS * filled) return undefined;
  return undefined;
}

function fitOf(role: ColumnRole, content: Content, least = FITS): boolean {
  const share = (number: number) => number >= least * content.filled;
  switch (role) {
    case 'time':
      return share(content.stamps + content.dates);
    case 'date':
      return share(content.dates + content.stamps);
    case 'clock':
      return share(content.clocks);
    case 'count':
      return share(content.whole);
    case 'rotor-hours':
    case 'run-hours':
      return share(content.hours);
    default:
      return true;
  }
}

function readContent(rows: readonly (readonly string[])[], index: number, decimal: '.' | ','): Content {
  const seen = new Set<string>();
  const content = { filled: 0, stamps: 0, dates: 0, clocks: 0, whole: 0, numbers: 0, hours: 0, largest: 0 };
  for (const row of rows) {
    const cell = row[index]?.trim() ?? '';
    if (cell === '') continue;
    content.filled++;
    seen.add(cell);
    const number = readCellNumber(cell, decimal);
    if (number !== undefined) {
      content.numbers++;
      if (Number.isInteger(number) && number >= 0) content.whole++;
      content.largest = Math.max(content.largest, number);
    }
    if (readCellHours(cell, decimal, 'h') !== undefined) content.hours++;
    if (readCellClock(cell) !== undefined) content.clocks++;
    // In a sample either order will do; the question is only whether it is a date.
    const time = readCellTime(cell, 'dmy');
    const other = time.ok ? time : readCellTime(cell, 'mdy');
    if (other.ok && number === undefined) {
      if (other.hasClock) content.stamps++;
      else content.dates++;
    }
  }
  return { ...content, distinct: seen.size };
}

/** Without a header: times first, then the column with the most different whole numbers as position, one before it as frame. */
function fillByContent(columns: Partial<Record<ColumnRole, number>>, contents: readonly Content[]): void {
  const taken = new Set(Object.values(columns));
  const free = () =>
    contents.map((content, index) => ({ content, index })).filter(({ index }) => !taken.has(index));
  const take = (role: ColumnRole, index: number | undefined) => {
    if (index === undefined || columns[role] !== undefined) return;
    columns[role] = index;
    taken.add(index);
  };
  const fits = (role: ColumnRole) =>
    free().find(({ content }) => content.filled > 0 && fitOf(role, content))?.index;
  take(
    'time',
    free().find(({ content }) => content.filled > 0 && content.stamps >= FITS * content.filled)?.index,
  );
  if (columns.time === undefined) {
    take('date', fits('date'));
    take(
      'clock',
      free().find(
        ({ content }) => content.clocks >= FITS * content.filled && content.whole === 0 && content.filled > 0,
      )?.index,
    );
  }
  const numbers = free()
    .filter(({ content }) => content.filled > 0 && content.whole >= FITS * content.filled)
    .sort((a, b) => b.content.distinct - a.content.distinct || a.index - b.index);
  take('position', numbers[0]?.index);
  const rest = free().filter(({ content }) => content.filled > 0 && content.whole >= FITS * content.filled);
  const position = columns.position ?? 0;
  if (columns.time === undefined && columns.date === undefined) {
    take('count', rest.find(({ index }) => index > position)?.index);
    take('frame', rest.find(({ index }) => index < position)?.index);
  } else take('frame', rest[0]?.index);
}

/** A date and time column that holds bare dates becomes a date when there is a time of day beside it; a lone date stays. */
function settleTimes(columns: Partial<Record<ColumnRole, number>>, contents: readonly Content[]): void {
  const { time, date, clock } = columns;
  if (
    time !== undefined &&
    date === undefined &&
    (contents[time]?.stamps ?? 0) === 0 &&
    clock !== undefined
  ) {
    columns.date = time;
    delete columns.time;
  }
  if (columns.time !== undefined && columns.date !== undefined) {
    // A full time says it all, unless it turned out to hold none.
    if ((contents[columns.time]?.stamps ?? 0) > 0) delete columns.date;
    else delete columns.time;
  }
  if (columns.date !== undefined && (contents[columns.date]?.stamps ?? 0) > 0) {
    columns.time = columns.date;
    delete columns.date;
  }
  if (columns.time !== undefined) delete columns.clock;
  // A time of day alone cannot be placed.
  if (columns.date === undefined) delete columns.clock;
}

function findDateOrder(
  columns: TableMapping['columns'],
  rows: readonly (readonly string[])[],
): { readonly order: DateOrder | undefined; readonly ambiguous: boolean } {
  const index = columns.time ?? columns.date;
  if (index === undefined) return { order: undefined, ambiguous: false };
  const cells = rows.map((row) => row[index]?.trim() ?? '').filter((cell) => cell !== '');
  let needed = false;
  const fits = { dmy: 0, mdy: 0 };
  for (const cell of cells) {
    if (readCellTime(cell).ok) {
      // "03/03/2026" reads alike both ways and "25/03/2026" settles the order.
      if (/^\d{1,2}[-/]/.test(cell)) {
        if (readCellTime(cell, 'dmy').ok) fits.dmy++;
        if (readCellTime(cell, 'mdy').ok) fits.mdy++;
      }
    } else if (readCellTime(cell, 'dmy').ok) needed = true;
  }
  if (fits.dmy > fits.mdy) return { order: 'dmy', ambiguous: false };
  if (fits.mdy > fits.dmy) return { order: 'mdy', ambiguous: false };
  return { order: undefined, ambiguous: needed };
}

function examplesOf(rows: readonly (readonly string[])[], index: number): string[] {
  const examples = new Set<string>();
  for (const row of rows) {
    const cell = row[index]?.trim() ?? '';
    if (cell !== '') examples.add(cell.slice(0, 40));
    if (examples.size === 3) break;
  }
  return [...examples];
}
