import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Hono } from 'hono';
import { afterEach, expect, it, vi } from 'vitest';
import {
  findKnowledgeVersion,
  type Journal,
  knowledgeInUse,
  listReplays,
  useKnowledgeVersion,
} from '../../../src/journal/index.js';
import { openedJournal } from '../../../src/server/journal/keeper.js';
import { keepGate } from '../../../src/server/journal/knowledge-gate.js';
import type { startProof } from '../../../src/server/journal/prove.js';
import { type LiveApp, startLiveApp } from '../../../src/server/live-app.js';
import { describeOnBothEngines } from '../../journal/engines.js';
import { removeSmallKnowledge, writeSmallKnowledge } from '../../rules/workshop/small-knowledge.js';
import { closeSmallCases } from './closed-cases.js';

const later = (check: () => void | Promise<void>) => vi.waitFor(check, { timeout: 25_000, interval: 30 });
const CASES = 8;

describeOnBothEngines('the gate before changed knowledge', (on) => {
  const running: { stop(): Promise<void> }[] = [];
  afterEach(async () => {
    for (const one of running.splice(0)) await one.stop();
    removeSmallKnowledge();
  });

  /** A live app on a small base behind a gate. */
  async function start(journal: Journal, root: string, prove?: typeof startProof) {
    const log: string[] = [];
    const keeper = openedJournal(journal);
    const gate = keepGate(
      keeper,
      undefined,
      () => live,
      (line) => log.push(line),
      prove,
    );
    const live: LiveApp = startLiveApp({
      knowledgeRoot: root,
      log: (line) => log.push(line),
      admit: gate.admit,
      inUse: gate.inUse,
      open: ({ knowledge }) => ({
        app: new Hono(),
        version: knowledge.version,
        warm: async () => {},
        close: async () => {},
      }),
    });
    const stop = async () => {
      await gate.close();
      await live.close();
    };
    running.push({ stop });
    await gate.begin();
    return { gate, live, log, stop };
  }
  /** A small base in a folder, and ways to change it. */
  function base() {
    const root = writeSmallKnowledge();
    const change = (file: string, what: string | RegExp, by: string) => {
      const path = join(root, file);
      const text = readFileSync(path, 'utf8');
      const next = text.replace(what, by);
      if (next === text) throw new Error(`${file} was not changed`);
      writeFileSync(path, next);
      return () => writeFileSync(path, text);
    };
    return {
      root,
      better: () => change('causes/worn.yaml', 'base: 0.3', 'base: 0.31'),
      // The cause of half the cases all but ruled out.
      worse: () => change('causes/worn.yaml', 'base: 0.3', 'base: 0.0006'),
      broken: () => change('causes/worn.yaml', 'base: 0.3', 'base: often'),
    };
  }
  async function filled() {
    const files = base();
    const journal = await on.newJournal();
    await closeSmallCases(journal, files.root, CASES);
    return { ...files, journal };
  }

  it('takes a version over that is no worse, and keeps the figures', async () => {
    const { root, better, journal } = await filled();
    const { live, gate } = await start(journal, root);
    const first = live.state().version;
    expect(await knowledgeInUse(journal)).toMatchObject({ id: first, how: 'first' });
    better();
    const states = new Set<string>();
    await later(() => {
      states.add(gate.state().kind);
      expect(live.state().version).not.toBe(first);
    });
    expect(states).toContain('trying');
    await later(async () =>
      expect(await knowledgeInUse(journal)).toMatchObject({ id: live.state().version, how: 'proved' }),
    );
    expect(gate.state()).toEqual({ kind: 'none' });
    expect(await listReplays(journal)).toMatchObject([
      { version: live.state().version, against: first, tried: CASES, closed: CASES, heldBecause: [] },
    ]);
  });

  it('holds a worse one back until somebody accepts it', async () => {
    const { root, worse, journal } = await filled();
    const { live, gate, log } = await start(journal, root);
    const first = live.state().version;
    worse();
    await later(() => expect(gate.state().kind).toBe('held'));
    const held = gate.state();
    if (held.kind !== 'held') throw new Error('not held');
    expect(held.reasons.join()).toContain('mean log score falls by');
    expect(live.state()).toMatchObject({ version: first, problems: [] });
    expect((await knowledgeInUse(journal))?.id).toBe(first);
    expect(await findKnowledgeVersion(journal, held.version)).toMatchObject({ state: 'held' });
    expect(log.join('\n')).toContain(`${held.version} is held back`);
    const [replay] = await listReplays(journal);
    expect(replay).toMatchObject({ number: held.replay, version: held.version, heldBecause: held.reasons });
    expect(replay?.logScore.after).toBeLessThan(replay?.logScore.before ?? 0);

    await expect(gate.accept(journal, first, { who: 'Ruth' }, 'No.')).rejects.toThrow(
      'is not held back here',
    );
    await gate.accept(journal, held.version, { who: 'Ruth' }, 'These cases were odd.');
    expect(live.state().version).toBe(held.version);
    expect(await knowledgeInUse(journal)).toMatchObject({
      id: held.version,
      how: 'accepted',
      who: 'Ruth',
      note: 'These cases were odd.',
    });
    expect(gate.state()).toEqual({ kind: 'none' });
    expect(gate.how()).toBe('accepted');
  });

  it('goes on with the version that was in use when it starts on changed files, and tries those', async () => {
    const { root, better, worse, journal } = await filled();
    const before = await start(journal, root);
    const first = before.live.state().version;
    await before.stop();
    const back = worse();
    const after = await start(journal, root);
    // Already when it has begun, and with the old texts.
    expect(after.live.state().version).toBe(first);
    expect(after.live.base().texts.get('causes/worn.yaml')).toContain('base: 0.3\n');
    await later(() => expect(after.gate.state().kind).toBe('held'));
    await after.stop();

    // It was held back before the stop: no second trial.
    const again = await start(journal, root);
    await later(() => expect(again.gate.state().kind).toBe('held'));
    expect(again.live.state().version).toBe(first);
    expect(await listReplays(journal)).toHaveLength(1);
    await again.stop();

    back();
    better();
    const good = await start(journal, root);
    await later(() => expect(good.live.state().version).not.toBe(first));
    await later(async () =>
      expect(await knowledgeInUse(journal)).toMatchObject({ id: good.live.state().version, how: 'proved' }),
    );
  });

  // What follows hangs on no engine.
  if (on.engine !== 'sqlite') return;

  it('notes the first version once there is something in the journal, and lets changes through without cases', async () => {
    const { root, better, worse } = base();
    const journal = await on.newJournal();
    const { live, gate } = await start(journal, root);
    const first = live.base().knowledge.version;
    expect(gate.how()).toBe('first');
    expect(await knowledgeInUse(journal)).toBeUndefined();
    const back = worse();
    await later(() => expect(live.state().version).not.toBe(first));
    expect(gate.how()).toBe('no-cases');
    back();
    better();
    await later(() => expect(live.base().texts.get('causes/worn.yaml')).toContain('0.31'));
    await closeSmallCases(journal, root, 1);
    await later(async () =>
      expect(await knowledgeInUse(journal)).toMatchObject({ id: live.state().version, how: 'no-cases' }),
    );
  });

  it('lets go of one that is held back when the files are mended, and tries it again on demand', async () => {
    const { root, worse, journal } = await filled();
    const { live, gate } = await start(journal, root);
    const first = live.state().version;
    const back = worse();
    await later(() => expect(gate.state().kind).toBe('held'));
    gate.tryAgain();
    await later(async () => expect(await listReplays(journal)).toHaveLength(2));
    await later(() => expect(gate.state().kind).toBe('held'));
    back();
    await later(() => expect(gate.state()).toEqual({ kind: 'none' }));
    expect(live.state()).toMatchObject({ version: first, problems: [] });
    expect((await knowledgeInUse(journal))?.id).toBe(first);
  });

  it('lets go of one that is being tried when the files break, and says what is wrong', async () => {
    const { root, better, broken, journal } = await filled();
    let stopped = 0;
    const { live, gate } = await start(journal, root, () => ({
      done: new Promise(() => {}),
      stop: async () => {
        stopped++;
      },
    }));
    const first = live.state().version;
    const back = better();
    await later(() => expect(gate.state().kind).toBe('trying'));
    back();
    const mend = broken();
    await later(() => expect(live.state().problems).toHaveLength(1));
    expect(stopped).toBe(1);
    expect(live.state().version).toBe(first);
    mend();
    await later(() => expect(live.state().problems).toEqual([]));
    expect(gate.state()).toEqual({ kind: 'none' });
    expect(live.state().version).toBe(first);
    expect((await knowledgeInUse(journal))?.id).toBe(first);
  });

  it('starts on the files, and says so loudly, when the version before cannot be read any more', async () => {
    const { root, worse, journal } = await filled();
    const before = await start(journal, root);
    await before.stop();
    const { version, reasoning } = before.live.base().knowledge;
    // As a later program with other schemas would find it.
    const other = await on.newJournal();
    await closeSmallCases(other, root, 2);
    const { seeKnowledgeVersion } = await import('../../../src/journal/index.js');
    const texts = new Map(before.live.base().texts).set('judgements.yaml', 'nothing: here\n');
    await seeKnowledgeVersion(other, { id: version, reasoning, texts });
    await useKnowledgeVersion(other, version, 'first');
    worse();
    const { live, gate, log } = await start(other, root);
    expect(live.state().version).not.toBe(version);
    expect(gate.how()).toBe('unproved');
    expect(log.join('\n')).toContain('UNPROVED');
    expect(await knowledgeInUse(other)).toMatchObject({ id: live.state().version, how: 'unproved' });
  });

  it('follows a word that was given on another server with the same journal', async () => {
    const { root, worse, journal } = await filled();
    const here = await start(journal, root);
    const there = await start(journal, root);
    worse();
    await later(() => expect(here.gate.state().kind).toBe('held'));
    await later(() => expect(there.gate.state().kind).toBe('held'));
    const held = there.gate.state();
    if (held.kind !== 'held') throw new Error('not held');
    await there.gate.accept(journal, held.version, { who: 'Ruth' }, 'Go.');
    await later(() => expect(here.live.state().version).toBe(held.version));
    expect(await knowledgeInUse(journal)).toMatchObject({ id: held.version, how: 'accepted', useNumber: 2 });
  });

  it('holds back what could not be tried', async () => {
    const { root, better, journal } = await filled();
    const { live, gate } = await start(journal, root);
    const first = live.state().version;
    await journal.close();
    better();
    await later(() => expect(gate.state().kind).toBe('held'));
    expect(gate.state()).toMatchObject({ replay: undefined });
    expect(live.state().version).toBe(first);
  });

  it('needs no trial where rankings rest on the same', async () => {
    const { root, journal } = await filled();
    const { live, gate } = await start(journal, root);
    const first = live.state().version;
    writeFileSync(join(root, 'card.yaml'), readFileSync('knowledge-base/card.yaml', 'utf8'));
    await later(() => expect(live.state().version).not.toBe(first));
    expect(gate.how()).toBe('same-reasoning');
    await later(async () => expect((await knowledgeInUse(journal))?.how).toBe('same-reasoning'));
    expect(await listReplays(journal)).toEqual([]);
  });
});
