import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { addToken, buildDemoMill, openJournal } from '../../src/journal/index.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { API_BASE } from '../../src/server/api/app.js';
import { createApp } from '../../src/server/app.js';
import { demoEngine } from '../../src/server/journal/demo-engine.js';
import { openedJournal } from '../../src/server/journal/keeper.js';
import { loadBase } from '../../src/server/loaded-base.js';
import { rememberAnswers } from '../../src/server/remember.js';
import { ORIGIN } from './crawl.js';
import type { WalkedApp } from './route-targets.js';

/** The app over a small demonstration mill, with a token and addresses of things that are there. */
export async function openWalkedApp(): Promise<
  WalkedApp & { readonly log: readonly string[]; close(): Promise<void> }
> {
  const { knowledge, mill, vignettes, books } = loadBase(defaultKnowledgeFolder());
  const diagnostician = rememberAnswers(createDiagnostician(knowledge));
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-fuzz-'));
  const journal = await openJournal({ folder });
  await buildDemoMill(journal, demoEngine(diagnostician, mill), {
    cases: 16,
    rankings: 6,
    days: 60,
    eventDays: 1,
  });
  const log: string[] = [];
  const app = createApp({
    diagnostician,
    mill,
    vignettes,
    books,
    journal: openedJournal(journal, true),
    log: (line) => log.push(line),
  });
  const site = {
    app,
    journal,
    close: async () => {
      await journal.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
  const { secret: token } = await addToken(site.journal, 'planning');
  const listed = async (path: string, key: string): Promise<string> => {
    const response = await site.app.request(`${ORIGIN}${API_BASE}${path}`, {
      headers: { Authorization: `Bearer ${token}` },
    });
    const answer = (await response.json()) as { rows: Record<string, string>[] } | Record<string, string>[];
    return (Array.isArray(answer) ? answer : answer.rows)[0]?.[key] ?? 'none';
  };
  const frame = await listed('/frames', 'id');
  const one = await listed('/cases', 'id');
  const complaint = await listed('/complaints', 'id');
  const yarn = await listed('/yarns', 'id');
  const lot = await listed('/lots', 'id');
  const starts = [
    `/frames/${frame}`,
    `/frames/${frame}/history`,
    `/frames/${frame}/changes`,
    `/frames/${frame}/part-hours`,
    `/frames/${frame}/setups`,
    `/yarns/${yarn}`,
    `/lots/${lot}`,
    `/cases/${one}`,
    `/cases/${one}/steps`,
    `/cases/${one}/corrections`,
    `/cases/${one}/diagnoses`,
    `/cases/${one}/diagnoses/1`,
    `/complaints/${complaint}`,
    `/complaints/${complaint}/steps`,
    `/complaints/${complaint}/photos`,
    '/quality/offenders/frame',
  ].map((path) => `${API_BASE}${path}`);
  return { app: site.app, token, starts, log, close: () => site.close() };
}
