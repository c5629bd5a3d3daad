import { createHash, type Hash } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import { translateError } from '../engines/translate-error.js';
import { SCHEMA_STEPS } from '../migrations/steps.js';
import { type Journal, storeOf } from '../store.js';
import { presentInstant } from '../time.js';
import { countRows, type Row, type RowCounts, rowPages, TABLE_NAMES } from './row-pages.js';
import { readSnapshot } from './snapshot.js';

/** Name of the format in the first line of an export. */
export const EXPORT_FORMAT = 'peelpoint-journal';
export const EXPORT_VERSION = 1;

/** What an export or import moved. */
export interface Moved {
  readonly rows: RowCounts;
  readonly total: number;
}

/**
 * Writes the whole journal to a file, one JSON object a line, as it is at one moment; work goes on meanwhile. The first
 * line says what it is, each further line holds a table's name and a row (bytes as base64), the last line the counts
 * and the SHA-256 of all lines before it. The file takes its name only when it is complete and on the disk.
 *
 * The same format serves both engines, so it is the way from one to the other and the backup of PostgreSQL without any
 * tool of its own.
 */
export async function exportJournal(journal: Journal, file: string): Promise<Moved> {
  const draft = `${file}.part`;
  try {
    const handle = await open(draft, 'w');
    try {
      const moved = await readSnapshot(journal, async (db) => {
        const hash = createHash('sha256');
        const line = (value: unknown) => writeLine(handle, hash, value);
        await line({
          format: EXPORT_FORMAT,
          version: EXPORT_VERSION,
          schema: Object.keys(SCHEMA_STEPS).at(-1),
          at: presentInstant(),
        });
        const rows: Record<string, number> = {};
        for (const table of TABLE_NAMES) {
          rows[table] = 0;
          for await (const page of rowPages(db, table)) {
            await handle.appendFile(
              digest(hash, page.map((row) => `${JSON.stringify([table, writeRow(row)])}\n`).join('')),
            );
            rows[table] += page.length;
          }
        }
        const sha256 = hash.copy().digest('hex');
        await line({ end: true, rows, sha256 });
        return { rows, total: sum(rows) };
      });
      await handle.sync();
      await handle.close();
      await rename(draft, file);
      return moved;
    } finally {
      await handle.close().catch(() => undefined);
    }
  } catch (error) {
    await rm(draft, { force: true });
    throw translateError(error, file);
  }
}

const sum = (rows: RowCounts): number => Object.values(rows).reduce((total, count) => total + count, 0);

function digest(hash: Hash, text: string): string {
  hash.update(text);
  return text;
}

async function writeLine(
  handle: { appendFile(text: string): Promise<void> },
  hash: Hash,
  value: unknown,
): Promise<void> {
  await handle.appendFile(digest(hash, `${JSON.stringify(value)}\n`));
}

/** Bytes become `{"base64": …}`; everything else is JSON already. */
const writeRow = (row: Row): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(row).map(([column, value]) => [
      column,
      value instanceof Uint8Array ? { base64: Buffer.from(value).toString('base64') } : value,
    ]),
  );

/** How many rows the journal holds, by table. */
export async function countJournal(journal: Journal): Promise<Moved> {
  const { db, place } = storeOf(journal);
  try {
    const rows = await countRows(db);
    return { rows, total: sum(rows) };
  } catch (error) {
    throw translateError(error, place);
  }
}
