import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultsInBothLooks } from './audit.js';
import { type Bench, openBench } from './browser.js';

let bench: Bench;
let page: Page;
beforeAll(async () => {
  bench = await openBench();
  page = await bench.open('/knowledge/causes');
});
afterAll(() => bench?.close());

/** What the audit finds on the page once something was changed on it. */
async function found(
  change: (style: readonly [string, string]) => void,
  style: readonly [string, string] = ['', ''],
): Promise<string> {
  await page.goto(`${bench.server.address}/knowledge/causes`);
  await page.evaluate(change, style);
  return (await faultsInBothLooks(page)).join('\n');
}

// Of texts that look alike two are measured; these see that none of another look goes with them.
describe('the audit of contrast', () => {
  it('finds one text in the middle of many that look alike, by day and in the dark', async () => {
    const faults = await found(() => {
      const links = [...document.querySelectorAll<HTMLElement>('main li a')];
      links[Math.floor(links.length / 2)]?.style.setProperty('color', '#808080');
    });
    expect(faults).toMatch(/^phone: color-contrast/m);
    await expect(found(() => {})).resolves.toBe('');
    // On the dark ground the same grey is light enough; a darker one is not.
    const dark = await found(() => {
      const links = [...document.querySelectorAll<HTMLElement>('main li a')];
      links[Math.floor(links.length / 2)]?.style.setProperty('color', '#5a5a5a');
    });
    expect(dark).toMatch(/^desk-dark: color-contrast/m);
    expect(dark).not.toMatch(/^phone: color-contrast/m);
  });

  it.each([
    ['the ground of what it lies in', 'background-color', '#767676'],
    ['a paleness of what it lies in', 'opacity', '0.4'],
  ])('finds %s', async (_, name, value) => {
    const faults = await found(
      ([property, set]) => {
        const items = [...document.querySelectorAll<HTMLElement>('main li')];
        items[Math.floor(items.length / 2)]?.style.setProperty(property, set);
      },
      [name, value] as const,
    );
    expect(faults).toContain('color-contrast');
  });

  it('is not led astray by what is switched off, hidden or a single sign', async () => {
    const faults = await found(() => {
      const main = document.querySelector('main');
      // First and last of a look are measured: here they are of the kinds whose contrast is not asked for.
      const make = (text: string, change: (button: HTMLButtonElement) => void = () => {}) => {
        const button = document.createElement('button');
        button.textContent = text;
        button.style.setProperty('color', '#777777');
        button.style.setProperty('background-color', '#888888');
        change(button);
        main?.append(button);
      };
      const off = (button: HTMLButtonElement) => {
        button.disabled = true;
        button.style.setProperty('opacity', '1');
      };
      const gone = (button: HTMLButtonElement) => button.style.setProperty('visibility', 'hidden');
      make('Before', off);
      make('Before', gone);
      make('x');
      make('In the middle');
      make('x');
      make('After', gone);
      make('After', off);
    });
    expect(faults).toMatch(/color-contrast.*In the middle/);
  });
});
