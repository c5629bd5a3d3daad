import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(async () => bench?.close());
afterEach(() => expect(bench.complaints()).toEqual([]));

const STORY =
  'frame=frame-1&before.nozzle.surface=spiral&observations.end-breaks=marked&scope=frame&onset=since-change&changed=nozzle-surface';
const BREAKS = 'input[name="observations.end-breaks"]';
const firstCause = (page: Page) => page.locator('#answer .cause-name').first();
const ready = (page: Page) => page.locator('#next:not(.waiting)').waitFor();

for (const [name, size] of Object.entries({ phone: PHONE, desk: DESK })) {
  describe(`at a bad frame, ${name}`, () => {
    it('reaches a ranking in three steps, without leaving the page', async () => {
      const page = await bench.open('/', { size });
      await picture(page, `${name}-first-page`);
      await page.getByRole('link', { name: /^Frame 1\b/ }).click();
      await page.waitForURL('**/bench?frame=frame-1');
      await page.evaluate(() => Reflect.set(window, 'stayed', true));
      const mark = page.locator(`${BREAKS}[value=marked]`);
      await mark.check();
      await firstCause(page).waitFor();
      // Same page, same place, same focus; the address now holds the case.
      expect(await page.evaluate(() => Reflect.get(window, 'stayed'))).toBe(true);
      expect(await mark.evaluate((element) => element === document.activeElement)).toBe(true);
      expect(page.url()).toContain('/bench?frame=frame-1&observations.end-breaks=marked');
      expect(await page.locator('#announce').textContent()).toMatch(/^Most likely: .+ \d+\s%\.$/);
      await ready(page);
      if (name === 'phone') {
        const strip = page.locator('#strip');
        expect(await strip.isVisible()).toBe(true);
        await picture(page, `${name}-bench`);
        await strip.click();
      }
      await page.locator('#answer-heading').waitFor();
      await picture(page, `${name}-answer`);
      await page.context().close();
    });

    it('sharpens the answer with a check, and takes it back', async () => {
      const page = await bench.open(`/bench?${STORY}`, { size });
      const outcome = page.locator('#next .outcome').first();
      const check = (await outcome.getAttribute('name')) ?? '';
      await outcome.click();
      await page.getByRole('heading', { name: 'Looked at already' }).waitFor();
      await ready(page);
      expect(page.url()).toContain(`${check}=`);
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('answer');
      await picture(page, `${name}-checked`);
      // A further sign keeps the finding.
      await page.locator('input[name="observations.hairy"][value=absent]').check();
      await page.waitForURL(/observations\.hairy=absent/);
      expect(page.url()).toContain(`${check}=`);
      await page.getByRole('button', { name: /^Take back/ }).click();
      await page.waitForURL((url) => !url.href.includes(check));
      await page.getByRole('heading', { name: 'Looked at already' }).waitFor({ state: 'detached' });
      await page.context().close();
    });

    it('weighs what was tried already, with and without scripting', async () => {
      for (const scripting of [true, false]) {
        const page = await bench.open(`/bench?${STORY}`, { size, scripting });
        await page.locator('summary', { hasText: 'Already tried' }).click();
        const row = page.getByRole('group', { name: 'Tried, number 1' });
        await row.getByLabel('What was tried').selectOption({ label: 'Fit a nozzle one step rougher' });
        await row.getByLabel('What came of it').selectOption('no-change');
        if (!scripting) await page.getByRole('button', { name: 'Work it out' }).click();
        await page.waitForURL(/&tried\.fit-rougher-nozzle=no-change/);
        await page.locator('#answer', { hasText: 'tried already: nothing changed' }).waitFor();
        await picture(page, `${name}-tried${scripting ? '' : '-plain'}`, true);
        expect(await row.getByLabel('What came of it').inputValue()).toBe('no-change');
        await page.context().close();
      }
    });

    it('explains a cause, and comes back to the same case', async () => {
      const page = await bench.open('/bench?frame=frame-1', { size });
      await page.locator(`${BREAKS}[value=marked]`).check();
      await firstCause(page).click();
      await page.getByRole('heading', { name: 'Why it stands where it stands' }).waitFor();
      await picture(page, `${name}-cause`, true);
      await page.goBack();
      await firstCause(page).waitFor();
      expect(await page.locator(`${BREAKS}[value=marked]`).isChecked()).toBe(true);
      await page.context().close();
    });

    it('does the same without scripting', async () => {
      const page = await bench.open('/', { size, scripting: false });
      await page.getByRole('link', { name: /^Frame 1\b/ }).click();
      await page.locator(`${BREAKS}[value=marked]`).check();
      await page.getByRole('button', { name: 'Work it out' }).click();
      await firstCause(page).waitFor();
      expect(page.url()).toMatch(/\/bench\?frame=frame-1&observations\.end-breaks=marked#answer$/);
      const outcome = page.locator('#next .outcome').first();
      const check = (await outcome.getAttribute('name')) ?? '';
      await outcome.click();
      await page.getByRole('heading', { name: 'Looked at already' }).waitFor();
      expect(page.url()).toContain(`${check}=`);
      await picture(page, `${name}-without-scripting`);
      await page.getByRole('button', { name: /^Take back/ }).click();
      await page.getByRole('heading', { name: 'Looked at already' }).waitFor({ state: 'detached' });
      await page.getByRole('button', { name: 'Not now' }).first().click();
      await page.getByRole('button', { name: /^Show again/ }).waitFor();
      await page.goBack();
      await page.goBack();
      await page.getByRole('heading', { name: 'Looked at already' }).waitFor();
      await firstCause(page).click();
      await page.getByRole('heading', { name: 'Why it stands where it stands' }).waitFor();
      await page.context().close();
    });

    it('changes the setup and sees at once what it computes to', async () => {
      const page = await bench.open('/setup?frame=frame-1', { size });
      await page.locator('#f-setup-twist').fill('4.2');
      await page.locator('#f-setup-twist').press('Tab');
      await page.getByText('Differs: the card says 3.7 αe').waitFor();
      expect(await page.locator('#f-setup-twist-about .converted').textContent()).toContain('4.2 αe = ');
      expect(page.url()).toContain('setup.twist=4.2+alpha-e');
      await page.locator('#f-setup-rotor-speed').fill('fast');
      await page.locator('#f-setup-rotor-speed').press('Tab');
      await page.locator('#f-setup-rotor-speed[aria-invalid=true]').waitFor();
      await page.getByRole('button', { name: 'Use this setup on the bench' }).click();
      const summary = page.locator('.error-summary');
      await summary.waitFor();
      expect(await summary.evaluate((element) => element === document.activeElement)).toBe(true);
      expect(await page.title()).toMatch(/^Error: /);
      await picture(page, `${name}-setup-error`);
      await summary.getByRole('link').first().click();
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('f-setup-rotor-speed');
      expect(await page.locator('#f-setup-rotor-speed').inputValue()).toBe('fast');
      await page.locator('#f-setup-rotor-speed').fill('98 000');
      await page.getByRole('button', { name: 'Use this setup on the bench' }).click();
      await page.waitForURL('**/bench?*');
      expect(await page.locator('.bench-head').textContent()).toContain(
        '2 settings differ from the frame’s card',
      );
      await page.context().close();
    });
  });
}

describe('by keyboard alone', () => {
  it('a frame is chosen, a sign given, a check answered', async () => {
    const page = await bench.open('/');
    const focused = () =>
      page.evaluate(() => {
        const element = document.activeElement;
        const style =
          element === null
            ? undefined
            : getComputedStyle(element.matches('input') ? (element.nextElementSibling ?? element) : element);
        return {
          name: element?.getAttribute('name') ?? '',
          text: element?.textContent?.trim() ?? '',
          href: element?.getAttribute('href') ?? '',
          outlined: style?.outlineStyle !== 'none',
        };
      });
    const tabTo = async (found: (at: Awaited<ReturnType<typeof focused>>) => boolean) => {
      for (let i = 0; i < 90; i++) {
        await page.keyboard.press('Tab');
        const at = await focused();
        if (found(at)) return at;
      }
      throw new Error('never reached by the Tab key');
    };
    expect((await tabTo(() => true)).text).toBe('Skip to the content');
    await page.keyboard.press('Enter');
    await tabTo((at) => at.href === '/bench?frame=frame-1');
    await page.keyboard.press('Enter');
    await page.waitForURL('**/bench?frame=frame-1');
    const sign = await tabTo((at) => at.name === 'observations.end-breaks');
    expect(sign.outlined).toBe(true);
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowRight');
    await firstCause(page).waitFor();
    await ready(page);
    expect(page.url()).toContain('observations.end-breaks=marked');
    const answer = await tabTo((at) => at.name.startsWith('findings.') && at.text !== '');
    expect(answer.outlined).toBe(true);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Looked at already' }).waitFor();
    await page.context().close();
  });
});

describe('things that go wrong', () => {
  it('half-typed measurements do not stop the answer, and are judged on submit', async () => {
    const page = await bench.open('/bench?frame=frame-3&observations.end-breaks=marked');
    await page.getByText('Counts and test results').click();
    await page.getByText('End breaks against the usual rate', { exact: true }).first().click();
    await page.locator('#f-measurements-end-breaks-count').fill('41');
    await page.locator('input[name="scope"][value=position]').check();
    await page.getByText('Worked out without: End breaks').waitFor();
    await firstCause(page).waitFor();
    expect(await page.locator('.error-summary').count()).toBe(0);
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.locator('.error-summary').waitFor();
    expect(await page.locator('#f-measurements-end-breaks-count').inputValue()).toBe('41');
    await page.locator('#f-measurements-end-breaks-rotor-hours').fill('240');
    await page.locator('#f-measurements-end-breaks-norm-per-1000').fill('90');
    await page.getByRole('button', { name: 'Work it out' }).click();
    await page.waitForURL(/norm-per-1000=90/);
    expect(await page.locator('.error-summary').count()).toBe(0);
    await page.context().close();
  });

  it('a lost network is told, what was ticked stays, and it mends by itself', async () => {
    const page = await bench.open('/bench?frame=frame-3');
    await page.route('**/bench/answer*', (route) => route.abort());
    await page.locator(`${BREAKS}[value=marked]`).check();
    await page.getByText('The server did not answer').waitFor();
    expect(await page.locator(`${BREAKS}[value=marked]`).isChecked()).toBe(true);
    await page.unroute('**/bench/answer*');
    await page.locator('input[name="scope"][value=position]').check();
    await firstCause(page).waitFor();
    expect(await page.locator('#network').textContent()).toBe('');
    // The failed request itself is what the console complains of.
    expect(bench.complaints().every((line) => /ERR_FAILED|fetch/i.test(line))).toBe(true);
    await page.context().close();
  });

  it('fast ticking ends with the answer to the last tick', async () => {
    const page = await bench.open('/bench?frame=frame-3');
    for (const level of ['slight', 'marked', 'absent', 'slight', 'marked'])
      await page.locator(`${BREAKS}[value=${level}]`).check();
    await page
      .locator('input[name="observations.melt"][value=marked]')
      .evaluate((input: HTMLInputElement) => input.click());
    await page.waitForURL(/end-breaks=marked&observations\.melt=marked/);
    await ready(page);
    expect(page.url()).toContain('observations.melt=marked');
    await page.context().close();
  });
});

describe('case files', () => {
  it('are saved from the bench and opened on it again', async () => {
    const page = await bench.open(`/bench?${STORY}`);
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save as case file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('case-frame-1.yaml');
    const path = await download.path();
    expect(readFileSync(path, 'utf8')).toContain('end-breaks: marked');
    await page.goto(`${bench.server.address}/case`);
    await page.locator('#f-file').setInputFiles(path);
    await page.getByRole('button', { name: 'Put it on the bench' }).click();
    await firstCause(page).waitFor();
    expect(await page.locator(`${BREAKS}[value=marked]`).isChecked()).toBe(true);
    await page.context().close();
  });
});
