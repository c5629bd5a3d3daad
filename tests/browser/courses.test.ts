import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { faultsInBothLooks } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

const folder = mkdtempSync(join(tmpdir(), 'peelpoint-courses-'));
let bench: Bench;
beforeAll(async () => {
  bench = await openBench({ folder, demo: false });
}, 240_000);
afterAll(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
});
// A page that says what is to be mended comes with a status that the browser notes.
afterEach(() => expect(bench.complaints().filter((line) => !/status of 422/.test(line))).toEqual([]));

/** Gives the course that is ready to a group, as a trainer would; its address. */
async function giveFirstHour(page: Page, group: string): Promise<string> {
  await page.getByRole('link', { name: 'Courses', exact: true }).click();
  await page.getByRole('heading', { name: 'Ready to be given: First hour' }).waitFor();
  await page.getByLabel('Group').fill(group);
  await page.getByLabel('Your name').fill('Ruth');
  await page.getByRole('button', { name: 'Give this course' }).click();
  await page.waitForURL(/\/training\/courses\/course-\d+$/);
  await page.getByRole('heading', { level: 1, name: 'First hour' }).waitFor();
  return new URL(page.url()).pathname;
}

/** Takes part under a name and begins the first practice case. */
async function beginCase(page: Page, name: string): Promise<void> {
  await page.getByLabel('Your name').fill(name);
  await page.getByRole('button', { name: 'Take part' }).click();
  await page.getByText('0 of 4 handed in').waitFor();
  await page.getByRole('link', { name: /^Begin.*Practice 1-2$/ }).click();
  await page.waitForURL(/\/training\/practice\?.*run=/);
}

async function propose(page: Page, cause: string, confidence: string): Promise<void> {
  await page.locator('#cause-1').selectOption(cause);
  await page.locator('input[name="confidence.1"]').fill(confidence);
  await page.getByRole('button', { name: 'Put forward' }).click();
  await page.waitForURL(new RegExp(`${cause}(=|%3D)${confidence}`));
}

describe('a class', () => {
  for (const scripting of [true, false])
    it(`is given, worked and looked at, ${scripting ? 'with' : 'without'} scripting`, async () => {
      const trainer = await bench.open('/training', { size: DESK, scripting });
      const path = await giveFirstHour(trainer, scripting ? 'Shift A' : 'Shift B');
      await trainer.getByRole('link', { name: 'Walk through the class' }).click();
      await trainer.getByRole('link', { name: 'Begin the class now' }).click();
      await trainer.getByText('minute 0 to 12').first().waitFor();
      if (scripting) await trainer.keyboard.press('ArrowRight');
      else await trainer.getByRole('link', { name: 'Next' }).click();
      await trainer.getByRole('heading', { level: 1, name: 'Case 1-7 on the wall' }).waitFor();

      const trainee = await bench.open(path, { size: PHONE, scripting });
      // Weighing takes its time where the machine has other things to do.
      trainee.setDefaultTimeout(60_000);
      await beginCase(trainee, 'Ada');
      await trainee.locator('summary', { hasText: 'Look and ask' }).click({ trial: true });
      await trainee.locator('button[name=check][value=repeats]').click();
      await trainee.waitForURL(/repeats/);
      await propose(trainee, 'nozzle-worn', '80');
      await trainee.getByRole('button', { name: 'Close and have it marked' }).click();
      await trainee.getByRole('heading', { name: 'What to do differently' }).waitFor({ timeout: 60_000 });
      expect(new URL(trainee.url()).pathname).toBe(`${path}/attempts/1`);
      await picture(trainee, `courses-marked-${scripting ? 'script' : 'plain'}`, true);
      await trainee.getByRole('link', { name: 'Report over all cases' }).click();
      await trainee.getByRole('heading', { level: 1, name: 'Report for Ada' }).waitFor();
      await trainee.getByText('You took “').waitFor();

      await trainer.goto(`${bench.server.address}${path}/progress`);
      await trainer.getByText('1 of 2').waitFor();
      expect(await trainer.locator('.mix-wrong').count()).toBe(1);
      const [file] = await Promise.all([
        trainer.waitForEvent('download'),
        trainer.getByRole('link', { name: 'CSV' }).click(),
      ]);
      expect(file.suggestedFilename()).toMatch(/^course-\d+\.csv$/);
      await trainee.context().close();
      await trainer.context().close();
    }, 180_000);

  it('loses nothing when the network drops in the middle of a case', async () => {
    const page = await bench.open('/training/courses/course-1', { size: PHONE });
    page.setDefaultTimeout(60_000);
    await beginCase(page, 'Ben');
    await page.locator('#cause-1').selectOption('rotor-local-dirt');
    await page.locator('input[name="confidence.1"]').fill('70');
    const address = page.url();
    await page.context().setOffline(true);
    await page.getByRole('button', { name: 'Put forward' }).click();
    await page.waitForURL(/^chrome-error:/);
    await page.context().setOffline(false);
    // The address holds everything that was handed over; nothing is half done.
    await page.goto(address);
    await propose(page, 'rotor-local-dirt', '70');
    expect(await page.locator('.moves > li').count()).toBe(1);
    // The same address, opened elsewhere, is the same practice.
    await page.reload();
    expect(await page.locator('.moves > li').count()).toBe(1);
    await page.getByRole('button', { name: 'Close and have it marked' }).click();
    await page.getByRole('heading', { name: 'What to do differently' }).waitFor();
    // Sent again, as a browser does after a lost answer: it counts once.
    await page.goBack();
    await page.getByRole('button', { name: 'Close and have it marked' }).click();
    await page.getByText('it counts once').waitFor();
    // What the browser says of the lost connection is what was asked for.
    expect(bench.complaints().every((line) => /ERR_INTERNET_DISCONNECTED/.test(line))).toBe(true);
    await page.context().close();
  }, 120_000);
});

