import { createHash } from 'node:crypto';
import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Kysely } from 'kysely';
import { z } from 'zod';
import { translateError } from '../engines/translate-error.js';
import { JournalError } from '../errors.js';
import { presentTables } from '../migrations/migrate.js';
import { SCHEMA_STEPS } from '../migrations/steps.js';
import { openJournal } from '../open-journal.js';
import { type Journal, storeOf } from '../store.js';
import type { Tables } from '../tables.js';
import { EXPORT_FORMAT, EXPORT_VERSION, type Moved } from './export.js';
import { makeRoom, requireEmpty } from './make-room.js';
import { moveJournal } from './move.js';
import { refreshStatistics } from './refresh-statistics.js';
import { countRows, differingCounts, putRows, type Row, TABLE_NAMES, type TableName } from './row-pages.js';

const headSchema = z.object({ format: z.literal(EXPORT_FORMAT), version: z.number(), schema: z.string() });
const endSchema = z.object({
  end: z.literal(true),
  rows: z.record(z.string(), z.number()),
  sha256: z.string(),
});

/** Rows put in at a time. */
const CHUNK = 2000;
/** Characters of what a file says that a message repeats. */
const MOST_REPEATED = 200;

/**
 * Reads an export into an empty journal, all of it or nothing, and checks it: the file must be whole (its SHA-256) and
 * every table must hold as many rows as the file says. An export of an earlier version is read as that version wrote it
 * and brought up to date before it goes in.
 * @throws JournalError `refused` when the journal is not empty; `corrupt` when the file is cut off or altered; `newer`
 */
export async function importJournal(journal: Journal, file: string): Promise<Moved> {
  const store = storeOf(journal);
  const { db, place } = store;
  try {
    const schema = await schemaOf(file);
    if (schema !== Object.keys(SCHEMA_STEPS).at(-1)) {
      await requireEmpty(db, place);
      return await withOlder(file, schema, (older) => moveJournal(older, journal));
    }
    const moved = await db.transaction().execute(async (trx) => {
      await makeRoom(trx, place);
      return readWhole(trx, file, TABLE_NAMES);
    });
    await refreshStatistics(store);
    return moved;
  } catch (error) {
    const told = translateError(error, error instanceof Error && 'path' in error ? file : place);
    // What the database says of rows that it will not take.
    throw told instanceof JournalError
      ? told
      : damaged(file, `its rows do not fit: ${shorten(messageOf(told))}`);
  }
}

const messageOf = (error: unknown) => (error instanceof Error ? error.message : String(error));
/** What stands in a file may be of any length; of it only the beginning is repeated. */
const shorten = (text: string) => (text.length > MOST_REPEATED ? `${text.slice(0, MOST_REPEATED)}…` : text);

/** Reads an older export into a journal of its version in a place for the while, brings that up to date and works with it. */
async function withOlder<T>(file: string, schema: string, work: (older: Journal) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'peelpoint-older-'));
  try {
    const then = await openJournal({ folder, schemaStep: schema });
    try {
      const { db, engine } = storeOf(then);
      const tables = await presentTables(db, engine);
      await db.transaction().execute((trx) => readWhole(trx, file, tables));
    } finally {
      await then.close();
    }
    const now = await openJournal({ folder });
    try {
      return await work(now);
    } finally {
      await now.close();
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function readWhole(trx: Kysely<Tables>, file: string, tables: readonly string[]): Promise<Moved> {
  const rows = await readFile(trx, file, tables);
  const found = await countRows(trx, tables);
  const wrong = differingCounts(rows, found);
  if (wrong.length > 0)
    throw damaged(file, `after reading, rows are missing or too many: ${wrong.join(', ')}`);
  return { rows: found, total: Object.values(found).reduce((total, count) => total + count, 0) };
}

/** The step of the schema an export was written by, from its first line. */
async function schemaOf(file: string): Promise<string> {
  const handle = await open(file, 'r');
  try {
    for await (const line of handle.readLines({ encoding: 'utf8' }))
      return readHead(file, parse(file, 1, line));
    throw damaged(file, 'it is empty');
  } finally {
    await handle.close();
  }
}

async function readFile(
  trx: Kysely<Tables>,
  file: string,
  tables: readonly string[],
): Promise<Readonly<Record<string, number>>> {
  const handle = await open(file, 'r');
  try {
    return await readLines(trx, file, tables, handle.readLines({ encoding: 'utf8' }));
  } finally {
    await handle.close();
  }
}

async function readLines(
  trx: Kysely<Tables>,
  file: string,
  tables: readonly string[],
  lines: AsyncIterable<string>,
): Promise<Readonly<Record<string, number>>> {
  const hash = createHash('sha256');
  let number = 0;
  let waiting: { readonly table: TableName; readonly rows: Row[] } | undefined;
  let end: z.output<typeof endSchema> | undefined;
  for await (const line of lines) {
    number++;
    if (end !== undefined) throw damaged(file, `line ${number} stands behind the end`);
    const value = parse(file, number, line);
    if (number === 1) readHead(file, value);
    else if (Array.isArray(value)) {
      const { table, row } = readRow(file, number, tables, value);
      if (waiting !== undefined && (waiting.table !== table || waiting.rows.length >= CHUNK)) {
        await putRows(trx, waiting.table, waiting.rows);
        waiting = undefined;
      }
      waiting ??= { table, rows: [] };
      waiting.rows.push(row);
    } else {
      const read = endSchema.safeParse(value);
      if (!read.success) throw damaged(file, `line ${number} is neither a row nor the end`);
      end = read.data;
      if (end.sha256 !== hash.digest('hex')) throw damaged(file, 'its lines are not those that were written');
      if (waiting !== undefined) await putRows(trx, waiting.table, waiting.rows);
      continue;
    }
    hash.update(`${line}\n`);
  }
  if (end === undefined) throw damaged(file, `it ends after line ${number} without its last line`);
  return end.rows;
}

function readHead(file: string, value: unknown): string {
  const head = headSchema.safeParse(value);
  if (!head.success) throw damaged(file, `it does not begin as a ${EXPORT_FORMAT} file does`);
  const known = Object.keys(SCHEMA_STEPS);
  if (head.data.version > EXPORT_VERSION || !known.includes(head.data.schema))
    throw new JournalError(
      'newer',
      `${file} was written by a newer Peelpoint (schema ${shorten(head.data.schema)}; this one knows up to ${known.at(-1)}). Use the newer program.`,
    );
  return head.data.schema;
}

function parse(file: string, number: number, line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    throw damaged(file, `line ${number} is cut off or altered`);
  }
}

const damaged = (file: string, why: string): JournalError =>
  new JournalError('corrupt', `${file} cannot be read in: ${why}. Nothing was changed; use another copy.`);

function readRow(
  file: string,
  number: number,
  tables: readonly string[],
  value: readonly unknown[],
): { readonly table: TableName; readonly row: Row } {
  const [table, row] = value as [TableName, Record<string, unknown> | null];
  if (!tables.includes(table) || typeof row !== 'object' || row === null)
    throw damaged(file, `line ${number} is no row of a known table`);
  return {
    table,
    row: Object.fromEntries(
      Object.entries(row).map(([column, one]) => [
        column,
        typeof one === 'object' && one !== null && 'base64' in one
          ? Buffer.from(String(one.base64), 'base64')
          : (one as string | number | null),
      ]),
    ),
  };
}
