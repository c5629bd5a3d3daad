import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  addCourse,
  addToken,
  holdKnowledgeVersion,
  keepReplay,
  revokeToken,
  seeKnowledgeVersion,
  sniffPicture,
  useKnowledgeVersion,
} from '../../../src/journal/index.js';
import { API_BASE } from '../../../src/server/api/app.js';
import { errorSchema } from '../../../src/server/api/errors.js';
import type { ApiRoute } from '../../../src/server/api/route.js';
import { API_ROUTES } from '../../../src/server/api/routes.js';
import { type JournalSite, openJournalSite } from './journal-site.js';

let site: JournalSite;
let secret: string;
/** Operations that were called and answered well. */
const answered = new Set<ApiRoute>();
beforeAll(async () => {
  site = await openJournalSite(true, () => ({
    gate: {
      state: () => ({ kind: 'held', version: 'v2', reasons: ['it does worse'], replay: 1 }),
      how: () => 'first',
      accept: (journal, version, by, note) => useKnowledgeVersion(journal, version, 'accepted', by, note),
      tryAgain: () => {},
    },
  }));
  secret = (await addToken(site.journal, 'planning')).secret;
});
afterAll(async () => site?.close());

interface Answer {
  readonly status: number;
  readonly body: Record<string, unknown>;
  readonly headers: Headers;
}

/** Calls an operation; every answer is held against the schema that the document promises. */
async function call(
  method: 'get' | 'post' | 'put',
  path: string,
  body?: unknown,
  headers: Readonly<Record<string, string>> = {},
): Promise<Answer> {
  const response = await site.app.request(`http://plant.test${API_BASE}${path}`, {
    method: method.toUpperCase(),
    headers: {
      Authorization: `Bearer ${secret}`,
      ...(body === undefined ? {} : { 'Content-Type': 'application/json' }),
      ...headers,
    },
    ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  });
  const answer = (await response.json()) as Record<string, unknown>;
  const pathOnly = path.split('?')[0] ?? '';
  const one = API_ROUTES.find(
    (route) =>
      route.method === method && new RegExp(`^${route.path.replace(/\{\w+\}/g, '[^/]+')}$`).test(pathOnly),
  );
  if (response.status < 300) {
    expect(one?.response?.safeParse(answer).error?.issues ?? []).toEqual([]);
    expect(response.status).toBe(one?.status);
    if (one !== undefined) answered.add(one);
  } else expect(errorSchema.safeParse(answer).error?.issues ?? []).toEqual([]);
  return { status: response.status, body: answer, headers: response.headers };
}
const errorOf = (answer: Answer) =>
  answer.body.error as {
    code: string;
    message: string;
    fields: { field: string; allowed: string }[];
    since?: unknown[];
  };

const FILE = {
  setup: { fibre: 'cotton', count: '20 Ne', 'end-use': 'weft' },
  observations: { 'end-breaks': 'marked' },
  scope: 'position',
};

describe('who may call', () => {
  it('wants a token for everything that touches the journal, and none for the rest', async () => {
    for (const headers of [
      { Authorization: '' },
      { Authorization: 'Bearer peelpoint_wrong' },
      { Authorization: 'Basic x' },
    ]) {
      const refused = await call('get', '/frames', undefined, headers);
      expect(refused.status).toBe(401);
      expect(refused.headers.get('WWW-Authenticate')).toBe('Bearer');
    }
    expect(
      (await call('post', '/convert', { quantity: '20 Ne', unit: 'tex' }, { Authorization: '' })).body.value,
    ).toBeCloseTo(29.527, 3);
  });

  it('stops taking a token when it is revoked', async () => {
    const { secret: other, token } = await addToken(site.journal, 'shortlived');
    expect((await call('get', '/frames', undefined, { Authorization: `Bearer ${other}` })).status).toBe(200);
    await revokeToken(site.journal, token.name);
    expect((await call('get', '/frames', undefined, { Authorization: `Bearer ${other}` })).status).toBe(401);
  });
});

