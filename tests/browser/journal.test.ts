import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { buildDemoMill, openJournal } from '../../src/journal/index.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { loadMill } from '../../src/rules/knowledge/load-mill.js';
import { demoEngine } from '../../src/server/journal/demo-engine.js';
import { faultsInBothLooks } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-journeys-'));
  const journal = await openJournal({ folder });
  const diagnostician = createDiagnostician(loadKnowledge());
  const mill = loadMill(defaultKnowledgeFolder(), diagnostician.vocabulary);
  await buildDemoMill(journal, demoEngine(diagnostician, mill), {
    cases: 70,
    rankings: 24,
    days: 240,
    eventDays: 2,
  });
  await journal.close();
  bench = await openBench({ folder, demo: false });
});
afterAll(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
});
afterEach(() => expect(bench.complaints()).toEqual([]));

const WAYS = [
  ['phone, with scripting', PHONE, true],
  ['phone, without', PHONE, false],
  ['desk, with scripting', DESK, true],
  ['desk, without', DESK, false],
] as const;
const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();
const follow = (page: Page, name: string | RegExp) => page.getByRole('link', { name }).first().click();

for (const [name, size, scripting] of WAYS) {
  describe(name, () => {
    it('a supervisor opens a case from the bench, works on it and closes it', async () => {
      const page = await bench.open('/', { size, scripting });
      await follow(page, /^Frame 3\b/);
      await page.locator('input[name="observations.end-breaks"][value=marked]').check();
      await page.locator('input[name="scope"][value=position]').check();
      if (scripting) await page.locator('#answer .open-case').waitFor();
      else await press(page, 'Work it out');
      await follow(page, 'Open a case with this');
      await page.getByRole('heading', { name: 'Open a case', exact: true }).waitFor();
      expect(await page.locator('#f-title').inputValue()).toContain('end breaks');
      await page.locator('#f-position').fill('12');
      // The name is asked for, and what was typed stays.
      await press(page, 'Open the case');
      await page.locator('.error-summary').waitFor();
      expect(await page.locator('#f-position').inputValue()).toBe('12');
      // The refused form is a 422 to the console, and rightly so.
      expect(bench.complaints().every((line) => line.includes('422'))).toBe(true);
      await page.locator('#f-who').fill('Asha, shift A');
      await press(page, 'Open the case');
      await page.getByText(/^Case \d+: Open$/).waitFor();
      await picture(page, `case-open-${size.width}-${scripting}`, true);
      await page.getByRole('heading', { name: 'Look at this next' }).waitFor();
      await page.locator('.plain.big a').first().click();
      await page.locator('.caution').first().waitFor();
      // The name is remembered.
      expect(await page.locator('#f-who').inputValue()).toBe('Asha, shift A');
      const boxes = page.locator('input[name=outcomes]');
      if ((await boxes.count()) > 0) await boxes.first().check();
      else await page.locator('input[name=result]').first().check();
      await page.locator('#f-minutes').fill('10');
      await press(page, 'Record the check');
      await page.getByText(/^Case \d+: Being looked into$/).waitFor();
      await follow(page, 'An action');
      await follow(page, 'Clean the rotor groove');
      await page.locator('#f-done').fill('Groove wiped, a husk taken out');
      await press(page, 'Record the action');
      await page.getByText(/^Case \d+: Action taken$/).waitFor();
      await follow(page, 'Close the case');
      await page.locator('#f-cause').selectOption('rotor-local-dirt');
      await page.locator('input[name=how][value=by-look]').check();
      await page.locator('input[name=symptomGone][value=yes]').check();
      await page.locator('#f-cost-rotorHours').fill('2,5');
      await press(page, 'Close the case');
      await page.getByText(/^Case \d+: Closed$/).waitFor();
      await page.getByRole('heading', { name: /^Root cause: A particle or lump/ }).waitFor();
      await picture(page, `case-closed-${size.width}-${scripting}`, true);
      await follow(page, 'Report on one page, to print');
      await page.getByText('Groove wiped, a husk taken out').waitFor();
      await page.context().close();
    });

    it('quality logs a complaint, finds its root cause in a case, and answers what was asked in three clicks', async () => {
      const page = await bench.open('/complaints', { size, scripting });
      await follow(page, 'Log a complaint');
      await page.locator('#f-customer').fill('Moorgate Knitters');
      await page.locator('#f-fabricFault').fill('barré in single jersey');
      await page.locator('#f-claimedKg').fill('240');
      await page.locator('#f-yarn').selectOption({ label: 'Cotton 20 Ne for knitting, soft twist' });
      await page.locator('#f-spunFrom').fill('2026-06-01');
      await page.locator('#f-who').fill('Mei, quality');
      await press(page, 'Log the complaint');
      await page.getByText(/^Complaint \d+: Open$/).waitFor();
      // The cases that were open while it was spun stand there; one of them names the cause.
      expect(await page.locator('#linked-cases tbody tr').count()).toBeGreaterThan(1);
      await page.locator('a[href$="/record/root-cause"]').click();
      const found = page.locator('#f-cause option', { hasText: 'found in a linked case' });
      const cause = (await found.first().getAttribute('value')) ?? '';
      const label = ((await found.first().textContent()) ?? '').replace(' (found in a linked case)', '');
      await page.locator('#f-cause').selectOption(cause);
      await page.locator('#f-text').fill('Traced to the frame and put right the same day.');
      await press(page, 'Keep the root cause');
      await page.getByText(/^Complaint \d+: Root cause found$/).waitFor();
      await picture(page, `complaint-${size.width}-${scripting}`, true);
      // Journal, yarn: the answer; one more click: the evidence.
      await page.getByRole('navigation', { name: 'Main' }).getByRole('link', { name: 'Journal' }).click();
      await follow(page, 'Cotton 20 Ne for knitting, soft twist');
      const answer = page.locator('#answer');
      await answer.waitFor();
      expect(await answer.textContent()).toMatch(
        /In the last 6 months there (was|were) \d+ complaints? on Cotton 20 Ne/,
      );
      expect(await answer.textContent()).toContain('Fixed: ');
      await picture(page, `quality-${size.width}-${scripting}`, true);
      await page.locator('#complaint-causes').getByRole('link', { name: label, exact: true }).click();
      await page.getByRole('link', { name: 'Barré in single jersey' }).first().waitFor();
      await page.context().close();
    });

    it('a bar of the root causes leads to its cases', async () => {
      const page = await bench.open('/quality?months=all', { size, scripting });
      const bar = page.locator('.pareto-link').first();
      const [, label = '', value = ''] =
        /^(.*): (\d+)$/.exec((await bar.locator('title').textContent()) ?? '') ?? [];
      await bar.click();
      await page.getByRole('heading', { name: 'Cases', exact: true }).waitFor();
      expect(await page.locator('#cases tbody tr').count()).toBe(Number(value));
      expect(await page.locator('#cases').textContent()).toContain(label);
      await page.locator('#cases tbody a').first().click();
      await page.getByRole('heading', { name: `Root cause: ${label}` }).waitFor();
      await page.context().close();
    });
  });
}

