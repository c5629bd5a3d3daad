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

const CODE = '4-1';

/** Works a case as a trainee would, by the page alone. */
async function practise(page: Page): Promise<void> {
  await page.getByLabel('Number of a case').fill(CODE);
  await page.getByRole('button', { name: 'Open' }).click();
  await page.waitForURL(`**/training/practice?case=${CODE}`);
  await page.locator('summary', { hasText: 'Look and ask' }).click({ trial: true });
  await page.locator('button[name=check][value=repeats]').click();
  await page.waitForURL(/m=c(:|%3A)repeats/);
  await page.locator('summary', { hasText: 'Open a position' }).click();
  await page.locator('#standstill-check').check();
  await page.locator('button[name=check][value=groove-look]').click();
  await page.waitForURL(/groove-look(:|%3A)s/);
  expect(await page.locator('.moves > li').count()).toBe(2);
  // A confidence that is none comes back to be mended, with the choice kept.
  await page.locator('#cause-1').selectOption('no-assignable-cause');
  await page.locator('input[name="confidence.1"]').fill('rather sure');
  await page.getByRole('button', { name: 'Put forward' }).click();
  await page.locator('.error-summary').waitFor();
  expect(await page.title()).toMatch(/^Error: /);
  expect(await page.locator('#cause-1').inputValue()).toBe('no-assignable-cause');
  await page.locator('input[name="confidence.1"]').fill('75');
  await page.getByRole('button', { name: 'Put forward' }).click();
  await page.waitForURL(/no-assignable-cause(=|%3D)75/);
  await page.locator('#action-1').selectOption('keep-counting');
  await page.getByRole('button', { name: 'Try it' }).click();
  await page.waitForURL(/keep-counting/);
  await page.getByRole('button', { name: 'Close and have it marked' }).click();
  await page.getByRole('heading', { name: 'What to do differently' }).waitFor();
}

describe('a trainee', () => {
  for (const scripting of [true, false])
    it(`works a case and has it marked, ${scripting ? 'with' : 'without'} scripting, on a phone`, async () => {
      const page = await bench.open('/training', { size: PHONE, scripting });
      await practise(page);
      expect(await page.locator('main').textContent()).toContain('No real fault');
      await picture(page, `training-marked-${scripting ? 'script' : 'plain'}`, true);
      await page.getByRole('link', { name: 'Replay it step by step' }).click();
      await page.getByRole('heading', { level: 1, name: /Before anything/ }).waitFor();
      await page.context().close();
    }, 60_000);

  it('reads a lesson, plays with the setting and answers its questions by keyboard', async () => {
    const page = await bench.open('/training/lessons/false-twist', { size: DESK });
    expect(await page.locator('.plain-words').count()).toBeGreaterThan(3);
    await page.locator('#play-0').focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.waitForURL(/play=1/);
    const drawing = page.locator('.sheet img');
    await drawing.scrollIntoViewIfNeeded();
    await page.waitForFunction(() => {
      const image = document.querySelector<HTMLImageElement>('.sheet img');
      return image?.complete === true && image.naturalWidth > 0;
    });
    await picture(page, 'training-lesson', true);
    await page.locator('#question-1-1').check();
    await page.getByRole('button', { name: 'Check the answers' }).click();
    await page.waitForURL(/q1=1/);
    expect(await page.locator('.verdict').count()).toBe(1);
    await page.context().close();
  });
});

describe('a trainer', () => {
  it('steps through a diagnosis with the keys, on the projector, and gets a handout', async () => {
    const page = await bench.open(
      '/training/replay?frame=frame-3&observations.end-breaks=marked&scope=position&view=projector',
      { size: { width: 1920, height: 1080 } },
    );
    for (const step of [1, 2]) {
      await page.keyboard.press('ArrowRight');
      await page.waitForURL(new RegExp(`step=${step}`));
    }
    await picture(page, 'training-projector');
    await page.keyboard.press('ArrowLeft');
    await page.waitForURL(/step=1/);
    await page.getByRole('link', { name: 'Handout to print' }).click();
    await page.getByRole('heading', { name: 'How the diagnosis comes about' }).waitFor();
    expect(await page.locator('.handout > li').count()).toBe(3);
    await page.context().close();
  });

  it('holds a case of one’s own against the product', async () => {
    const page = await bench.open('/training/own-case', { size: DESK });
    await page
      .getByLabel('Case with answer-key')
      .fill(
        'setup: {fibre: cotton, count: 20 Ne}\nobservations: {end-breaks: marked}\nanswer-key: {causes: [wax-fault]}\n',
      );
    await page.getByRole('button', { name: 'Hold it against the product' }).click();
    await page.getByRole('heading', { name: 'The key does not agree' }).waitFor();
    expect(await page.locator('caption').count()).toBe(2);
    await page.context().close();
  });
});

const MOVES = 'm=c:groove-look&m=p:nozzle-chipped=80&m=a:replace-nozzle%2Bclean-rotor:everywhere';
const PAGES: Readonly<Record<string, string>> = {
  'training room': '/training?code=7',
  glossary: '/training/glossary',
  lesson: '/training/lessons/wrappers?play=2&q1=0&q2=1',
  practice: `/training/practice?case=${CODE}&${MOVES}`,
  'practice with errors': `/training/practice?case=${CODE}&cause.1=nozzle-chipped&confidence.1=x&wrong=propose`,
  marking: `/training/practice?case=${CODE}&${MOVES}&closed=yes`,
  replay:
    '/training/replay?frame=frame-3&observations.end-breaks=marked&scope=position&step=2&why=nozzle-worn',
  projector: '/training/replay?frame=frame-3&observations.end-breaks=marked&step=1&view=projector',
  handout: '/training/handout?frame=frame-3&observations.end-breaks=marked',
  'own case': '/training/own-case',
};

describe('the pages of the training room are accessible', () => {
  let page: Page;
  beforeAll(async () => {
    page = await bench.open('/training');
  });
  for (const [name, path] of Object.entries(PAGES))
    it(name, async () => {
      await page.goto(`${bench.server.address}${path}`);
      const shown = (look: string) => picture(page, `training-${name}-${look}`.replace(/ /g, '-'), true);
      expect(await faultsInBothLooks(page, shown)).toEqual([]);
    }, 60_000);
});