describe('what is refused, and how', () => {
  it('names the fields that cannot be used', async () => {
    const unknown = errorOf(await call('post', '/diagnose', { ...FILE, weather: 'bad' }));
    expect(unknown.code).toBe('input');
    expect(unknown.fields[0]).toMatchObject({ field: 'weather', allowed: 'no such field here' });
    const tried = errorOf(await call('post', '/diagnose', { ...FILE, tried: { 'clean-rotor': 'cured' } }));
    expect(JSON.stringify(tried)).toContain('tried.clean-rotor');
    const wrong = await call('post', '/diagnose', { ...FILE, setup: { fibre: 'cotten', count: '20 Ne' } });
    expect(wrong.status).toBe(422);
    expect(errorOf(wrong).fields[0]?.field).toBe('setup.fibre');
    // What is allowed is said in words of our own.
    const level = await call('post', '/rank', { observations: { 'end-breaks': 'lots' } });
    expect(errorOf(level).fields[0]).toMatchObject({
      field: 'observations.end-breaks',
      value: '"lots"',
      allowed: 'absent, slight, marked',
    });
    const query = await call('get', '/cases?position=seven&sort=up');
    expect(query.status).toBe(422);
    expect(
      errorOf(query)
        .fields.map((one) => one.field)
        .sort(),
    ).toEqual(['position', 'sort']);
    const event = await call('post', '/break-events', {
      batch: 'b',
      events: [{ frame: 'frame-1', position: 0, at: '2026-11-20T06:00:00Z' }],
    });
    expect(errorOf(event).fields[0]?.field).toBe('events.0.position');
  });

  it('tells apart what is no JSON, another kind of body, too much, the wrong method and nothing there', async () => {
    expect(errorOf(await call('post', '/rank', '{'))).toMatchObject({ code: 'json' });
    expect((await call('post', '/rank', '{}', { 'Content-Type': 'text/plain' })).status).toBe(415);
    expect((await call('post', '/rank', JSON.stringify({ note: 'x'.repeat(9_000_000) }))).status).toBe(413);
    const method = await call('put', '/cases', {});
    expect(method.status).toBe(405);
    expect(method.headers.get('Allow')).toBe('GET, POST');
    expect((await call('get', '/nothing')).status).toBe(404);
    expect(errorOf(await call('get', '/cases/case-9999'))).toMatchObject({ code: 'not-found' });
  });
});

describe('diagnosing', () => {
  it('ranks, diagnoses and reports as the bench does', async () => {
    const { body } = await call('post', '/diagnose', FILE);
    const { body: ranking } = await call('post', '/rank', FILE);
    const first = (answer: Record<string, unknown>) => (answer.causes as { id: string }[])[0]?.id;
    expect(first(body)).toBe(first(ranking));
    expect((body.actions as unknown[]).length).toBeGreaterThan(3);
    const report = await call('post', '/setup-report', { setup: FILE.setup });
    expect((report.body.margins as unknown[]).length).toBeGreaterThan(2);
    expect((await call('post', '/convert', { quantity: '20 parsecs', unit: 'tex' })).status).toBe(422);
  });
});

