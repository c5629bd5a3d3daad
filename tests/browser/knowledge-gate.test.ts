import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openJournal } from '../../src/journal/index.js';
import { removeSmallKnowledge, writeSmallKnowledge } from '../rules/workshop/small-knowledge.js';
import { closeSmallCases } from '../server/journal/closed-cases.js';
import { pageFaults } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
let folder: string;
let root: string;
let file: string;
const log: string[] = [];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-gate-'));
  root = writeSmallKnowledge();
  file = join(root, 'causes/worn.yaml');
  const journal = await openJournal({ folder });
  await closeSmallCases(journal, root, 12);
  await journal.close();
  bench = await openBench({ folder, demo: false }, undefined, {
    knowledgeRoot: root,
    log: (line) => log.push(line),
  });
}, 120_000);
afterAll(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
  removeSmallKnowledge();
});

const write = (base: string) =>
  writeFileSync(file, readFileSync(file, 'utf8').replace(/base: [\d.]+/, `base: ${base}`));
/** Opens a page again until it says something. */
async function until(page: Page, path: string, text: string | RegExp): Promise<void> {
  for (let tries = 0; tries < 100; tries++) {
    await page.goto(`${bench.server.address}${path}`);
    if ((await page.getByText(text).count()) > 0) return;
    await page.waitForTimeout(200);
  }
  throw new Error(`${path} never said ${text}`);
}
it.each([
  ['phone, without scripting', PHONE, false],
  ['desk, with scripting', DESK, true],
] as const)(
  '%s: a worse version is held back, looked at and accepted; a better one passes by itself',
  async (_, size, scripting) => {
    const page = await bench.open('/', { size, scripting });
    write('0.0006');
    await until(page, '/', /is held back/);
    await page.getByRole('link', { name: 'Look and decide' }).click();
    await page.getByRole('heading', { name: /^Version \w+ is held back$/ }).waitFor();
    await page.getByText(/^The mean log score falls by/).waitFor();
    expect(await page.locator('#worse tbody tr').count()).toBeGreaterThan(0);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    if (scripting) expect(await pageFaults(page)).toEqual([]);
    await picture(page, `knowledge-held-${size.width}-${scripting}`, true);

    await page.locator('#f-who').fill('Ruth, technologist');
    await page.getByRole('button', { name: 'Use it all the same' }).click();
    await page.locator('.error-summary').waitFor();
    expect(await page.locator('#f-who').inputValue()).toBe('Ruth, technologist');
    await page.locator('#f-note').fill('These cases were taken on a frame since scrapped.');
    await page.getByRole('button', { name: 'Use it all the same' }).click();
    await page
      .getByText(/in use from .*accepted by Ruth, technologist/)
      .first()
      .waitFor();
    expect(await page.getByText(/is held back$/).count()).toBe(0);
    await page.getByText('These cases were taken on a frame since scrapped.').first().waitFor();
    await picture(page, `knowledge-accepted-${size.width}-${scripting}`, true);
    // From a case that got worse to the case itself.
    await page.locator('#worse tbody a').first().click();
    await page
      .getByText(/^Case \d+: Closed/)
      .first()
      .waitFor();

    write('0.3');
    await until(page, '/learning/versions', /In use: .*tried on the closed cases and no worse/);
    await page.context().close();
    expect(bench.complaints().filter((line) => !line.includes('422'))).toEqual([]);
  },
  120_000,
);
