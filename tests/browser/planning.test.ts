import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultsInBothLooks } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

const CASE = 'frame=frame-1&observations.end-breaks=marked&findings.broken-tail=tapering';
const PATHS = ['/plan', '/what-if', '/compare', '/drawing', '/card'] as const;
const MORE: Readonly<Record<string, string>> = {
  '/card': '&planned=1',
  '/drawing': '&show=planned&show=causes',
};

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
}, 90_000);
afterAll(() => bench?.close());

describe('pages on plans', () => {
  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/');
  });
  it.each(PATHS)('%s fits, is accessible, keeps to the policy', async (path) => {
    await page.goto(`${bench.server.address}${path}?${CASE}${MORE[path] ?? ''}`);
    const shown = (look: string) => picture(page, `plans${path.replace('/', '-')}-${look}`, true);
    expect(await faultsInBothLooks(page, shown)).toEqual([]);
    expect(bench.complaints()).toEqual([]);
  });

  for (const scripting of [true, false])
    it(`a limit is set and the plan searched again, ${scripting ? 'with' : 'without'} JavaScript`, async () => {
      const page = await bench.open(`/plan?${CASE}`, { scripting, size: PHONE });
      await page.getByLabel('No new parts today').check();
      await page.getByRole('button', { name: 'Search again' }).click();
      await page.waitForURL(/limit=no-new-parts/);
      expect(await page.getByLabel('No new parts today').isChecked()).toBe(true);
      expect(await page.locator('.recommended').textContent()).toMatch(/Recommended/);
      expect(await page.locator('main').textContent()).toContain('It needs a new part.');
      await page.getByRole('link', { name: 'Drawing' }).click();
      await page.waitForURL(/\/drawing\?/);
      expect(page.url()).toContain('limit=no-new-parts');
      await page.context().close();
    });

  for (const scripting of [true, false])
    it(`from the bench to a plan with what was just ticked, ${scripting ? 'with' : 'without'} JavaScript`, async () => {
      const page = await bench.open('/bench?frame=frame-1&observations.end-breaks=marked', { scripting });
      await page.getByRole('button', { name: 'Which settings to change together' }).click();
      await page.waitForURL(/\/plan\?/);
      expect(await page.locator('h1').textContent()).toContain('What to change together');
      expect(page.url()).toContain('observations.end-breaks=marked');
      await page.context().close();
    });

  it('what if shows the names of quantities whole on a phone', async () => {
    const page = await bench.open(`/what-if?${CASE}`, { size: PHONE });
    const cut = await page.locator('#quantity').evaluate((select: HTMLSelectElement) => {
      const pen = document.createElement('canvas').getContext('2d');
      const { font, paddingInlineStart } = getComputedStyle(select);
      if (pen === null) return ['no canvas'];
      pen.font = font;
      // The arrow takes about as much as a letter and a half beside the padding.
      const room = select.clientWidth - 2 * Number.parseFloat(paddingInlineStart) - 24;
      return [...select.options]
        .map((one) => one.label)
        .filter((label) => pen.measureText(label).width > room);
    });
    expect(cut).toEqual([]);
    await page.context().close();
  });

  it('what if moves while typing, without leaving the field', async () => {
    const page = await bench.open(`/what-if?${CASE}`);
    const lead = page.locator('#result .lead');
    expect(await lead.textContent()).toContain('As it is');
    const twist = page.getByLabel('Yarn twist');
    await twist.fill('760');
    await page.locator('#result .lead', { hasText: '→' }).waitFor();
    expect(await twist.evaluate((box) => box === document.activeElement)).toBe(true);
    expect(page.url()).toContain('to.twist=760');
    await page.reload();
    expect(await page.locator('#result .lead').textContent()).toContain('→');
    expect(bench.complaints()).toEqual([]);
    await page.context().close();
  });

  it('what if works by its button without JavaScript, and keeps what was typed wrongly', async () => {
    const page = await bench.open(`/what-if?${CASE}`, { scripting: false, size: PHONE });
    await page.getByLabel('Insert in the draw-off tube').selectOption('2-groove');
    await page.getByLabel('Rotor speed').fill('quick');
    await page.getByRole('button', { name: 'Work it out' }).click();
    expect(await page.locator('#result .differing').textContent()).toContain('none → 2 grooves');
    expect(await page.getByLabel('Rotor speed').inputValue()).toBe('quick');
    await page.locator('.error-summary a').first().click();
    await page.context().close();
  });

  it('from the plan to the card by keyboard alone', async () => {
    const page = await bench.open(`/plan?${CASE}`);
    const card = page.getByRole('link', { name: 'Setup card' });
    for (let i = 0; i < 40 && !(await card.evaluate((link) => link === document.activeElement)); i++)
      await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/card\?/);
    expect(await page.locator('.setup-card').count()).toBe(1);
    await page.context().close();
  });

  it('the card prints on one landscape sheet', async () => {
    const page = await bench.open(`/card?${CASE}&planned=1`);
    const sheet = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    const pages = sheet.toString('latin1').match(/\/Type\s*\/Page[^s]/g) ?? [];
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 1062, height: 733 });
    await picture(page, 'plans-card-print', true);
    expect(pages).toHaveLength(1);
    await page.context().close();
  });

  it('the drawing shows one layout for each width', async () => {
    for (const [size, shown, hidden] of [
      [PHONE, '.drawing-tall', '.drawing-wide'],
      [DESK, '.drawing-wide', '.drawing-tall'],
      [{ width: 1920, height: 1080 }, '.drawing-wide', '.drawing-tall'],
    ] as const) {
      const page = await bench.open(`/drawing?${CASE}&show=planned`, { size });
      expect(await page.locator(shown).isVisible()).toBe(true);
      expect(await page.locator(hidden).isVisible()).toBe(false);
      // Letters of at least 11 pixels are legible at arm's length.
      const letter = await page
        .locator(`${shown} text.dw-small`)
        .first()
        .evaluate((text) => {
          const svg = text.closest('svg');
          const scale = (svg?.getBoundingClientRect().width ?? 0) / (svg?.viewBox.baseVal.width ?? 1);
          return scale * Number.parseFloat(getComputedStyle(text).fontSize);
        });
      expect(letter).toBeGreaterThanOrEqual(10.5);
      await picture(page, `plans-drawing-${size.width}`, true);
      await page.context().close();
    }
  });
});