describe('two at one case', () => {
  it('the later one is told what the other wrote, keeps the own text and can send it after all', async () => {
    const asha = await bench.open('/cases');
    await asha.locator('#cases tbody a').first().click();
    await asha.waitForURL('**/cases/case-*');
    const address = new URL(asha.url()).pathname;
    await asha.goto(`${bench.server.address}${address}/record/noted`);
    const chen = await bench.open(`${address}/record/noted`);
    for (const [page, who, note] of [
      [chen, 'Chen', 'The nozzle was changed at noon.'],
      [asha, 'Asha', 'The lot was changed at noon.'],
    ] as const) {
      await page.locator('#f-note').fill(note);
      await page.locator('#f-who').fill(who);
      await press(page, 'Keep the note');
      await page.waitForLoadState();
    }
    const told = asha.locator('.error-summary');
    await told.waitFor();
    expect(await told.textContent()).toContain('The nozzle was changed at noon.');
    expect(await told.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(await asha.locator('#f-note').inputValue()).toBe('The lot was changed at noon.');
    await press(asha, 'Keep the note');
    await asha.waitForURL(`**${address}#step-*`);
    expect(await asha.locator('.history').textContent()).toContain('The nozzle was changed at noon.');
    await asha.context().close();
    await chen.context().close();
    // The refused note is a 409 to the console, and rightly so.
    expect(bench.complaints().every((line) => line.includes('409'))).toBe(true);
  });
});

describe('every page of the journal is accessible', () => {
  const PAGES = [
    '/journal',
    '/frames',
    '/frames/frame-3',
    '/frames/frame-3/setup',
    '/frames/new',
    '/cases?state=closed',
    '/cases/case-70',
    '/cases/case-70/record/closed',
    '/cases/case-70/again',
    '/cases/case-70/diagnoses/1',
    '/cases/case-70/report',
    '/cases/new?frame=frame-3&observations.hairy=marked',
    '/complaints',
    '/complaints/complaint-3',
    '/complaints/complaint-3/record/root-cause',
    '/complaints/complaint-3/letter',
    '/quality?months=all',
    '/learning',
    '/parts?used=1',
    '/settings/mill',
  ];

  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/journal');
  });

  it.each(PAGES)('%s', async (path) => {
    const response = await page.goto(`${bench.server.address}${path}`);
    expect(response?.status()).not.toBe(404);
    expect(await faultsInBothLooks(page)).toEqual([]);
  });
});