describe('the mill', () => {
  it('takes frames, yarns and lots, changes them by their version, and setups with what the model says', async () => {
    const frame = { id: 'frame-40', name: 'Frame 40', positions: 96 };
    expect((await call('post', '/frames', frame)).status).toBe(201);
    expect((await call('post', '/frames', frame)).status).toBe(409);
    const { id: _, ...rest } = frame;
    expect((await call('put', '/frames/frame-40', { ...rest, place: 'Hall D', seen: 1 })).body.version).toBe(
      2,
    );
    const stale = await call('put', '/frames/frame-40', { ...rest, seen: 1 });
    expect(stale.status).toBe(409);
    expect(errorOf(stale)).toMatchObject({ code: 'stale' });
    expect(errorOf(stale).since).toHaveLength(1);
    await call('post', '/yarns', { id: 'yarn-40', name: 'Trial yarn' });
    await call('put', '/yarns/yarn-40', { name: 'Trial yarn, finer', seen: 1 });
    await call('post', '/lots', { id: 'lot-40', name: 'Lot 40', yarn: 'yarn-40' });
    await call('put', '/lots/lot-40', { name: 'Lot 40', material: 'first bales', seen: 1 });
    await call('get', '/yarns');
    await call('get', '/lots');
    const setup = {
      setup: { fibre: 'cotton', count: '20 Ne', twist: '4.2 alpha-e' },
      yarn: 'yarn-40',
      lot: 'lot-40',
      at: '2026-11-01T06:00:00Z',
      renewed: [{ part: 'nozzle' }],
    };
    const first = await call('post', '/frames/frame-40/setups', setup);
    expect(first.body.who).toBe('planning');
    await call('post', '/frames/frame-40/setups', { setup: { ...setup.setup, twist: '4.5 alpha-e' } });
    const { body: changes } = await call(
      'get',
      `/frames/frame-40/changes?since=${encodeURIComponent('2026-11-02T06:00:00Z')}`,
    );
    expect(changes).toMatchObject({ changed: ['twist'], onset: 'since-change' });
    expect(((await call('get', '/frames/frame-40')).body.setup as { yarn: string }).yarn).toBe('yarn-40');
    await call('get', '/frames');
    expect(((await call('get', '/frames/frame-40/setups')).body.rows as unknown[]).length).toBe(2);
    expect(((await call('get', '/frames/frame-40/part-hours')).body.rows as unknown[]).length).toBe(96);
    const wrong = await call('post', '/frames/frame-40/setups', { setup: { twist: 'tight' } });
    expect(errorOf(wrong).fields[0]?.field).toBe('setup.twist');
  });

  it('takes batches of breaks and running periods once', async () => {
    const batch = {
      batch: 'line-1-0001',
      events: [1, 2, 3].map((position) => ({
        frame: 'frame-1',
        position,
        at: `2026-11-20T06:0${position}:00+01:00`,
      })),
    };
    expect((await call('post', '/break-events', batch)).body).toMatchObject({
      given: 3,
      added: 3,
      repeated: false,
    });
    expect((await call('post', '/break-events', batch)).body).toMatchObject({ added: 3, repeated: true });
    const runs = {
      batch: 'runs-1',
      runs: [
        {
          frame: 'frame-40',
          from: '2026-11-03T06:00:00Z',
          until: '2026-11-03T14:00:00Z',
          rotorHours: 700,
          breaks: 40,
        },
      ],
    };
    expect((await call('post', '/runs', runs)).body).toMatchObject({ added: 1 });
    const period = `from=${encodeURIComponent('2026-11-03T00:00:00Z')}&until=${encodeURIComponent('2026-11-04T00:00:00Z')}`;
    const { body } = await call('get', `/frames/frame-40/history?${period}`);
    expect((body.days as { countedBreaks: number }[])[0]?.countedBreaks).toBe(40);
  });
});