describe('a trainer', () => {
  it('makes a course part by part with the keyboard', async () => {
    const page = await bench.open('/training/courses/new', { size: DESK });
    await page.getByLabel('What it is called').fill('Tension');
    await page.getByLabel('Your name').fill('Ruth');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/edit$/);
    for (const code of ['2-3', '3-1']) {
      await page.locator('select[name=what]').selectOption('case');
      await page.getByLabel('Number of the case').fill(code);
      await page.keyboard.press('Enter');
      await page.getByText(`Practice ${code}`, { exact: true }).waitFor();
    }
    await page.getByRole('button', { name: /^Earlier.*Practice 3-1$/ }).click();
    await page.getByRole('button', { name: /^Later.*Practice 3-1$/ }).waitFor();
    expect(await page.locator('.course-parts > li').first().textContent()).toContain('3-1');
    await page.context().close();
  }, 60_000);

  it('keeps a case of his own although the product does not agree', async () => {
    const page = await bench.open('/training/cases/new', { size: DESK });
    page.setDefaultTimeout(60_000);
    await page.getByLabel('What it is called').fill('Since the cleaning round');
    await page
      .getByLabel('Case with answer-key')
      .fill(
        'setup: {fibre: cotton, count: 20 Ne}\nobservations: {end-breaks: marked}\nanswer-key: {causes: [wax-fault]}\n',
      );
    await page.getByLabel('Your name').fill('Ruth');
    await page.getByRole('button', { name: 'Keep it' }).click();
    await page.getByRole('heading', { name: 'The key does not agree' }).waitFor({ timeout: 60_000 });
    await page.getByRole('button', { name: 'Keep it all the same' }).click();
    await page.waitForURL(/\/training\/cases\/own-1$/, { timeout: 60_000 });
    await page.getByRole('link', { name: 'Practise it' }).click();
    await page.getByRole('heading', { level: 1, name: 'Since the cleaning round' }).waitFor();
    await page.context().close();
  }, 120_000);
});

const PAGES: Readonly<Record<string, string>> = {
  courses: '/training/courses',
  course: '/training/courses/course-1',
  edit: '/training/courses/course-1/edit',
  progress: '/training/courses/course-1/progress',
  report: '/training/courses/course-1/report?trainee=Ada',
  attempt: '/training/courses/course-1/attempts/1',
  class: '/training/courses/course-1/class?at=3&began=1700000000000',
  handout: '/training/courses/course-1/handout',
  lesson: '/training/lessons/false-twist?course=course-1&part=part-1&q1=0&missing=yes',
  'practice cases': '/training/cases',
  'practice case': '/training/cases/own-1',
  'new case': '/training/cases/new',
};

describe('the pages of courses are accessible', () => {
  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/training/courses');
  });
  for (const [name, path] of Object.entries(PAGES))
    it(name, async () => {
      await page.goto(`${bench.server.address}${path}`);
      const shown = (look: string) => picture(page, `courses-${name}-${look}`.replace(/ /g, '-'), true);
      expect(await faultsInBothLooks(page, shown)).toEqual([]);
      // A classroom need not have the internet: nothing is fetched from anywhere else, in neither look.
      const fetched = await page.evaluate(() =>
        performance.getEntriesByType('resource').map((entry) => new URL(entry.name).origin),
      );
      expect(fetched.length).toBeGreaterThan(0);
      expect(new Set(fetched)).toEqual(new Set([bench.server.address]));
    }, 60_000);
});
