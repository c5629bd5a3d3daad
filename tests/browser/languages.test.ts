import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, unfold } from './audit.js';
import { type Bench, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(async () => bench?.close());
afterEach(() => expect(bench.complaints()).toEqual([]));

const STORY =
  'frame=frame-4&before.rotor.speed=104000&observations.melt=marked&observations.end-breaks=slight&scope=frame&onset=since-change&changed=rotor-speed&findings.groove-look=clean&later=wax';

/** Pages of the supervisor's way from the first question to the remedy. */
const JOURNEY: Readonly<Record<string, string>> = {
  'first page': '/',
  'empty bench': '/bench?frame=frame-3',
  answer: `/bench?${STORY}`,
  errors:
    '/bench?frame=frame-3&observations.end-breaks=marked&measurements.tenacity.mean=strong&changed=none&changed=lot',
  cause: `/cause/rotor-speed-too-high?${STORY}`,
  setup: '/setup?frame=frame-6&setup.twist=3.9+alpha-e&before.rotor.speed=90000',
  'what if': `/what-if?${STORY}`,
  converter: '/convert?count=abc&twist=4.3',
  'no such page': '/nowhere',
};

/** How far the page is wider than the screen, in pixels. */
const overflow = (page: Page) =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

describe('right to left, every text longer', () => {
  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/', { size: PHONE, language: 'ar-XB' });
  });
  it.each(Object.entries(JOURNEY))('fits a phone and can be used by everyone: %s', async (name, path) => {
    await page.goto(`${bench.server.address}${path}`);
    await unfold(page);
    await picture(page, `rtl-${name.replace(/ /g, '-')}`, true);
    expect(await page.evaluate(() => getComputedStyle(document.body).direction)).toBe('rtl');
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    expect(await accessibilityFaults(page)).toEqual([]);
    if (name === 'no such page') bench.complaints();
  });
});

describe('in German', () => {
  it('is chosen at the foot of a page, without script, and stays', async () => {
    const page = await bench.open('/bench?frame=frame-3', { size: PHONE, scripting: false });
    await page.getByRole('button', { name: 'Deutsch' }).click();
    expect(new URL(page.url()).search).toBe('?frame=frame-3');
    expect(await page.locator('html').getAttribute('lang')).toBe('de-DE');
    await page.goto(`${bench.server.address}/`);
    expect(await page.locator('h1').textContent()).toContain('Warum läuft die Maschine schlecht');
    expect(await page.getByText('noch kein Spinner mit deutscher Muttersprache').count()).toBe(1);
    await page.context().close();
  });

  it.each([
    ['with script', true],
    ['without script', false],
  ])('leads from a frame to a cause, numbers with a comma all the way: %s', async (_, scripting) => {
    const page = await bench.open('/setup?frame=frame-3', { size: PHONE, language: 'de', scripting });
    const diameter = page.getByLabel('Einlaufradius der Düse').first();
    await diameter.fill('3,5');
    await page.getByRole('button', { name: 'Mit dieser Einstellung zur Diagnose' }).click();
    await page.waitForURL(/setup\.nozzle\.radius=3\.5/);
    await page.locator('[name="observations.end-breaks"][value="marked"]').check({ force: true });
    await page.getByRole('button', { name: 'Auswerten' }).click();
    await page.getByRole('heading', { name: 'Was es wahrscheinlich ist' }).waitFor();
    if (scripting) await page.getByRole('heading', { name: 'Als Nächstes kontrollieren' }).waitFor();
    await picture(page, `german-answer-${scripting ? 'script' : 'plain'}`, true);
    expect(await overflow(page)).toBeLessThanOrEqual(0);
    await page.goto(page.url().replace('/bench', '/setup').replace('#answer', ''));
    expect(await page.getByLabel('Einlaufradius der Düse').first().inputValue()).toBe('3,5');
    await page.context().close();
  });

  it('fits a phone', async () => {
    const page = await bench.open('/', { size: PHONE, language: 'de' });
    for (const [name, path] of Object.entries(JOURNEY)) {
      await page.goto(`${bench.server.address}${path}`);
      await unfold(page);
      await picture(page, `german-${name.replace(/ /g, '-')}`, true);
      expect(await overflow(page), name).toBeLessThanOrEqual(0);
      if (name === 'no such page') bench.complaints();
    }
    await page.context().close();
  });
});