describe('cases and complaints', () => {
  it('opens a case with its diagnosis, records steps, corrects one and closes it', async () => {
    const opened = await call('post', '/cases', {
      title: 'By machine',
      frame: 'frame-1',
      position: 3,
      file: FILE,
    });
    const id = String(opened.body.id);
    expect(opened.body.firstRanking).not.toBeNull();
    const version = () => call('get', `/cases/${id}`).then((answer) => answer.body.version as number);
    const noted = await call('post', `/cases/${id}/steps`, {
      seen: await version(),
      step: { step: 'noted', note: 'first' },
    });
    expect(noted.status).toBe(201);
    const stale = await call('post', `/cases/${id}/steps`, {
      seen: 1,
      step: { step: 'noted', note: 'late' },
    });
    expect(stale.status).toBe(409);
    await call('post', `/cases/${id}/corrections`, {
      seen: await version(),
      version: 3,
      replacement: { step: 'noted', note: 'second' },
      why: 'slip',
    });
    await call('post', `/cases/${id}/diagnoses`, {
      seen: await version(),
      file: { ...FILE, findings: { 'groove-look': 'clean' } },
    });
    expect((await call('get', `/cases/${id}/diagnoses/2`)).body.input).toMatchObject({
      findings: { 'groove-look': 'clean' },
    });
    const refused = await call('post', `/cases/${id}/steps`, {
      seen: await version(),
      step: { step: 'trial-finished', verdict: 'better' },
    });
    expect(errorOf(refused)).toMatchObject({ code: 'refused' });
    const closed = await call('post', `/cases/${id}/steps`, {
      seen: await version(),
      step: { step: 'closed', cause: null },
    });
    expect(closed.body).toMatchObject({ state: 'closed' });
  });

  it('carries a post out once for each key and client', async () => {
    const key = { 'Idempotency-Key': 'shift-report-0001' };
    const first = await call('post', '/cases', { title: 'Once' }, key);
    expect((await call('post', '/cases', { title: 'Once' }, key)).body.id).toBe(first.body.id);
    expect(errorOf(await call('post', '/cases', { title: 'Another' }, key))).toMatchObject({
      code: 'reused-key',
    });
    const { secret: other } = await addToken(site.journal, 'laboratory');
    const theirs = await call(
      'post',
      '/cases',
      { title: 'Another' },
      { ...key, Authorization: `Bearer ${other}` },
    );
    expect(theirs.body.id).not.toBe(first.body.id);
    expect((await call('post', '/cases', { title: 'X' }, { 'Idempotency-Key': 'short' })).status).toBe(422);
  });

  it('gives lists a page at a time', async () => {
    const ids: string[] = [];
    let after: string | null = null;
    do {
      const { body }: Answer = await call('get', `/cases?size=25${after === null ? '' : `&after=${after}`}`);
      ids.push(...(body.rows as { id: string }[]).map((one) => one.id));
      after = body.next as string | null;
    } while (after !== null);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThan(60);
    const { body } = await call('get', '/cases?outcome=confirmed&outcome=suspected&size=5');
    expect(
      (body.rows as { closure: { outcome: string } }[]).every((one) =>
        ['confirmed', 'suspected'].includes(one.closure.outcome),
      ),
    ).toBe(true);
  });

  it('logs a complaint, records a step and takes a photo', async () => {
    const logged = await call('post', '/complaints', {
      customer: 'Moorgate',
      fabricFault: 'barré',
      yarn: 'yarn-1',
    });
    const id = String(logged.body.id);
    await call('post', `/complaints/${id}/steps`, {
      seen: 1,
      step: { step: 'containment', text: 'held back' },
    });
    expect((await call('get', `/complaints/${id}`)).body).toMatchObject({ state: 'contained' });
    await call('get', '/complaints?yarn=yarn-1&size=2');
    const png = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    const send = (type: string) =>
      site.app.request(`http://plant.test${API_BASE}/complaints/${id}/photos?caption=stripes`, {
        method: 'POST',
        headers: { Authorization: `Bearer ${secret}`, 'Content-Type': type },
        body: new Uint8Array(png),
      });
    expect((await send('application/json')).status).toBe(415);
    const added = await send('image/png');
    expect(added.status).toBe(201);
    const photo = (await added.json()) as { id: string };
    const served = await site.app.request(`http://plant.test${API_BASE}/photos/${photo.id}`, {
      headers: { Authorization: `Bearer ${secret}` },
    });
    expect(sniffPicture(new Uint8Array(await served.arrayBuffer()))).toBe('image/png');
    for (const one of API_ROUTES) if (one.path.includes('photo')) answered.add(one);
  });

  it('answers the quality questions', async () => {
    await call('get', '/quality/root-causes?by=rotor-hours');
    for (const kind of ['frame', 'position', 'lot', 'part-age'])
      await call('get', `/quality/offenders/${kind}`);
    expect((await call('get', '/quality/offenders/planet')).status).toBe(404);
    await call('get', '/quality/assistant?yarn=yarn-1');
    await call('get', '/learning/base-rates');
  });
});

