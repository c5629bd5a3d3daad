import { readFileSync } from 'node:fs';
import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import {
  checkJournal,
  countBreaksByHour,
  countBreaksByPosition,
  countByFrame,
  ensureMillZone,
  findCase,
  findComplaint,
  findDiagnosis,
  findPartHours,
  findPhoto,
  importJournal,
  type Journal,
  listSetups,
  openCase,
  openJournal,
  recordBreaks,
  restoreJournal,
  searchCases,
  setMillZone,
} from '../../src/journal/index.js';
import { storeOf } from '../../src/journal/store.js';
import { putRows, type Row, type TableName } from '../../src/journal/upkeep/row-pages.js';
import { by, describeOnBothEngines } from './engines.js';

/** Written by the program as it was when its schema ended with step 0005. */
const EXPORT = fileURLToPath(new URL('./data/export-0005.jsonl', import.meta.url));

/** What was in it, as the program of today tells it. */
async function expectWhole(journal: Journal): Promise<void> {
  expect(await findCase(journal, 'case-1')).toMatchObject({
    title: 'Ünusual “words” 线',
    state: 'closed',
    version: 4,
    findMinutes: 120,
    closure: { cause: 'nozzle-worn', outcome: 'confirmed' },
    cost: { rotorHours: 12.5 },
  });
  expect((await findDiagnosis(journal, 'case-1')).diagnosis).toMatchObject({ knowledgeVersion: 'v1' });
  expect((await searchCases(journal, { state: ['open'] })).rows.map((row) => row.id)).toEqual(['case-2']);
  const complaint = await findComplaint(journal, 'complaint-1');
  expect(complaint).toMatchObject({ customer: 'A knitter', cases: ['case-1'], frames: ['frame-1'] });
  const [photo] = complaint.photos;
  const served = await findPhoto(journal, photo?.id ?? '');
  expect(served).toMatchObject({ type: 'image/png', caption: 'The left side' });
  expect(served.bytes).toHaveLength(photo?.size ?? 0);
  expect(await listSetups(journal, 'frame-1')).toMatchObject([{ lot: 'lot-1', yarn: 'weft-20' }]);
  await setMillZone(journal, 'UTC', by());
  const period = { from: '2026-03-01T00:00:00Z', until: '2026-03-02T00:00:00Z' };
  expect(await countBreaksByPosition(journal, 'frame-1', period)).toHaveLength(3);
  expect(await countBreaksByHour(journal, 'frame-1', period)).toEqual([
    { hour: '2026-03-01T05:00:00.000Z', breaks: 2 },
    { hour: '2026-03-01T18:00:00.000Z', breaks: 1 },
  ]);
  expect(await countByFrame(journal, period)).toEqual([
    { frame: 'frame-1', count: 3, rotorHours: 150.25, source: 'events' },
    { frame: 'frame-2', count: 9, rotorHours: 160, source: 'counts' },
  ]);
  expect((await findPartHours(journal, 'frame-1', '2026-03-03T00:00:00Z'))[0]?.hours).toBeCloseTo(
    (150.25 + 80) / 8,
    9,
  );
  expect(await checkJournal(journal)).toMatchObject({ ok: true, casesChecked: 2 });
  // Work goes on: the next number, and the same post as then is still the same post.
  expect((await openCase(journal, { title: 'Next' }, by())).id).toBe('case-3');
  expect(
    await openCase(
      journal,
      { title: 'Still open', frame: 'frame-2' },
      by('2026-03-05T00:00:00Z', 'Ruth', 'post-0001'),
    ),
  ).toMatchObject({ id: 'case-2' });
  const again = [{ frame: 'frame-1', position: 1, at: '2026-03-01T05:10:00Z' }];
  expect(await recordBreaks(journal, 'b-2', again, by())).toMatchObject({ added: 0 });
}

describeOnBothEngines('a journal of an earlier version', (on) => {
  let scratch: string;
  beforeAll(async () => {
    scratch = await mkdtemp(join(tmpdir(), 'journal-older-'));
  });
  afterAll(() => rm(scratch, { recursive: true, force: true }));

  it('is brought up to date where it lies', async () => {
    const place = await on.newPlace();
    const then = await openJournal({ ...place, schemaStep: '0005-clients' });
    const lines = readFileSync(EXPORT, 'utf8').trim().split('\n').slice(1, -1);
    for (const line of lines) {
      const [table, row] = JSON.parse(line) as [TableName, Record<string, unknown>];
      const plain = Object.entries(row).map(([column, value]) => [
        column,
        typeof value === 'object' && value !== null && 'base64' in value
          ? Buffer.from(String(value.base64), 'base64')
          : value,
      ]);
      await putRows(storeOf(then).db, table, [Object.fromEntries(plain) as Row]);
    }
    await then.close();
    const now = await openJournal(place);
    await expectWhole(now);
    await now.close();
  });

  it('is read in from its export, into a journal that was only just made', async () => {
    const journal = await on.newJournal();
    await ensureMillZone(journal, 'Asia/Kolkata');
    const moved = await importJournal(journal, EXPORT);
    expect(moved.rows).toMatchObject({ cases: 2, complaints: 1, photos: 1, break_events: 4, settings: 1 });
    await expectWhole(journal);
    await expect(importJournal(journal, EXPORT)).rejects.toMatchObject({ fault: 'refused' });
  });

  it('comes back with restore, as its own program would have had it', async () => {
    const { journal } = await restoreJournal(EXPORT, await on.newPlace());
    await expectWhole(journal);
    await journal.close();
  });

  it('is refused when its export was altered or cut off, and nothing is left behind', async () => {
    const lines = readFileSync(EXPORT, 'utf8').trim().split('\n');
    const bad = join(scratch, `${on.engine}.jsonl`);
    const journal = await on.newJournal();
    for (const spoilt of [
      lines.slice(0, -3),
      lines.map((line, n) => (n === 3 ? line.replace(/\d/, '7') : line)),
      [
        ...lines.slice(0, 5),
        '["break_quarters",{"frame":"frame-1","quarter":1,"breaks":1}]',
        ...lines.slice(5),
      ],
    ]) {
      await writeFile(bad, `${spoilt.join('\n')}\n`);
      await expect(importJournal(journal, bad)).rejects.toMatchObject({ fault: 'corrupt' });
      expect((await searchCases(journal)).rows).toEqual([]);
    }
    await copyFile(EXPORT, bad);
    await importJournal(journal, bad);
    expect((await searchCases(journal)).rows).toHaveLength(2);
  });
});
