import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Hono } from 'hono';
import { buildDemoMill, type Journal, moveJournal, openJournal } from '../../../src/journal/index.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../../src/rules/diagnostician.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { loadMill } from '../../../src/rules/knowledge/load-mill.js';
import { type AppParts, createApp } from '../../../src/server/app.js';
import { demoEngine } from '../../../src/server/journal/demo-engine.js';
import { openedJournal } from '../../../src/server/journal/keeper.js';
import { rememberAnswers } from '../../../src/server/remember.js';
import { sharedPostgres } from '../../journal/postgres.js';
import { madeOnce } from '../../shared/folder.js';
import { formFields, post } from '../site.js';

export interface JournalSite {
  readonly app: Hono;
  readonly journal: Journal;
  readonly folder: string;
  readonly diagnostician: Diagnostician;
  readonly log: string[];
  close(): Promise<void>;
}

/** Moves a journal into a new PostgreSQL, which is quicker than writing it there step by step. */
async function toPostgres(from: Journal): Promise<Journal> {
  const postgres = await sharedPostgres();
  const journal = await openJournal({ url: await postgres.newDatabase() });
  await moveJournal(from, journal);
  await from.close();
  return journal;
}

/** The folder of a journal with a small demonstration mill, made once a run; to be copied, not opened. */
const smallMill = (): Promise<string> =>
  madeOnce('small-mill', async (folder) => {
    const journal = await openJournal({ folder });
    const diagnostician = createDiagnostician(loadKnowledge());
    const mill = loadMill(defaultKnowledgeFolder(), diagnostician.vocabulary);
    await buildDemoMill(journal, demoEngine(diagnostician, mill), {
      cases: 60,
      rankings: 12,
      days: 240,
      eventDays: 2,
    });
    await journal.close();
  });

/** The app over a journal in a folder of its own, filled with a small demonstration mill or left empty. */
export async function openJournalSite(
  filled = true,
  parts: (journal: Journal) => Partial<AppParts> = () => ({}),
  engine: Journal['engine'] = 'sqlite',
): Promise<JournalSite> {
  const diagnostician = rememberAnswers(createDiagnostician(loadKnowledge()));
  const mill = loadMill(defaultKnowledgeFolder(), diagnostician.vocabulary);
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-desk-'));
  if (filled) cpSync(await smallMill(), folder, { recursive: true });
  let journal = await openJournal({ folder });
  if (engine === 'postgresql') journal = await toPostgres(journal);
  const log: string[] = [];
  return {
    app: createApp({
      diagnostician,
      mill,
      journal: openedJournal(journal, filled),
      log: (line) => log.push(line),
      ...parts(journal),
    }),
    journal,
    folder,
    diagnostician,
    log,
    close: async () => {
      await journal.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** The fields of the page's form with some filled in, as a browser would send them; areas and dates too. */
export function fill(html: string, values: Readonly<Record<string, string>>): [string, string][] {
  const main = html.slice(html.indexOf('<form class="record"'));
  const form = main.slice(0, main.indexOf('</form>'));
  const areas = [...form.matchAll(/<textarea[^>]*\bname="([^"]*)"[^>]*>(.*?)<\/textarea>/gs)].map(
    ([, name = '', text = '']): [string, string] => [name, text],
  );
  const own = [...formFields(form), ...areas].filter(([name]) => values[name] === undefined);
  return [...own, ...Object.entries(values)];
}

/** Opens a page, fills its form in and sends it. */
export async function send(
  app: Hono,
  path: string,
  values: Readonly<Record<string, string>>,
): Promise<Response> {
  const html = await (await app.request(`http://plant.test${path}`)).text();
  const main = html.slice(html.indexOf('<form class="record"'));
  const action = /action="([^"]*)"/.exec(main)?.[1] ?? '';
  return post(app, action.replace(/&amp;/g, '&'), fill(html, values));
}
