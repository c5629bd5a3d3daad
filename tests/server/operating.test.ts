import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Hono } from 'hono';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { LOG_LEVELS as CLI_LEVELS } from '../../src/cli/commands/serve.js';
import { type Journal, JournalError, openJournal } from '../../src/journal/index.js';
import { createApp } from '../../src/server/app.js';
import { openedJournal } from '../../src/server/journal/keeper.js';
import { logRequests } from '../../src/server/operating/log-requests.js';
import { createLogger, LOG_LEVELS } from '../../src/server/operating/logger.js';
import { startMetrics } from '../../src/server/operating/metrics.js';
import { type AnsweredRequest, watchRequests } from '../../src/server/operating/request-watch.js';
import { REQUEST_ID_HEADER } from '../../src/server/request-id.js';
import { type RunningServer, serve } from '../../src/server/serve.js';
import { testSite } from './site.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-operating-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const { diagnostician, mill } = testSite();
const quiet = { diagnostician, mill, log: () => {} };
let server: RunningServer | undefined;
afterEach(async () => {
  await server?.stop();
  server = undefined;
});

describe('the log', () => {
  it('has a line of JSON for a request: reference, pattern, status, time, and nothing that was asked or typed', async () => {
    const lines: string[] = [];
    const log = createLogger('info', { write: (line) => lines.push(line) });
    const app = createApp({ ...quiet, watches: [logRequests(log, { addresses: false })] });
    const response = await app.request('/knowledge/causes/twist-too-low?q=secret-mill', {
      headers: { Cookie: 'name=Ruth', 'User-Agent': 'secret-browser' },
    });
    await app.request('/secret-address');
    await app.request('/healthz');
    expect(lines).toHaveLength(2);
    const [first, second] = lines.map((line) => JSON.parse(line));
    expect(first).toMatchObject({
      level: 'info',
      msg: 'request',
      request: response.headers.get(REQUEST_ID_HEADER),
      method: 'GET',
      route: '/knowledge/:kind/:id',
      status: 200,
    });
    expect(first.ms).toBeGreaterThanOrEqual(0);
    expect(Date.parse(first.time)).toBeGreaterThan(0);
    expect(second).toMatchObject({ route: '(none)', status: 404 });
    expect(lines.join()).not.toMatch(/secret|Ruth|twist-too-low|address/);
  });

  it('writes what the level asks for', () => {
    const lines: string[] = [];
    const log = createLogger('warn', { write: (line) => lines.push(line) });
    log.info('no');
    log.warn('yes');
    expect(lines.map((line) => JSON.parse(line).msg)).toEqual(['yes']);
    expect(CLI_LEVELS).toEqual(LOG_LEVELS);
  });

  it('knows the status of an answer to a fault, and takes no invented method for a new one', async () => {
    const seen: AnsweredRequest[] = [];
    const app = new Hono().use(watchRequests((request) => seen.push(request))).get('/breaks/:what', () => {
      throw new Error('planted');
    });
    app.onError((_, c) => c.text('', 500));
    await app.request('/breaks/now');
    await app.request('/breaks/now', { method: 'BREW' });
    expect(seen).toMatchObject([
      { route: '/breaks/:what', status: 500, method: 'GET' },
      { route: '(none)', status: 404, method: 'OTHER' },
    ]);
  });
});

