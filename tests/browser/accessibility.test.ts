import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { faultsInBothLooks } from './audit.js';
import { type Bench, openBench, PHONE, picture } from './browser.js';

let bench: Bench;
let page: Page;
beforeAll(async () => {
  bench = await openBench();
  page = await bench.open('/');
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
    '/bench?frame=frame-3&observations.end-breaks=marked&measurements.tenacity.mean=strong&changed=none&changed=lot&tried.raise-twist=undecided&tried.-=helped',
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

describe('every page is accessible', () => {
  for (const [name, path] of Object.entries(PAGES)) {
    it(name, async () => {
      await page.goto(`${bench.server.address}${path}`);
      const shown = (look: string) => picture(page, `${name}-${look}`.replace(/ /g, '-'), true);
      expect(await faultsInBothLooks(page, shown)).toEqual([]);
      // A page that does not exist is an error to the console, and rightly so.
      if (name === 'no such page') bench.complaints();
    });
  }

  it('controls are large enough for a thumb', async () => {
    for (const path of ['/', `/bench?${STORY}`, '/setup', '/convert', '/knowledge?q=nozzle']) {
      await page.goto(`${bench.server.address}${path}`);
      await page.setViewportSize(PHONE);
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
    }
  });
});
