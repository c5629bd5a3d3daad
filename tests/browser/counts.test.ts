import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { faultsInBothLooks } from './audit.js';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(async () => bench?.close());
afterEach(() => expect(bench.complaints()).toEqual([]));

const CSV = `frame;position;breaks;hours\n${Array.from(
  { length: 120 },
  (_, i) =>
    `3;${i + 1};${i === 76 ? 14 : [0, 1, 1, 2, 0, 1, 2, 3, 1, 2, 0, 1, 3, 1, 2, 4, 0, 2, 1, 1][(i * 7) % 20]};24`,
).join('\n')}\n`;

for (const [name, size] of Object.entries({ phone: PHONE, desk: DESK }))
  for (const scripting of [true, false])
    describe(`yesterday's counts, ${name}, ${scripting ? 'with' : 'without'} scripting`, () => {
      it('become an answer in three steps, and go on to the bench', async () => {
        const page = await bench.open('/counts', { size, scripting });
        await page
          .locator('#f-file')
          .setInputFiles({ name: 'yesterday.csv', mimeType: 'text/csv', buffer: Buffer.from(CSV) });
        await page.getByRole('button', { name: 'Look at the columns' }).click();
        await page.getByRole('heading', { name: 'Which column is what?' }).waitFor();
        expect(await page.getByLabel('position', { exact: true }).inputValue()).toBe('position');
        if (scripting) await picture(page, `${name}-counts-columns`, true);
        // A slip is told, with what was typed kept.
        const norm = page.getByLabel(/Usual breaks/);
        await norm.fill('much');
        await page.getByRole('button', { name: 'Real or chance?' }).click();
        await page.getByRole('heading', { name: 'There is something to mend' }).waitFor();
        expect(await norm.inputValue()).toBe('much');
        await norm.fill('60');
        await page.getByRole('button', { name: 'Real or chance?' }).click();
        await page.getByRole('heading', { name: 'What the counts say' }).waitFor();
        expect(await page.locator('.answer-parts').textContent()).toMatch(
          /Real, not chance[\s\S]*Position 77 \(14 breaks/,
        );
        if (scripting) await picture(page, `${name}-counts-answer`, true);
        await page.getByLabel('With the setup of').selectOption({ index: 1 });
        await page.getByRole('button', { name: 'To the bench' }).click();
        await page.waitForURL(/\/bench\?.*scope=position/);
        await page.locator('#answer .cause-name').first().waitFor();
        await page.goBack();
        await page.getByRole('heading', { name: 'What the counts say' }).waitFor();
        await page.context().close();
      });

      it('judges a trial', async () => {
        const page = await bench.open('/counts', { size, scripting });
        await page.getByRole('link', { name: 'Judge a trial' }).click();
        for (const [id, value] of [
          ['treated', '12'],
          ['treated-hours', '300'],
          ['control', '30'],
          ['control-hours', '310'],
        ] as const)
          await page.locator(`#f-${id}`).fill(value);
        await page.getByRole('button', { name: 'Judge' }).click();
        await page.getByRole('heading', { name: 'The answer' }).waitFor();
        expect(await page.locator('.computed').textContent()).toContain('No worse');
        if (scripting) await picture(page, `${name}-counts-trial`, true);
        await page.context().close();
      });
    });

describe('pages of counts are accessible', () => {
  const pages: Readonly<Record<string, string>> = {
    start: '/counts',
    rate: '/counts/rate?breaks=30&hours=100&norm=90',
    'rate with errors': '/counts/rate?breaks=x',
    compare: '/counts/compare?breaks-a=30&hours-a=300&breaks-b=14&hours-b=280',
    plan: '/counts/trial-plan?from=100&to=60&positions=8',
    trial: '/counts/trial?treated=12&treated-hours=300&control=30&control-hours=310',
    'trial positions': '/counts/trial-positions?frame=240&trial=8',
    wavelength: '/counts/wavelength?peak=10.4&unit=cm&diameter=33&frame=frame-1',
  };
  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/counts');
  });
  const faults = (name: string): Promise<string[]> =>
    faultsInBothLooks(page, (look) => picture(page, `counts-${name.replace(/ /g, '-')}-${look}`, true));

  it.each(Object.entries(pages))('%s', async (title, path) => {
    await page.goto(`${bench.server.address}${path}`);
    expect(await faults(title)).toEqual([]);
  });

  it.each(['positions', 'log', 'shifts'])('columns and answer of the sample of %s', async (sample) => {
    await page.goto(`${bench.server.address}/counts`);
    await page.locator(`form:has(input[value=${sample}]) button`).click();
    await page.getByRole('heading', { name: 'Which column is what?' }).waitFor();
    expect(await faults(`${sample} columns`)).toEqual([]);
    await page.getByLabel(/Usual breaks/).fill('80');
    await page.getByRole('button', { name: 'Real or chance?' }).click();
    await page.getByRole('heading', { name: 'What the counts say' }).waitFor();
    expect(await faults(`${sample} answer`)).toEqual([]);
  });
});
