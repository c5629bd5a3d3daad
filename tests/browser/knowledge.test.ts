import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(async () => bench?.close());
afterEach(() => expect(bench.complaints()).toEqual([]));

const CAUSE = 'Nozzle texture too smooth for this twist and fibre';
const STORY =
  'frame=frame-1&before.nozzle.surface=spiral&observations.end-breaks=marked&scope=frame&onset=since-change&changed=nozzle-surface';

/** From a cause in the knowledge base to a mechanism it works through, back, and to its examples' results of today. */
async function followAndRun(page: Page, address: string): Promise<void> {
  await page.getByRole('heading', { level: 1, name: CAUSE }).waitFor();
  await page
    .locator('section[aria-labelledby="to"]')
    .getByRole('link', { name: 'Too little false twist' })
    .click();
  await page.getByRole('heading', { level: 1, name: 'False twist in the yarn arm' }).waitFor();
  const brought = page.getByRole('region', { name: /^Picture: Too little false twist/ });
  expect(await brought.locator('svg').textContent()).toContain(CAUSE.slice(0, 18));
  await page.goBack();
  await page.getByRole('heading', { level: 1, name: CAUSE }).waitFor();
  expect(page.url()).toBe(`${address}/knowledge/causes/nozzle-too-smooth`);
  await page.getByRole('link', { name: 'Run the examples now' }).click();
  await page.getByText(/^All \d+ come out as they must/).waitFor();
  expect(await page.locator('#worked .came-out.good').count()).toBeGreaterThan(2);
}

for (const [name, size] of Object.entries({ phone: PHONE, desk: DESK })) {
  describe(`a technologist, ${name}`, () => {
    it('searches a cause while typing, follows it, runs its examples, sees what an answer hangs on', async () => {
      const page = await bench.open('/', { size });
      await page.getByRole('link', { name: 'Knowledge', exact: true }).click();
      const box = page.getByRole('searchbox');
      await box.pressSequentially('nozzle smooth', { delay: 15 });
      const found = page.locator('#found').getByRole('link', { name: CAUSE });
      await found.waitFor();
      expect(await box.evaluate((element) => element === document.activeElement)).toBe(true);
      await page.waitForURL(/\/knowledge\?q=nozzle/);
      await picture(page, `${name}-knowledge-search`);
      await found.click();
      await followAndRun(page, bench.server.address);
      // In place: the address is still the cause's own, and so is the focus.
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('run-worked');
      expect(page.url()).toBe(`${bench.server.address}/knowledge/causes/nozzle-too-smooth`);
      await picture(page, `${name}-knowledge-examples`);

      await page.goto(`${bench.server.address}/bench?${STORY}`);
      await page.getByRole('link', { name: 'Which numbers this hangs on' }).click();
      await page.getByText(`“${CAUSE}” leads.`).waitFor();
      expect(await page.getByRole('img', { name: /^How far single numbers move/ }).isVisible()).toBe(true);
      await picture(page, `${name}-sensitivity`);
      await page.getByRole('link', { name: `“${CAUSE}” in this case` }).click();
      await page.getByRole('heading', { level: 1, name: CAUSE }).waitFor();
      await page.context().close();
    });

    it('does the same without scripting', async () => {
      const page = await bench.open('/knowledge', { size, scripting: false });
      await page.getByRole('searchbox').fill('nozzle smooth');
      await page.getByRole('button', { name: 'Search' }).click();
      await page.locator('#found').getByRole('link', { name: CAUSE }).click();
      await followAndRun(page, bench.server.address);
      expect(page.url()).toBe(`${bench.server.address}/knowledge/causes/nozzle-too-smooth/run#examples`);
      await page.goto(`${bench.server.address}/cause/nozzle-worn?${STORY}`);
      await page.getByRole('link', { name: 'Which numbers this hangs on' }).click();
      await page.getByText('“Nozzle worn” stands at').waitFor();
      await page.getByRole('link', { name: 'Back to the answer' }).click();
      await page.locator('#answer .cause-name').first().waitFor();
      await page.context().close();
    });
  });
}

describe('the answer at a desk', () => {
  it('is cut nowhere, and stays in sight as a strip once scrolled away', async () => {
    const page = await bench.open(`/bench?${STORY}`, { size: DESK });
    await page.locator('#next:not(.waiting)').waitFor();
    const hidden = await page
      .locator('#answer')
      .evaluate((element) => element.scrollHeight - element.clientHeight);
    expect(hidden).toBeLessThanOrEqual(1);
    const strip = page.locator('.strip');
    expect(await strip.isVisible()).toBe(false);
    await page.evaluate(() => scrollTo(0, 900));
    await strip.waitFor();
    await strip.click();
    await page.waitForURL(/#answer$/);
    await page.context().close();
  });
});
