import { existsSync } from 'node:fs';
import { copyFile, open, rename, rm } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import Database from 'better-sqlite3';
import { sql } from 'kysely';
import { endEverySession } from '../accounts/sessions.js';
import { translateError } from '../engines/translate-error.js';
import { JournalError } from '../errors.js';
import { JOURNAL_FILE, makeDataFolder, openJournal } from '../open-journal.js';
import { type Journal, storeOf } from '../store.js';
import { PASSING_TABLES } from '../tables.js';
import { countJournal, exportJournal, type Moved } from './export.js';
import { importJournal } from './import.js';

/** Characters that a message repeats of what the engine says of a damaged file. */
const MOST_REPEATED = 200;

/** A backup that was made and looked at. */
export interface Backup extends Moved {
  readonly file: string;
  /** A SQLite database, or an export with one JSON object a line. */
  readonly kind: 'sqlite' | 'jsonl';
}

/**
 * Backs the journal up to a file while it is in use: a SQLite database from SQLite, an export ({@link exportJournal})
 * from PostgreSQL. The file is checked and on the disk before it takes its name; an existing file is not overwritten.
 * @throws JournalError `refused` when the file exists
 */
export async function backUpJournal(journal: Journal, file: string): Promise<Backup> {
  const target = resolve(file);
  if (existsSync(target))
    throw new JournalError(
      'refused',
      `The file ${target} exists already. Choose another name for the backup.`,
    );
  const { db, engine, place } = storeOf(journal);
  if (engine === 'postgresql')
    return { ...(await exportJournal(journal, target)), file: target, kind: 'jsonl' };
  const draft = `${target}.part`;
  await rm(draft, { force: true });
  try {
    await sql`vacuum into ${draft}`.execute(db);
    const moved = checkFile(draft);
    await syncFile(draft);
    await rename(draft, target);
    await syncFile(dirname(target));
    return { ...moved, file: target, kind: 'sqlite' };
  } catch (error) {
    await rm(draft, { force: true });
    throw translateError(error, error instanceof Error && 'path' in error ? target : place);
  }
}

/**
 * Puts a backup of either kind into a data folder or database that holds no journal yet, and opens it.
 * @param to as for {@link openJournal}
 * @throws JournalError `refused` when there is a journal already; `corrupt` when the backup is damaged; `missing`
 */
export async function restoreJournal(
  file: string,
  to: { readonly url?: string | undefined; readonly folder?: string | undefined },
): Promise<{ readonly journal: Journal; readonly moved: Moved }> {
  const source = resolve(file);
  if (!existsSync(source))
    throw new JournalError('missing', `There is no backup at ${source}. Check the name of the file.`);
  const sqlite = await isSqlite(source);
  const intoFile = to.url === undefined || to.url === '';
  if (!sqlite) return openAndFill(to, (journal) => importJournal(journal, source));
  checkFile(source);
  if (!intoFile)
    throw new JournalError(
      'refused',
      `${source} is a SQLite backup and cannot go into PostgreSQL as it is. Restore it into a data folder, then move that journal.`,
    );
  const folder = resolve(to.folder ?? 'data');
  const target = join(folder, JOURNAL_FILE);
  // A write-ahead log left behind would be applied to the restored file.
  const present = ['', '-wal', '-shm'].map((ending) => `${target}${ending}`).find((one) => existsSync(one));
  if (present !== undefined)
    throw new JournalError(
      'refused',
      `There is a journal already: ${present}. Move it aside (the file and its -wal and -shm), then restore.`,
    );
  try {
    makeDataFolder(folder);
    const draft = `${target}.part`;
    await copyFile(source, draft);
    await syncFile(draft);
    await rename(draft, target);
    await syncFile(folder);
  } catch (error) {
    throw translateError(error, target);
  }
  const journal = await openJournal({ folder });
  await endEverySession(journal);
  return { journal, moved: await countJournal(journal) };
}

async function openAndFill(
  to: { readonly url?: string | undefined; readonly folder?: string | undefined },
  fill: (journal: Journal) => Promise<Moved>,
): Promise<{ readonly journal: Journal; readonly moved: Moved }> {
  const journal = await openJournal(to);
  try {
    return { journal, moved: await fill(journal) };
  } catch (error) {
    await journal.close();
    throw error;
  }
}

/** Looks a SQLite file through and counts its rows. @throws JournalError `corrupt` */
function checkFile(file: string): Moved {
  let database: Database.Database | undefined;
  try {
    database = new Database(file, { readonly: true, fileMustExist: true });
    // The first fault says enough; one of them can fill lines.
    const found = String(database.pragma('integrity_check(1)', { simple: true }));
    if (found !== 'ok')
      throw new JournalError('corrupt', `The file ${file} is damaged: ${found.slice(0, MOST_REPEATED)}.`);
    const tables = database
      .prepare<[], { name: string }>("select name from sqlite_master where type = 'table' order by name")
      .all();
    if (!tables.some(({ name }) => name === 'schema_steps'))
      throw new JournalError('corrupt', `The file ${file} is no journal.`);
    const rows: Record<string, number> = {};
    for (const { name } of tables.filter(
      (table) => !/^(schema|sqlite)_/.test(table.name) && !PASSING_TABLES.includes(table.name as never),
    ))
      rows[name] =
        database.prepare<[], { count: number }>(`select count(*) as count from "${name}"`).get()?.count ?? 0;
    return { rows, total: Object.values(rows).reduce((total, count) => total + count, 0) };
  } catch (error) {
    throw translateError(error, file);
  } finally {
    database?.close();
  }
}

async function isSqlite(file: string): Promise<boolean> {
  const handle = await open(file, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(16), 0, 16, 0);
    return bytesRead === 16 && buffer.toString('latin1') === 'SQLite format 3\0';
  } finally {
    await handle.close();
  }
}

async function syncFile(path: string): Promise<void> {
  const handle = await open(path, 'r');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
