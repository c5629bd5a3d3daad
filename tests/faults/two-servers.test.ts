import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import {
  buildDemoMill,
  checkJournal,
  findCase,
  listFrames,
  openCase,
  openJournal,
  recordStep,
  StaleError,
  searchCases,
} from '../../src/journal/index.js';
import { type FillDemo, keepJournal } from '../../src/server/journal/keeper.js';
import { productEngine } from '../journal/product-engine.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-two-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const who = { who: 'Ruth' };

describe('two servers on one data folder', () => {
  it('take turns at writing, see each other’s work and tell of each other', async () => {
    const folder = join(root, 'shared');
    const [one, two] = [await openJournal({ folder }), await openJournal({ folder })];
    const ids = await Promise.all(
      Array.from(
        { length: 30 },
        async (_, n) => (await openCase(n % 2 ? one : two, { title: `${n}` }, who)).id,
      ),
    );
    expect(new Set(ids).size).toBe(30);
    const { id, version } = await findCase(two, ids[0] ?? '');
    await recordStep(one, { id, seen: version }, { step: 'noted', note: 'first' }, who);
    await expect(
      recordStep(two, { id, seen: version }, { step: 'noted', note: 'second' }, who),
    ).rejects.toThrow(StaleError);
    expect((await checkJournal(two)).findings).toEqual([]);
    await one.close();
    await two.close();
  });

  it('that start together on an empty one fill it with the demonstration mill once', async () => {
    const folder = join(root, 'demo');
    const engine = productEngine();
    const log: string[] = [];
    const fill: FillDemo = (_, journal) => ({
      done: buildDemoMill(journal, engine, { cases: 10, rankings: 1, days: 40, eventDays: 1 }).then(() => {}),
      stop: async () => {},
    });
    const keepers = [1, 2].map(() => keepJournal({ folder }, { fill, log: (line) => log.push(line) }));
    for (const keeper of keepers) keeper.start();
    await expect
      .poll(
        async () => (await Promise.all(keepers.map((keeper) => keeper.state()))).map((state) => state.kind),
        { timeout: 20_000 },
      )
      .toEqual(['open', 'open']);
    const state = await keepers[1]?.state();
    if (state?.kind !== 'open') throw new Error('not open');
    expect(state.demo).toBe(true);
    expect((await searchCases(state.journal, {}, {})).rows.length).toBeGreaterThan(0);
    expect(new Set((await listFrames(state.journal)).map((frame) => frame.id)).size).toBe(
      (await listFrames(state.journal)).length,
    );
    expect((await checkJournal(state.journal)).findings).toEqual([]);
    for (const keeper of keepers) await keeper.close();
  });
});
