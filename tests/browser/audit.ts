import axe, { type RunOnly } from 'axe-core';
import type { Page } from 'playwright-core';

/** Unfolds everything: what is folded away is part of the page too. */
export async function unfold(page: Page): Promise<void> {
  await page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true;
    // The strip lies over whatever scrolls beneath it, so where it happens to lie says nothing.
    document.getElementById('strip')?.style.setProperty('position', 'static');
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
  await page.evaluate(axe.source);
  const runOnly: RunOnly =
    extent === 'looks' ? { type: 'rule', values: LOOKS } : { type: 'tag', values: LEVELS };
  return page.evaluate(async (rulesToRun) => {
    const rules = Reflect.get(window, 'axe') as typeof axe;
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
  }, runOnly);
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