describe('versions of the knowledge', () => {
  it('are listed with their proof, and accepted with a reason', async () => {
    const { journal } = site;
    const texts = new Map([['a.yaml', 'a: 1']]);
    for (const id of ['v1', 'v2']) await seeKnowledgeVersion(journal, { id, reasoning: id, texts });
    await useKnowledgeVersion(journal, 'v1', 'first');
    await holdKnowledgeVersion(journal, 'v2', ['it does worse']);
    const place = { place: 1, probability: 0.5 };
    const number = await keepReplay(
      journal,
      {
        sample: { newest: 1, random: 0, seed: 1 },
        closed: 1,
        cases: [{ id: 'case-1', cause: 'nozzle-worn', before: place, after: { place: 4, probability: 0.1 } }],
        unreadable: [],
        first: { before: 1, after: 0 },
        firstThree: { before: 1, after: 0 },
        logScore: { before: Math.log(0.5), after: Math.log(0.1) },
        brier: { before: 0.25, after: 0.81 },
        gain: null,
      },
      { version: 'v2', against: 'v1', heldBecause: ['it does worse'] },
    );
    const { body } = await call('get', '/knowledge/versions');
    expect(body).toMatchObject({
      waiting: { kind: 'held', version: 'v2' },
      versions: [{ state: expect.any(String) }, { state: expect.any(String) }],
      replays: [{ number, version: 'v2', first: { before: 1, after: 0 } }],
    });
    expect((await call('get', `/knowledge/replays/${number}`)).body).toMatchObject({
      cases: [{ id: 'case-1', before: place }],
    });
    expect((await call('get', '/knowledge/replays/99')).status).toBe(404);
    expect((await call('post', '/knowledge/versions/v2/accept', { note: ' ' })).status).toBe(422);
    expect((await call('post', '/knowledge/versions/v1/accept', { note: 'Go.' })).status).toBe(409);
    expect((await call('post', '/knowledge/versions/v2/accept', { note: 'Odd cases.' })).body).toEqual({
      inUse: 'v2',
    });
    const after = await call('get', '/knowledge/versions');
    expect(after.body.versions).toContainEqual(
      expect.objectContaining({ id: 'v2', how: 'accepted', who: 'planning', note: 'Odd cases.' }),
    );
  });
});

describe('courses and practice cases', () => {
  it('are listed, exported and added to', async () => {
    const text =
      'setup: {fibre: cotton, count: 20 Ne, end-use: knitting, tube: {insert: 2-groove}}\nobservations: {end-breaks: marked}\nscope: position\nonset: since-change\nchanged: [cleaning-round]\n';
    const bad = await call('post', '/practice-cases', { title: 'No key', text });
    expect(bad.status).toBe(422);
    expect(errorOf(bad).fields[0]?.field).toBe('text.answer-key');
    const made = await call('post', '/practice-cases', {
      title: 'Since the cleaning round',
      text: `${text}answer-key: {causes: [insert-missing-or-worn]}\n`,
    });
    expect(made.body).toMatchObject({ case: { id: 'own-1', agrees: true } });
    const rows = (await call('get', '/practice-cases')).body.rows as Record<string, unknown>[];
    expect(rows).toHaveLength(1);
    expect(JSON.stringify(rows)).not.toContain('answer-key');
    expect((await call('get', '/practice-cases/own-1')).body.text).toContain('answer-key');
    const { id } = await addCourse(site.journal, { title: 'Twist' }, { who: 'Ruth' });
    expect((await call('get', '/courses')).body.rows).toMatchObject([{ id, title: 'Twist' }]);
    expect((await call('get', `/courses/${id}/results`)).body).toMatchObject({ course: { id }, results: [] });
    expect((await call('get', '/courses/course-99/results')).status).toBe(404);
  });
});

