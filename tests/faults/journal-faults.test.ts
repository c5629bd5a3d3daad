import { chmodSync, mkdirSync, mkdtempSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Hono } from 'hono';
import { sql } from 'kysely';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import {
  addFrame,
  backUpJournal,
  checkJournal,
  findCase,
  JOURNAL_FILE,
  type Journal,
  JournalError,
  openCase,
  openJournal,
  recordStep,
  restoreJournal,
  searchCases,
} from '../../src/journal/index.js';
import { storeOf } from '../../src/journal/store.js';
import { createApp } from '../../src/server/app.js';
import { type JournalKeeper, keepJournal } from '../../src/server/journal/keeper.js';
import { formFields, page, post, testSite, textOf } from '../server/site.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-faults-'));
const keepers: JournalKeeper[] = [];
afterEach(async () => {
  vi.useRealTimers();
  for (const keeper of keepers.splice(0)) await keeper.close();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

const who = { who: 'Ruth' };
const SEEN = '/bench?frame=frame-3&observations.end-breaks=marked';
let folders = 0;

/** The pages over a journal in a new folder that holds one frame and one case. */
async function siteOn(folder = join(root, `f${++folders}`)) {
  const keeper = keepJournal({ folder }, { log: () => {}, retryMs: 0 });
  keepers.push(keeper);
  const state = await keeper.state();
  if (state.kind !== 'open') throw new Error(state.kind);
  const { journal } = state;
  await addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 8 }, who);
  const record = await openCase(journal, { title: 'Breaks on the left', frame: 'frame-1' }, who);
  const { diagnostician, mill } = testSite();
  const app = createApp({ diagnostician, mill, journal: keeper, log: () => {} });
  return { folder, file: join(folder, JOURNAL_FILE), journal, record, app };
}

const NOTE = 'Cleaned the groove of 17 and saw fibre dust';
/** Sends a note on the case, as the form of its page does. */
async function sendNote(app: Hono, page_: string, note = NOTE): Promise<Response> {
  const form = page_.slice(page_.indexOf('<form class="record"'));
  const action = /action="([^"]*)"/.exec(form)?.[1] ?? '';
  const fields = formFields(form.slice(0, form.indexOf('</form>'))).filter(
    ([name]) => name !== 'who' && name !== 'note',
  );
  return post(app, action.replace(/&amp;/g, '&'), [...fields, ['who', 'Ruth'], ['note', note]]);
}
const notePage = (app: Hono, id: string) => page(app, `/cases/${id}/record/noted`);
const notes = async (journal: Journal, id: string) =>
  (await findCase(journal, id)).entries.filter((entry) => entry.step === 'noted').length;

/** The page of a form that could not be recorded: says why, holds what was typed, and sends it again. */
async function expectKept(response: Response, words: RegExp): Promise<string> {
  const html = await response.text();
  expect(response.status, textOf(html)).toBe(503);
  expect(response.headers.get('Retry-After')).toBe('5');
  expect(textOf(html)).toMatch(words);
  expect(textOf(html)).toContain(NOTE);
  expect(html).toContain('Send it again');
  return html;
}
async function sendAgain(app: Hono, html: string): Promise<Response> {
  const form = html.slice(html.indexOf('<section class="kept-form"'));
  const action = /action="([^"]*)"/.exec(form)?.[1] ?? '';
  return post(app, action.replace(/&amp;/g, '&'), formFields(form.slice(0, form.indexOf('</form>'))));
}

describe('a full disk', () => {
  it('is said, the form is kept and recorded once there is room, and reading goes on', async () => {
    const { app, journal, record } = await siteOn();
    const form = await notePage(app, record.id);
    const { db } = storeOf(journal);
    // The file may not grow: SQLite answers as it does when the disk is full.
    await sql`pragma max_page_count = 1`.execute(db);
    // What is left of room goes in smaller and smaller pieces.
    for (const bytes of [3000, 1000, 200, 50]) {
      const fill = async () => {
        for (let n = 0; n < 300; n++)
          await sql`insert into meta (key, value) values (${`${bytes} ${n}`}, hex(randomblob(${bytes})))`.execute(
            db,
          );
      };
      await expect(fill()).rejects.toThrow(/full/);
    }
    const html = await expectKept(
      await sendNote(app, form, `${NOTE} ${'x'.repeat(3000)}`),
      /disk that holds the journal .* is full/,
    );
    expect(await notes(journal, record.id)).toBe(0);
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain('Breaks on the left');
    const api = await app.request('/api/v1/cases', { headers: { Authorization: 'Bearer peelpoint_x' } });
    expect(api.status).toBe(401);
    await sql`pragma max_page_count = 1000000`.execute(db);
    expect((await sendAgain(app, html)).status).toBe(303);
    expect(await notes(journal, record.id)).toBe(1);
    // The key of the form makes a second sending harmless.
    expect((await sendAgain(app, html)).status).toBe(303);
    expect(await notes(journal, record.id)).toBe(1);
  });
});