describe('readiness', () => {
  const ask = async (app: Hono) => {
    const response = await app.request('/readyz');
    return [response.status, await response.json()] as const;
  };

  it('is there with an open journal and without one, and not while stopping', async () => {
    expect(await ask(createApp(quiet))).toEqual([
      200,
      { ready: true, stopping: false, journal: 'none', engine: 'ready', knowledge: 'good' },
    ]);
    expect(await ask(createApp({ ...quiet, stopping: () => true }))).toMatchObject([503, { stopping: true }]);
  });

  it('waits for the threads, and is lost when none is left', async () => {
    const load = { waiting: 0, busy: 0, threads: 1, ready: 0 };
    const app = createApp({ ...quiet, engineLoad: () => load });
    expect(await ask(app)).toMatchObject([503, { engine: 'starting' }]);
    load.ready = 1;
    expect(await ask(app)).toMatchObject([200, { engine: 'ready' }]);
    // One is being replaced.
    load.ready = 0;
    expect(await ask(app)).toMatchObject([200, { engine: 'ready' }]);
    load.threads = 0;
    expect(await ask(app)).toMatchObject([503, { engine: 'stopped' }]);
  });

  it('names the journal’s fault in one word, without its place', async () => {
    const journal = await openJournal({ folder: join(root, 'gone') });
    const app = createApp({ ...quiet, journal: openedJournal(journal) });
    expect(await ask(app)).toMatchObject([200, { journal: 'open' }]);
    await journal.close();
    const later = createApp({ ...quiet, journal: openedJournal(journal) });
    const response = await later.request('/readyz');
    const text = await response.text();
    expect([response.status, JSON.parse(text).journal]).toEqual([503, 'closed']);
    expect(text).not.toContain(root);
  });

  it('does not wait for a journal that hangs', async () => {
    const hanging = { ...openedJournal({} as Journal), state: () => new Promise<never>(() => {}) };
    const app = createApp({ ...quiet, journal: hanging });
    expect(await ask(app)).toMatchObject([503, { journal: 'slow' }]);
    // The page that says that the process lives does not ask it at all.
    expect((await app.request('/healthz')).status).toBe(200);
  });

  it('stays while an older knowledge base is in use, and says so', async () => {
    const problems = [{ file: 'a.yaml', line: 1, field: '', message: 'is broken' }];
    const app = createApp({
      ...quiet,
      knowledgeState: () => ({ version: 'x', since: new Date(), problems }),
    });
    expect(await ask(app)).toMatchObject([200, { ready: true, knowledge: 'older' }]);
  });

  it('asks the journal at most once a second, however often it is asked', async () => {
    let asked = 0;
    const journal = {
      ...openedJournal({} as Journal),
      state: async () => {
        asked++;
        throw new JournalError('unreachable', 'planted');
      },
    };
    const app = createApp({ ...quiet, journal });
    for (let n = 0; n < 20; n++) await ask(app);
    expect(asked).toBeLessThan(4);
  });
});

describe('the measures', () => {
  it('count requests by pattern, and tell of threads, journal and knowledge', async () => {
    server = await serve({ port: 0, print: () => {}, log: () => {} });
    const { address } = server;
    await fetch(`${address}/bench?frame=frame-3&observations.end-breaks=marked`);
    const response = await fetch(`${address}/metrics`);
    expect(response.headers.get('content-type')).toContain('text/plain');
    const text = await response.text();
    expect(text).toMatch(
      /http_request_duration_seconds_count\{method="GET",route="\/bench",status="200"\} 1\n/,
    );
    expect(text).toContain('peelpoint_journal_state{state="none"} 1');
    expect(text).toContain('peelpoint_knowledge_problems 0');
    expect(text).toMatch(/\nhttp_requests_in_progress [12]\n/);
    expect(text).toContain('process_cpu_seconds_total');
    expect(text).not.toContain('frame-3');
  });

  it('count questions of the threads, and forget threads that are gone', async () => {
    const metrics = startMetrics({
      journal: () => ({ kind: 'none' }),
      knowledge: () => ({ version: 'x', since: new Date(), problems: [] }),
      underWay: () => 0,
    });
    const drop = metrics.addPool(() => ({ waiting: 3, busy: 1, threads: 2, ready: 2 }));
    metrics.engine.begun('rank', 0.02);
    metrics.engine.ended('rank', 0.04, 'done');
    expect(await metrics.text()).toContain('peelpoint_engine_waiting 3\n');
    drop();
    const text = await metrics.text();
    expect(text).toContain('peelpoint_engine_waiting 0\n');
    expect(text).toContain('peelpoint_engine_wait_seconds_count{ask="rank"} 1\n');
    expect(text).toContain('peelpoint_engine_answer_seconds_count{ask="rank",outcome="done"} 1\n');
  });

  it('are for this machine only, and not through a proxy or under another name', async () => {
    server = await serve({ port: 0, print: () => {}, log: () => {} });
    const url = `${server.address}/metrics`;
    for (const name of ['X-Forwarded-For', 'Forwarded', 'X-Real-IP', 'Via'])
      expect((await fetch(url, { headers: { [name]: '10.0.0.7' } })).status, name).toBe(404);
    // Without a network there is no telling where it comes from.
    expect((await createApp(quiet).request('http://127.0.0.1/metrics')).status).toBe(404);
  });

  it('are for whoever has the token, where there is one', async () => {
    const metricsToken = 'a-long-enough-token';
    server = await serve({ port: 0, print: () => {}, log: () => {}, metricsToken });
    const ask = async (authorization: string) =>
      (await fetch(`${server?.address}/metrics`, { headers: { authorization } })).status;
    expect(await ask(`Bearer ${metricsToken}`)).toBe(200);
    expect(await ask(`Bearer ${metricsToken}x`)).toBe(404);
    expect((await fetch(`${server.address}/metrics`)).status).toBe(404);
  });
});
