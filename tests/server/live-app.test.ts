import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { type LiveApp, startLiveApp } from '../../src/server/live-app.js';
import { type RunningServer, serve } from '../../src/server/serve.js';
import { removeSmallKnowledge, writeSmallKnowledge } from '../rules/workshop/small-knowledge.js';
import { textOf } from './site.js';

const later = (check: () => void | Promise<void>) => vi.waitFor(check, { timeout: 15_000, interval: 50 });

/** Something to wait for that the test decides upon. */
function gate() {
  let open = () => {};
  let fail = (_: Error) => {};
  const promise = new Promise<void>((resolve, reject) => {
    open = resolve;
    fail = reject;
  });
  promise.catch(() => {});
  return { promise, open, fail };
}

describe('an app whose knowledge is exchanged', () => {
  let live: LiveApp | undefined;
  afterEach(async () => {
    await live?.close();
    removeSmallKnowledge();
  });

  /** A live app on a small base whose editions say their cause's label; requests to /slow wait for `slow`. */
  function start() {
    const root = writeSmallKnowledge();
    const file = join(root, 'causes/worn.yaml');
    const text = readFileSync(file, 'utf8');
    const slow = gate();
    const warmings: ReturnType<typeof gate>[] = [];
    const closed: string[] = [];
    const log: string[] = [];
    live = startLiveApp({
      knowledgeRoot: root,
      log: (line) => log.push(line),
      open: ({ knowledge }) => {
        const label = knowledge.book.causes.get('worn')?.label ?? 'none';
        const app = new Hono()
          .get('/', (c) => c.text(label))
          .get('/slow', async (c) => {
            await slow.promise;
            return c.text(label);
          });
        const warming = gate();
        warmings.push(warming);
        return {
          app,
          version: knowledge.version,
          warm: () => warming.promise,
          close: async () => {
            closed.push(label);
          },
        };
      },
    });
    const app = live;
    const ask = async (path: string) => (await app.fetch(new Request(`http://plant.test${path}`))).text();
    const write = (label: string) => writeFileSync(file, text.replace('Cause worn', label));
    return { app, ask, write, file, text, slow, warmings, closed, log };
  }

  it('answers from the new once it is warm, and ends the old when its last request is done', async () => {
    const { app, ask, write, slow, warmings, closed } = start();
    const before = app.state().version;
    const underWay = ask('/slow');
    write('Second');
    await later(() => expect(warmings).toHaveLength(2));
    expect(await ask('/')).toBe('Cause worn');
    warmings[1]?.open();
    await later(async () => expect(await ask('/')).toBe('Second'));
    expect(app.state().version).not.toBe(before);
    expect(app.state().problems).toEqual([]);
    expect(closed).toEqual([]);
    slow.open();
    expect(await underWay).toBe('Cause worn');
    expect(closed).toEqual(['Cause worn']);
  });

  it('keeps the old when the files are broken, says why, and recovers', async () => {
    const { app, ask, file, text, warmings, closed, log } = start();
    const { version } = app.state();
    writeFileSync(file, text.replace('base: 0.3', 'base: 3'));
    await later(() => expect(app.state().problems).toHaveLength(1));
    expect(app.state().version).toBe(version);
    expect(app.state().problems[0]).toMatchObject({ file: 'causes/worn.yaml', field: 'prior.base' });
    expect(app.state().problems[0]?.line).toBeGreaterThan(0);
    expect(await ask('/')).toBe('Cause worn');
    expect(log.at(-1)).toContain('1 problem');
    writeFileSync(file, text);
    await later(() => expect(app.state().problems).toEqual([]));
    expect(app.state().version).toBe(version);
    expect(warmings).toHaveLength(1);
    expect(closed).toEqual([]);
  });

  it('leaves out what a later change has overtaken', async () => {
    const { ask, write, warmings, closed } = start();
    write('Second');
    await later(() => expect(warmings).toHaveLength(2));
    write('Third');
    await later(() => expect(warmings).toHaveLength(3));
    warmings[2]?.open();
    await later(async () => expect(await ask('/')).toBe('Third'));
    warmings[1]?.open();
    await later(() => expect(closed).toContain('Second'));
    expect(await ask('/')).toBe('Third');
  });

  it('gives a change up that is taken back before it is in use', async () => {
    const { app, ask, write, warmings, closed } = start();
    write('Second');
    await later(() => expect(warmings).toHaveLength(2));
    write('Cause worn');
    const looks = 1500;
    await new Promise((done) => setTimeout(done, looks));
    warmings[1]?.open();
    await later(() => expect(closed).toEqual(['Second']));
    expect(await ask('/')).toBe('Cause worn');
    expect(app.state().problems).toEqual([]);
  });

  it('keeps the old when the new cannot be put to use', async () => {
    const { app, ask, write, warmings, closed } = start();
    write('Second');
    await later(() => expect(warmings).toHaveLength(2));
    warmings[1]?.fail(new Error('no thread'));
    await later(() => expect(app.state().problems[0]?.message).toContain('no thread'));
    expect(await ask('/')).toBe('Cause worn');
    expect(closed).toEqual(['Second']);
  });
});

