import fc from 'fast-check';
import { OAuth2Server } from 'oauth2-mock-server';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addAccount,
  changeAccount,
  findAccount,
  searchAudit,
  startFlow,
  takeFlow,
} from '../../../src/journal/index.js';
import { readClaims, readProvider } from '../../../src/server/access/provider.js';
import { OPEN_TO_ANYBODY } from '../../../src/server/access/settings.js';
import { createApp } from '../../../src/server/app.js';
import { openedJournal } from '../../../src/server/journal/keeper.js';
import { type JournalSite, openJournalSite } from '../journal/journal-site.js';
import { textOf } from '../site.js';
import { addPerson, ORIGIN, visit } from './visitor.js';

const by = { who: 'Test' };
let site: JournalSite;
let mock: OAuth2Server;
/** What the provider says of whoever comes next. */
let claims: Record<string, unknown> = {};
const appWith = (rolesClaim?: string) =>
  createApp({
    diagnostician: site.diagnostician,
    mill: new Map(),
    journal: openedJournal(site.journal),
    log: (line) => site.log.push(line),
    access: {
      ...OPEN_TO_ANYBODY,
      provider: {
        name: 'the works',
        issuer: mock.issuer.url ?? '',
        clientId: 'peelpoint',
        clientSecret: 'a secret of the client',
        nameClaim: 'preferred_username',
        rolesClaim,
        rolesPrefix: '',
      },
    },
  });

beforeAll(async () => {
  site = await openJournalSite(false);
  mock = new OAuth2Server();
  await mock.issuer.keys.generate('RS256');
  await mock.start(0, '127.0.0.1');
  mock.service.on('beforeTokenSigning', (token: { payload: Record<string, unknown> }) => {
    Object.assign(token.payload, claims);
  });
  await addPerson(site.journal, 'ada', ['administrator']);
});
afterAll(async () => {
  await mock.stop();
  await site.close();
});

/** Goes to the provider and back, as a browser does. */
async function throughProvider(app: ReturnType<typeof appWith>, change: (back: URL) => void = () => {}) {
  const visitor = visit(app);
  const out = await visitor.get('/sign-in/provider?next=%2Fcases');
  const to = new URL(out.headers.get('Location') ?? '');
  expect(to.searchParams.get('code_challenge_method')).toBe('S256');
  expect(to.searchParams.get('redirect_uri')).toBe(`${ORIGIN}/sign-in/provider/back`);
  for (const name of ['state', 'nonce', 'code_challenge'])
    expect((to.searchParams.get(name) ?? '').length, name).toBeGreaterThan(40);
  const there = await fetch(to, { redirect: 'manual' });
  const back = new URL(there.headers.get('Location') ?? '');
  change(back);
  return { visitor, answer: await visitor.get(`${back.pathname}${back.search}`), back };
}