describe('a journal that may not be written', () => {
  it('is said, what was typed is kept, and reading goes on', async () => {
    const { app, journal, record } = await siteOn();
    const form = await notePage(app, record.id);
    const { db } = storeOf(journal);
    await sql`pragma query_only = 1`.execute(db);
    const html = await expectKept(await sendNote(app, form), /cannot be written/);
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain('Breaks on the left');
    await sql`pragma query_only = 0`.execute(db);
    expect((await sendAgain(app, html)).status).toBe(303);
    expect(await notes(journal, record.id)).toBe(1);
  });

  // Root writes wherever it wants; so the test gives its rights away for a moment.
  it('for lack of rights is said when it is opened, and taken up when the rights are there', async () => {
    const folder = join(root, 'no-rights');
    mkdirSync(folder);
    chmodSync(root, 0o755);
    chmodSync(folder, 0o555);
    const keeper = keepJournal({ folder }, { log: () => {}, retryMs: 0 });
    keepers.push(keeper);
    const { diagnostician, mill } = testSite();
    const app = createApp({ diagnostician, mill, journal: keeper, log: () => {} });
    const text = await asNobody(async () => textOf(await page(app, '/journal', 503)));
    expect(text).toMatch(/cannot be (written|opened)/);
    expect(text).toContain('no-rights');
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    chmodSync(folder, 0o777);
    await page(app, '/journal');
  });
});

/** Runs something without the rights of root, where the test has them. */
async function asNobody<T>(work: () => Promise<T>): Promise<T> {
  if (process.getuid?.() !== 0) return work();
  process.seteuid?.(65_534);
  try {
    return await work();
  } finally {
    process.seteuid?.(0);
  }
}

describe('a journal that another program has locked', () => {
  it('is said after a while, what was typed is kept, and reading goes on', async () => {
    const { app, file, journal, record } = await siteOn();
    const form = await notePage(app, record.id);
    const other = new Database(file);
    other.exec('begin immediate');
    vi.useFakeTimers({ toFake: ['performance'] });
    // Let its patience be over at once.
    const sending = sendNote(app, form);
    await new Promise((done) => setTimeout(done, 100));
    vi.advanceTimersByTime(60_000);
    const html = await expectKept(await sending, /locked by another program/);
    vi.useRealTimers();
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain('Breaks on the left');
    other.exec('rollback');
    other.close();
    expect((await sendAgain(app, html)).status).toBe(303);
    expect(await notes(journal, record.id)).toBe(1);
  });
});

describe('a damaged journal', () => {
  it('is said with the way to the backup, and the restored one is taken up without a new start', async () => {
    const { app, file, folder, journal, record } = await siteOn();
    const backup = join(root, `${record.id}.backup`);
    await backUpJournal(journal, backup);
    await sql`pragma wal_checkpoint(truncate)`.execute(storeOf(journal).db);
    // What lies in its place is another file from now on, as after a disk's repair.
    renameSync(file, `${file}.aside`);
    writeFileSync(file, 'x'.repeat(20_000));
    const text = textOf(await page(app, '/journal', 503));
    expect(text).toMatch(/damaged or is no journal/);
    expect(text).toContain('peelpoint restore FILE');
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    for (const name of readdirSync(folder)) rmSync(join(folder, name), { recursive: true });
    const { journal: back } = await restoreJournal(backup, { folder });
    await back.close();
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain('Breaks on the left');
  });

  it('in the middle of the file is found, and nothing is made of it', async () => {
    const { file, journal, folder } = await siteOn();
    for (let n = 0; n < 50; n++) await openCase(journal, { title: `Case ${n} ${'x'.repeat(190)}` }, who);
    await journal.close();
    const database = new Database(file);
    database.pragma('wal_checkpoint(truncate)');
    const pages = Number(database.pragma('page_count', { simple: true }));
    database.close();
    const { openSync, writeSync, closeSync } = await import('node:fs');
    const handle = openSync(file, 'r+');
    for (let n = 3; n < pages; n += 2) writeSync(handle, Buffer.alloc(2048, 0xff), 0, 2048, n * 4096);
    closeSync(handle);
    const found = await openJournal({ folder }).then(
      async (opened) => {
        const check = await checkJournal(opened).catch((error: unknown) => error);
        await opened.close();
        return check;
      },
      (error: unknown) => error,
    );
    const words = found instanceof JournalError ? found.message : JSON.stringify(found);
    expect(words).toMatch(/damaged/);
  });
});

describe('a journal whose file is taken away while the server runs', () => {
  it('is said, nothing is written where nobody finds it, no empty one takes its place, and it is taken up again', async () => {
    const { app, folder, record } = await siteOn();
    const form = await notePage(app, record.id);
    const aside = `${folder}-aside`;
    renameSync(folder, aside);
    mkdirSync(folder);
    const html = await expectKept(
      await sendNote(app, form),
      /was removed or moved while Peelpoint was running/,
    );
    await page(app, '/journal', 503);
    expect(readdirSync(folder)).toEqual([]);
    rmSync(folder, { recursive: true });
    renameSync(aside, folder);
    expect((await sendAgain(app, html)).status).toBe(303);
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain(NOTE);
  });
});

describe('a clock that is set back', () => {
  it('disturbs neither the order of a case nor the look at the frames', async () => {
    const { app, journal, record } = await siteOn();
    vi.useFakeTimers({ toFake: ['Date'], now: Date.now() - 3 * 3_600_000 });
    const later = await recordStep(
      journal,
      { id: record.id, seen: record.version },
      { step: 'check-made', check: 'nozzle-look', outcomes: ['polished'] },
      who,
    );
    const second = await openCase(journal, { title: 'Opened in the past' }, who);
    const detail = await findCase(journal, record.id);
    expect(detail.version).toBe(later.version);
    expect(detail.entries.map((entry) => entry.version)).toEqual([1, 2]);
    expect((await checkJournal(journal)).findings).toEqual([]);
    const { rows } = await searchCases(journal, {}, {});
    expect(rows.map((row) => row.id)).toContain(second.id);
    await addFrame(journal, { id: 'frame-77', name: 'Frame 77', positions: 8 }, who);
    expect(textOf(await page(app, `/cases/${record.id}`))).toContain('Breaks on the left');
  });
});
