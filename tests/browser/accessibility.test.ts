import axe from 'axe-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type Bench, DESK, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(async () => bench?.close());
afterEach(() => expect(bench.complaints()).toEqual([]));

const STORY =
  'frame=frame-4&before.rotor.speed=104000&observations.melt=marked&observations.end-breaks=slight&scope=frame&onset=since-change&changed=rotor-speed&findings.groove-look=clean&later=wax';
const PAGES: Readonly<Record<string, string>> = {
  'first page': '/',
  'empty bench': '/bench',
  'bench with an answer': `/bench?${STORY}`,
  'bench with errors':
    '/bench?frame=frame-3&observations.end-breaks=marked&measurements.tenacity.mean=strong&changed=none&changed=lot',
  cause: `/cause/rotor-speed-too-high?${STORY}`,
  'ruled-out cause': '/cause/insert-missing-or-worn?frame=frame-1&observations.end-breaks=marked',
  setup: '/setup?frame=frame-6&setup.twist=3.9+alpha-e&before.rotor.speed=90000',
  'setup with errors': '/setup?setup.fibre=cotton:60,polyester:10&setup.count=abc',
  knowledge: '/knowledge',
  'knowledge searched': '/knowledge?q=nozzle+worn',
  'knowledge searched in vain': '/knowledge?q=nozle+wurn',
  'causes in the knowledge base': '/knowledge/causes',
  'a cause in the knowledge base, its examples run': '/knowledge/causes/twist-too-low/run',
  'a mechanism in the knowledge base': '/knowledge/mechanisms/false-twist',
  'a sign in the knowledge base': '/knowledge/symptoms/end-breaks',
  'a check in the knowledge base': '/knowledge/checks/nozzle-look',
  'an action in the knowledge base': '/knowledge/actions/clean-rotor',
  'a situation, run': '/knowledge/cases/half-a-trial/run',
  sources: '/knowledge/sources',
  'check of the knowledge': '/knowledge/check',
  'what an answer hangs on': `/sensitivity?${STORY}`,
  converter: '/convert?count=abc&twist=4.3',
  'open a case file': '/case',
  'no such page': '/nowhere',
};

interface Finding {
  readonly id: string;
  readonly nodes: readonly string[];
}

async function audit(
  path: string,
  size: { width: number; height: number },
  dark: boolean,
  name: string,
): Promise<Finding[]> {
  const page = await bench.open(path, { size, dark });
  // Everything folded away is part of the page too.
  await page.evaluate(() => {
    for (const details of document.querySelectorAll('details')) details.open = true;
    // The strip lies over whatever scrolls beneath it, so where it happens to lie says nothing.
    document.getElementById('strip')?.style.setProperty('position', 'static');
  });
  await picture(page, `${name}-${size.width}${dark ? '-dark' : ''}`.replace(/ /g, '-'), true);
  await page.evaluate(axe.source);
  const findings = await page.evaluate(async () => {
    const run = Reflect.get(window, 'axe') as typeof axe;
    const results = await run.run(document, {
      runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] },
    });
    return results.violations.map((violation) => ({
      id: violation.id,
      nodes: violation.nodes
        .slice(0, 3)
        .map((node) => `${node.html.slice(0, 160)} ${node.failureSummary ?? ''}`),
    }));
  });
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  if (wide > size.width) findings.push({ id: 'scrolls sideways', nodes: [`${wide} px`] });
  const headings = await page.evaluate(() =>
    [...document.querySelectorAll('h1,h2,h3,h4')].map((heading) => Number(heading.tagName.slice(1))),
  );
  const ones = headings.filter((level) => level === 1).length;
  const jumps = headings.some((level, i) => level > (headings[i - 1] ?? (ones === 1 ? level : 0)) + 1);
  if (ones !== 1 || jumps) findings.push({ id: 'headings out of order', nodes: [headings.join(' ')] });
  await page.context().close();
  return findings;
}

describe('every page is accessible', () => {
  for (const [name, path] of Object.entries(PAGES)) {
    it(name, async () => {
      const ours = (one: Finding[]) =>
        one.filter((finding) => !(name === 'no such page' && finding.id === 'none'));
      expect(ours(await audit(path, PHONE, false, name))).toEqual([]);
      expect(ours(await audit(path, DESK, true, name))).toEqual([]);
      // A page that does not exist is an error to the console, and rightly so.
      if (name === 'no such page') bench.complaints();
    });
  }

  it('controls are large enough for a thumb', async () => {
    for (const path of ['/', `/bench?${STORY}`, '/setup', '/convert', '/knowledge?q=nozzle']) {
      const page = await bench.open(path, { size: PHONE });
      const small = await page.evaluate(() =>
        [
          ...document.querySelectorAll(
            'button, summary, .option, .segments label, input[type=text], select, .top a, .card',
          ),
        ]
          .filter((element) => element.getClientRects().length > 0)
          .map((element) => ({
            height: element.getBoundingClientRect().height,
            html: element.outerHTML.slice(0, 90),
          }))
          .filter(({ height }) => height < 43.5),
      );
      expect(small, path).toEqual([]);
      await page.context().close();
    }
  });
});
