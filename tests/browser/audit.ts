import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { RunOnly } from 'axe-core';
import type { Page } from 'playwright-core';
import { DESK, PHONE } from './browser.js';
import { CONTRAST_MARK, markContrast } from './contrast-marks.js';

/** The short form: the browser reads it anew in each page. */
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Unfolds everything: what is folded away is part of the page too. */
export async function unfold(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true;
    // The strip lies over whatever scrolls beneath it, so where it happens to lie says nothing.
    document.getElementById('strip')?.style.setProperty('position', 'static');
    // It scrolls by itself, and shows that with shadows: what they lie on could not be measured.
    for (const box of document.querySelectorAll<HTMLElement>('.computed')) {
      box.style.setProperty('background-image', 'none');
      box.style.setProperty('max-height', 'none');
      box.style.setProperty('position', 'static');
    }
  });
}

/** Rules that size and colours decide; all others look at the document, which is the same at every size. */
const LOOKS = ['color-contrast', 'link-in-text-block', 'target-size', 'scrollable-region-focusable'];
const LEVELS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** `looks`: the page was looked at whole in another size already. */
type Extent = 'whole' | 'looks';

/** Where the page breaks WCAG 2.2, levels A and AA, as far as a program can tell; folded parts are opened first. */
export async function accessibilityFaults(page: Page, extent: Extent = 'whole'): Promise<string[]> {
  await unfold(page);
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(AXE);
  await markContrast(page);
  const runOnly: RunOnly =
    extent === 'looks' ? { type: 'rule', values: LOOKS } : { type: 'tag', values: LEVELS };
  return page.evaluate(
    async ([rulesToRun, mark]) => {
      const rules = Reflect.get(window, 'axe') as typeof axe;
      rules.configure({ rules: [{ id: 'color-contrast', selector: `[${mark}]` }] });
      const { violations } = await rules.run(document, {
        runOnly: rulesToRun,
        // Describing what is in order takes most of the time.
        resultTypes: ['violations'],
        // No rule of these looks into style sheets or sounds, and reading them ahead takes a fifth.
        preload: false,
      });
      return violations.map(
        (one) =>
          `${one.id}: ${one.nodes
            .slice(0, 3)
            .map((node) => `${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`)
            .join(' | ')}`,
      );
    },
    [runOnly, CONTRAST_MARK] as const,
  );
}

/** Pixels by which the page is wider than the window; headings that are skipped, or not one first heading. */
export async function layoutFaults(page: Page): Promise<string[]> {
  const { wide, headings } = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    headings: [...document.querySelectorAll('h1,h2,h3,h4')].map((heading) =>
      Number(heading.tagName.slice(1)),
    ),
  }));
  const ones = headings.filter((level) => level === 1).length;
  const jumps = headings.some((level, i) => level > (headings[i - 1] ?? (ones === 1 ? level : 0)) + 1);
  return [
    ...(wide > 0 ? [`scrolls sideways by ${wide} px`] : []),
    ...(ones !== 1 || jumps ? [`headings out of order: ${headings.join(' ')}`] : []),
  ];
}

/** Everything that is wrong with a page as it stands. */
export const pageFaults = async (page: Page, extent: Extent = 'whole'): Promise<string[]> => [
  ...(await accessibilityFaults(page, extent)),
  ...(await layoutFaults(page)),
];

/**
 * Everything that is wrong with a page in the two looks that differ most: on a phone by day, and on a desk in the dark,
 * where what size and colours do not decide is not asked again. The page is loaded once and shown in both.
 * @param shown called in each look, unfolded, with the end of a name for a picture
 */
export async function faultsInBothLooks(
  page: Page,
  shown: (look: string) => Promise<void> = async () => {},
): Promise<string[]> {
  const faults: string[] = [];
  for (const [name, size, colorScheme] of [
    ['phone', PHONE, 'light'],
    ['desk-dark', DESK, 'dark'],
  ] as const) {
    await page.setViewportSize(size);
    await page.emulateMedia({ colorScheme });
    await unfold(page);
    await shown(name);
    const found = await pageFaults(page, name === 'phone' ? 'whole' : 'looks');
    faults.push(...found.map((fault) => `${name}: ${fault}`));
  }
  return faults;
}
