import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { addFrame, type Journal, openJournal } from '../../../src/journal/index.js';
import { createApp } from '../../../src/server/app.js';
import { type FillDemo, keepJournal, noJournal } from '../../../src/server/journal/keeper.js';
import { page, testSite, textOf } from '../site.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-keeper-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const quiet = { log: () => {} };
const SEEN = '/bench?frame=frame-3&observations.end-breaks=marked';
const appOn = (journal: Parameters<typeof createApp>[0]['journal']) => {
  const { diagnostician, mill } = testSite();
  return createApp({ diagnostician, mill, ...(journal === undefined ? {} : { journal }), log: () => {} });
};
const PAGES = [
  '/journal',
  '/cases',
  '/frames/frame-1',
  '/complaints/new',
  '/quality',
  '/learning',
  '/parts',
  '/cases.csv',
];

describe('without a journal', () => {
  it('the bench answers, and the journal’s pages say how to get one', async () => {
    const app = appOn(noJournal);
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    for (const path of PAGES)
      expect(textOf(await page(app, path, 503)), path).toContain('peelpoint serve --data');
    const api = await app.request('/api/v1/cases', { headers: { Authorization: 'Bearer peelpoint_x' } });
    expect(api.status).toBe(503);
    expect(await api.json()).toMatchObject({ error: { code: 'no-journal' } });
  });
});

describe('a journal that cannot be opened', () => {
  it.each([
    [
      'a file that is none',
      'is damaged|no database',
      (folder: string) => writeFileSync(join(folder, 'journal.sqlite'), 'x'.repeat(5000)),
    ],
    [
      'a folder in the place of the file',
      'journal.sqlite',
      (folder: string) => mkdirSync(join(folder, 'journal.sqlite')),
    ],
  ])('%s: the pages name the place and what to do, the bench answers', async (name, words, spoil) => {
    const folder = join(root, name.replace(/ /g, '-'));
    mkdirSync(folder);
    spoil(folder);
    const keeper = keepJournal({ folder }, quiet);
    const app = appOn(keeper);
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    const text = textOf(await page(app, '/journal', 503));
    expect(text).toContain('The journal cannot be used just now');
    expect(text).toMatch(new RegExp(words));
    expect(text).toContain('The bench works all the same');
    await keeper.close();
  });

  it('is taken up by itself once the cause is mended', async () => {
    const folder = join(root, 'later', 'data');
    const keeper = keepJournal({ folder }, { ...quiet, retryMs: 0 });
    const app = appOn(keeper);
    expect(textOf(await page(app, '/journal', 503))).toContain('does not exist');
    mkdirSync(join(root, 'later'));
    expect(textOf(await page(app, '/journal'))).toContain('No case is open.');
    await keeper.close();
  });

  it('that fails in the middle of the work says so on the page, and loses nothing of what was typed', async () => {
    const folder = join(root, 'midway');
    mkdirSync(folder);
    const keeper = keepJournal({ folder }, quiet);
    const app = appOn(keeper);
    const state = await keeper.state();
    expect(state.kind).toBe('open');
    if (state.kind === 'open') await state.journal.close();
    expect(textOf(await page(app, '/cases', 503))).toContain('has been closed');
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    chmodSync(folder, 0o755);
  });
});

describe('the demonstration mill', () => {
  /** Writes one frame in place of a whole mill, when told to. */
  const filler = () => {
    let go = () => {};
    const fill: FillDemo = (_, journal: Journal, tell) => {
      tell({ share: 0.4, words: 'diagnosing case 48 of 120' });
      const done = new Promise<void>((resolve) => {
        go = resolve;
      }).then(async () => {
        await addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 8 }, { who: 'Test' });
      });
      return { done, stop: async () => go() };
    };
    return { fill, go: () => go() };
  };

  it('is written into an empty journal only, with its progress on the pages meanwhile', async () => {
    const folder = join(root, 'demo');
    mkdirSync(folder);
    const { fill, go } = filler();
    const keeper = keepJournal({ folder }, { ...quiet, fill });
    const app = appOn(keeper);
    const waiting = await app.request('/journal');
    expect(waiting.headers.get('Refresh')).toBe('3');
    const text = textOf(await waiting.text());
    expect(text).toContain('diagnosing case 48 of 120');
    expect(text).toContain('40');
    expect(textOf(await page(app, SEEN))).toContain('What it probably is');
    go();
    await expect.poll(async () => (await keeper.state()).kind).toBe('open');
    expect(textOf(await page(app, '/frames'))).toContain('Frame 1');
    await keeper.close();
    // The next start finds something in it and leaves it alone.
    const again = keepJournal(
      { folder },
      {
        ...quiet,
        fill: () => {
          throw new Error('filled twice');
        },
      },
    );
    expect((await again.state()).kind).toBe('open');
    await again.close();
  });

  it('is not written where the journal is to stay empty; then the first page asks for frames', async () => {
    const folder = join(root, 'empty');
    mkdirSync(folder);
    const keeper = keepJournal({ folder }, quiet);
    const app = appOn(keeper);
    const home = await page(app, '/journal').then(() => page(app, '/'));
    expect(home).toContain('href="/frames/new"');
    expect(textOf(home)).toContain('No frame has been entered yet');
    expect(home).not.toContain('/bench?frame=');
    await keeper.close();
  });

  it('of another process is seen when it is there', async () => {
    const folder = join(root, 'shared');
    mkdirSync(folder);
    const keeper = keepJournal({ folder }, quiet);
    const other = await openJournal({ folder });
    await addFrame(other, { id: 'frame-9', name: 'Frame 9', positions: 8 }, { who: 'Other' });
    await other.close();
    expect(textOf(await page(appOn(keeper), '/frames'))).toContain('Frame 9');
    await keeper.close();
  });
});