describe('the server on a knowledge base that is edited', () => {
  it('shows a change, then what is wrong with the next one on every page, then nothing any more', async () => {
    const root = mkdtempSync(join(tmpdir(), 'peelpoint-base-'));
    let server: RunningServer | undefined;
    try {
      cpSync(defaultKnowledgeFolder(), root, { recursive: true });
      const file = join(root, 'causes/twist-too-low.yaml');
      const text = readFileSync(file, 'utf8');
      server = await serve({ port: 0, knowledgeRoot: root, print: () => {}, log: () => {} });
      const { address } = server;
      const get = async (path: string) => textOf(await (await fetch(`${address}${path}`)).text());
      const label = /^label: (.+)$/m.exec(text)?.[1] ?? 'none';
      expect(await get('/knowledge/causes/twist-too-low')).toContain(label);

      writeFileSync(file, text.replace(/^label: .+$/m, 'label: Twist is set low'));
      await later(async () =>
        expect(await get('/knowledge/causes/twist-too-low')).toContain('Twist is set low'),
      );
      const healthy = (await (await fetch(`${address}/healthz`)).json()) as { knowledge: string };
      expect(await get('/bench')).toContain(`Knowledge version ${healthy.knowledge}`);

      writeFileSync(file, text.replace(/base: [\d.]+/, 'base: often'));
      const line = text.slice(0, text.search(/base: [\d.]+/)).split('\n').length;
      const told = `causes/twist-too-low.yaml:${line} prior.base: must be a number`;
      await later(async () => expect(await get('/')).toContain(told));
      for (const path of ['/bench', '/setup', '/knowledge', '/knowledge/causes/twist-too-low'])
        expect(await get(path)).toContain(told);
      // The version before, not the broken one and not the one before that.
      expect(await get('/knowledge/causes/twist-too-low')).toContain('Twist is set low');
      expect(await get('/bench')).toContain(`Knowledge version ${healthy.knowledge}`);
      const check = await get('/knowledge/check');
      expect(check).toContain('The files have 1 error and no open warnings');
      expect(check).toContain(
        `causes/twist-too-low.yaml:${line} error, unreadable prior.base: must be a number`,
      );

      writeFileSync(file, text);
      await later(async () => expect(await get('/')).not.toContain('cannot be used'));
      expect(await get('/knowledge/causes/twist-too-low')).toContain(label);
    } finally {
      await server?.stop();
      rmSync(root, { recursive: true, force: true });
    }
  });

  it('takes up lessons, plans and places too, and keeps them while one of them is broken', async () => {
    const root = mkdtempSync(join(tmpdir(), 'peelpoint-base-'));
    let server: RunningServer | undefined;
    try {
      cpSync(defaultKnowledgeFolder(), root, { recursive: true });
      server = await serve({ port: 0, knowledgeRoot: root, print: () => {}, log: () => {} });
      const { address } = server;
      const get = async (path: string) => textOf(await (await fetch(`${address}${path}`)).text());
      const lesson = join(root, 'lessons/tension.yaml');
      const text = readFileSync(lesson, 'utf8');
      writeFileSync(lesson, text.replace(/^title: .+$/m, 'title: The pull on the yarn'));
      await later(async () => expect(await get('/training')).toContain('The pull on the yarn'));
      expect(await get('/training/lessons/tension')).toContain('The pull on the yarn');

      const plans = join(root, 'plans.yaml');
      writeFileSync(plans, readFileSync(plans, 'utf8').replaceAll('do: lower-twist', 'do: lower-twists'));
      await later(async () => expect(await get('/')).toContain('there is no action "lower-twists"'));
      expect(await get('/training')).toContain('The pull on the yarn');
      expect(await get('/knowledge/check')).toContain('plans.yaml');

      for (const name of ['plans.yaml', 'card.yaml', 'practice.yaml', 'glossary.yaml', 'lessons'])
        rmSync(join(root, name), { recursive: true });
      await later(async () => expect(await get('/')).not.toContain('cannot be used'));
      const without = await fetch(`${address}/training`);
      expect(without.status).toBe(404);
      expect(textOf(await without.text())).toContain('it lacks practice.yaml, glossary.yaml, lessons');
      expect((await fetch(`${address}/plan`)).status).toBe(404);
    } finally {
      await server?.stop();
      rmSync(root, { recursive: true, force: true });
    }
  });

  it('takes up situations and the demonstration mill as well', async () => {
    const root = mkdtempSync(join(tmpdir(), 'peelpoint-base-'));
    let server: RunningServer | undefined;
    try {
      cpSync(defaultKnowledgeFolder(), root, { recursive: true });
      const file = join(root, 'cases/half-a-trial.yaml');
      const text = readFileSync(file, 'utf8');
      server = await serve({ port: 0, knowledgeRoot: root, print: () => {}, log: () => {} });
      const { address } = server;
      writeFileSync(file, text.replace(/^title: .+$/m, 'title: A trial cut short'));
      await later(async () =>
        expect(await (await fetch(`${address}/knowledge/cases`)).text()).toContain('A trial cut short'),
      );
    } finally {
      await server?.stop();
      rmSync(root, { recursive: true, force: true });
    }
  });
});