describe('the document', () => {
  const document = async () => {
    const response = await site.app.request(`${API_BASE}/openapi.json`);
    expect(response.status).toBe(200);
    return (await response.json()) as {
      openapi: string;
      paths: Record<
        string,
        Record<
          string,
          {
            operationId: string;
            parameters?: { name: string; in: string; required: boolean; schema: unknown }[];
            requestBody?: { content: Record<string, { schema?: object }> };
            responses: Record<string, { description: string; content: Record<string, { schema?: object }> }>;
            security?: unknown[];
          }
        >
      >;
      components: { schemas: Record<string, object> };
    };
  };

  it('is a sound document of its standard, references and all', async () => {
    const validator = new Validator();
    const given = (await document()) as unknown as Record<string, unknown>;
    const result = await validator.validate(given);
    expect(result.errors ?? []).toEqual([]);
    expect(result.valid).toBe(true);
    expect(validator.version).toBe('3.1');
    const resolved = JSON.stringify(validator.resolveRefs());
    expect(resolved).not.toContain('"$ref"');
    // The check can fail: an operation without answers is not sound.
    const { paths } = structuredClone(given) as unknown as {
      paths: Record<string, Record<string, Record<string, unknown>>>;
    };
    const [path = ''] = Object.keys(paths);
    for (const operation of Object.values(paths[path] ?? {})) operation.responses = 'none';
    expect((await new Validator().validate({ ...given, paths })).valid).toBe(false);
  });

  it('describes every operation, and nothing else', async () => {
    const { openapi, paths } = await document();
    expect(openapi).toBe('3.1.0');
    const described = Object.entries(paths).flatMap(([path, operations]) =>
      Object.keys(operations).map((method) => `${method} ${path}`),
    );
    expect(described.sort()).toEqual(API_ROUTES.map((one) => `${one.method} ${one.path}`).sort());
    const ids = Object.values(paths).flatMap((one) =>
      Object.values(one).map((operation) => operation.operationId),
    );
    expect(new Set(ids).size).toBe(ids.length);
  });

  it('is sound: path parameters match the path, every reference leads somewhere, every schema is one', async () => {
    const { paths, components } = await document();
    const { default: whole } = { default: await document() };
    for (const [, name = ''] of JSON.stringify(whole).matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g))
      expect(Object.keys(components.schemas)).toContain(name);
    for (const [path, operations] of Object.entries(paths))
      for (const [method, one] of Object.entries(operations)) {
        const named = (one.parameters ?? [])
          .filter((parameter) => parameter.in === 'path')
          .map((parameter) => parameter.name);
        expect(named.sort(), path).toEqual([...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name).sort());
        expect(
          (one.parameters ?? [])
            .filter((parameter) => parameter.in === 'path')
            .every((parameter) => parameter.required),
        ).toBe(true);
        for (const [status, response] of Object.entries(one.responses)) {
          expect(Number(status), `${method} ${path}`).toBeGreaterThanOrEqual(200);
          expect(response.description, `${method} ${path} ${status}`).toBeTruthy();
        }
        const schemas = [
          ...(one.parameters ?? []).map((parameter) => parameter.schema as object),
          ...Object.values(one.requestBody?.content ?? {}).flatMap((content) => content.schema ?? []),
          ...Object.values(one.responses).flatMap((response) =>
            Object.values(response.content).flatMap((content) => content.schema ?? []),
          ),
        ];
        // Reading a schema back proves that it is one: an unknown keyword or type would be refused.
        for (const schema of schemas.filter((json) => !('$ref' in json)))
          expect(() => z.fromJSONSchema(schema as never), `${method} ${path}`).not.toThrow();
      }
  });

  it('promises what was really answered: every operation was called', () => {
    const missing = API_ROUTES.filter((one) => !answered.has(one)).map((one) => `${one.method} ${one.path}`);
    expect(missing).toEqual([]);
  });
});
