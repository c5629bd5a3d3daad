import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  buildDemoMill,
  checkJournal,
  countJournal,
  type DemoReport,
  findCase,
  findComplaint,
  type Journal,
  listFrames,
  measureHits,
  openJournal,
  rankRootCauses,
  readMarks,
  searchCases,
  searchComplaints,
  whatChangedLately,
} from '../../src/journal/index.js';
import { productEngine } from './product-engine.js';

const folders: string[] = [];
const journals: Journal[] = [];
afterAll(async () => {
  for (const journal of journals) await journal.close();
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});
async function build(seed: number): Promise<{ journal: Journal; report: DemoReport }> {
  const folder = mkdtempSync(join(tmpdir(), 'journal-demo-'));
  folders.push(folder);
  const journal = await openJournal({ folder });
  journals.push(journal);
  const report = await buildDemoMill(journal, productEngine(), {
    seed,
    until: '2026-11-25T00:00:00Z',
    days: 200,
    cases: 60,
    rankings: 6,
    eventDays: 1,
  });
  return { journal, report };
}

describe('the invented mill', () => {
  let journal: Journal;
  let report: DemoReport;
  beforeAll(async () => {
    ({ journal, report } = await build(7));
  });

  it('is marked as such and holds what its report says', async () => {
    expect((await readMarks(journal)).demo).toMatchObject({ seed: 7 });
    expect(report).toMatchObject({ frames: 12, cases: 60, rankings: 6 });
    const { rows } = await countJournal(journal);
    expect(rows).toMatchObject({
      frames: 12,
      cases: 60,
      diagnoses: 6,
      setups: report.setups,
      complaints: report.complaints,
    });
    expect(rows.break_events).toBeLessThanOrEqual(report.breakEvents);
    expect(await listFrames(journal)).toHaveLength(12);
  });

  it('is a sound journal whose cases were recorded step by step', async () => {
    expect(await checkJournal(journal)).toMatchObject({ ok: true, casesChecked: 60 });
    const closed = await searchCases(journal, { outcome: 'confirmed' }, { size: 200 });
    expect(closed.rows.length).toBeGreaterThan(30);
    for (const row of closed.rows) expect((await findCase(journal, row.id)).steps.length).toBeGreaterThan(2);
    expect((await rankRootCauses(journal)).rows.length).toBeGreaterThan(8);
    expect((await measureHits(journal)).cases).toBeGreaterThan(0);
  });

  it('has complaints that lead to frames and cases', async () => {
    const { rows } = await searchComplaints(journal);
    expect(rows.length).toBe(report.complaints);
    const [first] = rows.filter((row) => row.state === 'closed');
    const detail = await findComplaint(journal, first?.id ?? '');
    expect(detail.frames.length).toBeGreaterThan(0);
    expect(detail.cases).toContain(detail.rootCause?.case);
  });

  it('leaves something to go on with: open cases and a complaint of the last days', async () => {
    const open = (
      await searchCases(journal, { state: ['open', 'checking', 'acting', 'on-trial', 'tried'] }, { size: 50 })
    ).rows;
    const late = open.filter((row) => row.openedAt > '2026-11-23T00:00:00Z');
    expect(late.length).toBeGreaterThanOrEqual(2);
    expect(late.map((row) => row.state)).toContain('acting');
    for (const row of late) expect((await findCase(journal, row.id)).diagnoses).toHaveLength(1);
    const complaints = (await searchComplaints(journal, { state: ['open', 'contained'] })).rows;
    expect(complaints.filter((row) => row.receivedAt > '2026-11-23T00:00:00Z')).toHaveLength(1);
  });

  it('has changes of setups behind it', async () => {
    const lately = await whatChangedLately(journal, 'frame-1', '2026-09-01T00:00:00Z');
    expect(lately.changed).toContain('lot');
  });

  it('goes only into an empty journal, and is the same for the same seed', async () => {
    await expect(buildDemoMill(journal, productEngine(), { cases: 1 })).rejects.toThrow('not empty');
    const again = await build(7);
    const titles = async (one: Journal) =>
      (await searchCases(one, {}, { size: 200 })).rows.map((row) => [
        row.title,
        row.openedAt,
        row.closure?.cause,
      ]);
    expect(await titles(again.journal)).toEqual(await titles(journal));
    expect(again.report).toEqual(report);
  });
});