describe('signing in at a provider', () => {
  it('lets those in whose account an administrator made without a password, and binds it', async () => {
    const app = appWith();
    claims = { sub: 'u-1', preferred_username: 'sam', name: 'Sam Shift' };
    const none = await throughProvider(app);
    expect(none.answer.status).toBe(403);
    expect(textOf(await none.answer.text())).toContain('There is no account for you here yet');
    await addAccount(site.journal, { name: 'sam', shown: 'Sam Shift', roles: ['supervisor'] }, by);
    const { visitor, answer } = await throughProvider(app);
    expect(answer.headers.get('Location')).toBe('/cases');
    expect(textOf(await (await visitor.get('/account')).text())).toContain('You sign in elsewhere');
    // Bound now: another person of the same name gets no further, the same one under another name does.
    claims = { sub: 'u-2', preferred_username: 'sam' };
    expect((await throughProvider(app)).answer.status).toBe(403);
    claims = { sub: 'u-1', preferred_username: 'samuel' };
    expect((await throughProvider(app)).answer.status).toBe(303);
    await changeAccount(site.journal, 'sam', { state: 'blocked' }, by);
    const blocked = await throughProvider(app);
    expect(textOf(await blocked.answer.text())).toContain('This account is blocked');
  });

  it('never hands over an account that has a password', async () => {
    claims = { sub: 'u-3', preferred_username: 'ada', roles: ['administrator'] };
    for (const app of [appWith(), appWith('roles')]) {
      const { answer } = await throughProvider(app);
      expect(answer.status).toBe(403);
      expect(textOf(await answer.text())).toContain('not bound to the provider');
    }
  });

  it('makes accounts with the roles that the provider tells, and follows them', async () => {
    const app = appWith('roles');
    claims = { sub: 'u-4', preferred_username: 'quinn', name: 'Quinn', roles: ['quality', 'boss'] };
    const { visitor } = await throughProvider(app);
    expect((await findAccount(site.journal, 'quinn')).roles).toEqual(['quality']);
    expect((await visitor.get('/complaints/new')).status).toBe(200);
    claims = { ...claims, roles: ['viewer'] };
    const again = await throughProvider(app);
    expect((await again.visitor.get('/complaints/new')).status).toBe(403);
    expect((await visitor.get('/cases')).status).toBe(303);
    claims = { ...claims, roles: [] };
    expect((await throughProvider(app)).answer.status).toBe(403);
  });

  it('refuses an answer that is not to what was begun, and keeps local sign-in', async () => {
    const app = appWith();
    claims = { sub: 'u-4', preferred_username: 'quinn' };
    const state = await throughProvider(app, (back) => back.searchParams.set('state', 'x'.repeat(43)));
    expect(state.answer.status).toBe(403);
    const code = await throughProvider(app, (back) => back.searchParams.set('code', 'stolen'));
    expect(code.answer.status).toBe(403);
    const good = await throughProvider(app);
    expect(good.answer.status).toBe(303);
    // The same answer once more, and in another browser.
    const path = `${good.back.pathname}${good.back.search}`;
    expect((await good.visitor.get(path)).status).toBe(403);
    expect((await visit(app).get(path)).status).toBe(403);
    // A nonce of another sign-in.
    claims = { ...claims, nonce: 'another' };
    expect((await throughProvider(app)).answer.status).toBe(403);
    expect((await visit(app).signIn('ada')).status).toBe(303);
    expect((await visit(site.app).get('/sign-in/provider')).status).toBe(404);
    const { rows } = await searchAudit(site.journal, { kind: 'sign-in', outcome: 'failed' });
    expect(rows.length).toBeGreaterThan(4);
    expect(JSON.stringify(rows)).not.toContain('stolen');
  });

  it('refuses what the provider has not signed', async () => {
    const app = appWith();
    claims = { sub: 'u-4', preferred_username: 'quinn' };
    const tamper = (change: (token: string) => string) =>
      mock.service.once('beforeResponse', (response: { body: { id_token: string } }) => {
        response.body.id_token = change(response.body.id_token);
      });
    tamper((token) => token);
    expect((await throughProvider(app)).answer.status).toBe(303);
    tamper((token) => token.replace(/.{20}$/, 'A'.repeat(20)));
    expect((await throughProvider(app)).answer.status).toBe(403);
    tamper((token) => {
      const [head = '', body = ''] = token.split('.');
      const none = { ...JSON.parse(Buffer.from(head, 'base64url').toString()), alg: 'none' };
      return `${Buffer.from(JSON.stringify(none)).toString('base64url')}.${body}.`;
    });
    expect((await throughProvider(app)).answer.status).toBe(403);
  });

  it('says so when the provider is away, and asks again later', async () => {
    const app = createApp({
      diagnostician: site.diagnostician,
      mill: new Map(),
      journal: openedJournal(site.journal),
      log: () => {},
      access: {
        ...OPEN_TO_ANYBODY,
        provider: {
          name: 'nowhere',
          issuer: 'http://127.0.0.1:9',
          clientId: 'a',
          clientSecret: 'b',
          nameClaim: 'sub',
          rolesClaim: undefined,
          rolesPrefix: '',
        },
      },
    });
    const answer = await visit(app).get('/sign-in/provider');
    expect(answer.status).toBe(403);
    expect(textOf(await answer.text())).toContain('nowhere cannot be reached just now');
  });
});

describe('what a provider says', () => {
  const settings = { nameClaim: 'preferred_username', rolesClaim: 'groups', rolesPrefix: 'pp-' };

  it('gives no role but ours, whatever the claim holds', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (groups) => {
        const { roles = [] } = readClaims({ iss: 'i', sub: 's', preferred_username: 'n', groups }, settings);
        const text = JSON.stringify(groups);
        for (const role of roles) expect(text).toContain(`pp-${role}`);
      }),
    );
    const read = (groups: unknown) =>
      readClaims({ iss: 'i', sub: 's', preferred_username: 'n', groups }, settings).roles;
    expect(read('pp-viewer, pp-quality quality')).toEqual(['viewer', 'quality']);
    expect(read(['pp-administrator', 7, null])).toEqual(['administrator']);
    expect(read({ 'pp-viewer': true })).toEqual([]);
  });

  it('needs a name, and an address that was verified', () => {
    expect(() => readClaims({ iss: 'i', sub: 's' }, settings)).toThrow('preferred_username');
    const byMail = { ...settings, nameClaim: 'email' };
    expect(() => readClaims({ iss: 'i', sub: 's', email: 'a@b.test' }, byMail)).toThrow('not verified');
    expect(readClaims({ iss: 'i', sub: 's', email: 'a@b.test', email_verified: true }, byMail).name).toBe(
      'a@b.test',
    );
  });

  it('is asked only where the environment names it completely, over https', () => {
    const all = {
      PEELPOINT_OIDC_ISSUER: 'https://id.example',
      PEELPOINT_OIDC_CLIENT_ID: 'a',
      PEELPOINT_OIDC_CLIENT_SECRET: 'b',
    };
    expect(readProvider({})).toBeUndefined();
    expect(readProvider(all)).toMatchObject({
      name: 'id.example',
      nameClaim: 'preferred_username',
      rolesClaim: undefined,
    });
    expect(() => readProvider({ ...all, PEELPOINT_OIDC_CLIENT_SECRET: ' ' })).toThrow(
      'PEELPOINT_OIDC_CLIENT_SECRET',
    );
    for (const issuer of ['http://id.example', 'id.example', 'javascript:alert(1)'])
      expect(() => readProvider({ ...all, PEELPOINT_OIDC_ISSUER: issuer }), issuer).toThrow(
        'PEELPOINT_OIDC_ISSUER',
      );
  });

  it('is remembered once and not for long', async () => {
    const flow = { state: 's', nonce: 'n', verifier: 'v', next: '/cases' };
    const secret = await startFlow(site.journal, flow);
    expect(await takeFlow(site.journal, secret)).toEqual(flow);
    expect(await takeFlow(site.journal, secret)).toBeUndefined();
    expect(await takeFlow(site.journal, '')).toBeUndefined();
  });
});
