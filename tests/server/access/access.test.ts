import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addToken } from '../../../src/journal/clients/tokens.js';
import {
  addAccount,
  findSession,
  listAccounts,
  makeFirstLink,
  makeLink,
  searchAudit,
  takeTry,
} from '../../../src/journal/index.js';
import { OPEN_TO_ANYBODY, SESSION_TIMES } from '../../../src/server/access/settings.js';
import { createApp } from '../../../src/server/app.js';
import { openedJournal } from '../../../src/server/journal/keeper.js';
import { addSmallMill, caseThrough, closedBy, LOOKED } from '../../journal/fixtures.js';
import { strayTexts, untranslated } from '../../language/stray-texts.js';
import { type JournalSite, openJournalSite } from '../journal/journal-site.js';
import { textOf } from '../site.js';
import { addPerson, ORIGIN, PASSWORD, visit } from './visitor.js';

let site: JournalSite;
beforeAll(async () => {
  site = await openJournalSite(false);
  await addSmallMill(site.journal);
  await caseThrough(site.journal, { title: 'Breaks' }, '2026-03-01T06:00:00Z', [
    LOOKED,
    closedBy('nozzle-worn', 'by-look'),
  ]);
});
afterAll(() => site.close());

const text = async (response: Response) => textOf(await response.text());

describe('before there is an account', () => {
  it('nobody has to sign in, and the first link makes the administrator', async () => {
    const anybody = visit(site.app);
    expect((await anybody.get('/journal')).status).toBe(200);
    expect((await anybody.get('/sign-in')).headers.get('Location')).toBe('/');
    const none = await anybody.get('/accounts');
    expect(none.status).toBe(403);
    expect(await text(none)).toContain('There are no accounts here yet');
    const link = await makeFirstLink(site.journal);
    const path = `/set-password?link=${link?.secret}`;
    const weak = await anybody.send(path, {
      name: 'ada',
      shown: 'Ada Lind',
      password: 'password1234',
      again: 'x',
    });
    expect(weak.status).toBe(422);
    const said = await weak.text();
    expect(said).toContain('well-known words');
    expect(said).toContain('value="Ada Lind"');
    expect(said).not.toContain('password1234');
    const made = await anybody.send(path, {
      name: 'ada',
      shown: 'Ada Lind',
      password: PASSWORD,
      again: PASSWORD,
    });
    expect(made.headers.get('Location')).toBe('/accounts');
    expect(await text(await anybody.get('/accounts'))).toContain('Ada Lind');
    expect((await anybody.get(path)).status).toBe(410);
    expect((await visit(site.app).get('/journal')).status).toBe(303);
  });

  it('on a loopback address a name that is not loopback is refused, on any other everybody', async () => {
    const app = (openTo: 'loopback' | 'nobody') =>
      createApp({
        diagnostician: site.diagnostician,
        mill: new Map(),
        log: () => {},
        access: { ...OPEN_TO_ANYBODY, openTo },
      });
    const status = async (openTo: 'loopback' | 'nobody', host: string, path = '/') =>
      (await app(openTo).request(`http://${host}${path}`, { headers: { Host: host } })).status;
    for (const host of ['127.0.0.1:4680', 'localhost', '[::1]:80', 'peelpoint.localhost'])
      expect(await status('loopback', host), host).toBe(200);
    for (const host of ['plant.test', '127.0.0.1.plant.test', 'localhost.plant.test', '10.0.0.1'])
      expect(await status('loopback', host), host).toBe(403);
    expect(await status('loopback', 'plant.test', '/healthz')).toBe(200);
    expect(await status('nobody', 'localhost')).toBe(503);
    expect(await status('nobody', 'localhost', '/healthz')).toBe(200);
  });
});

describe('with accounts', () => {
  beforeAll(async () => {
    await addPerson(site.journal, 'vera', ['viewer'], 'Vera View');
    await addPerson(site.journal, 'sam', ['supervisor'], 'Sam Shift');
    await addPerson(site.journal, 'quinn', ['quality'], 'Quinn Quality');
    await addPerson(site.journal, 'gone', ['supervisor'], 'Gone Away');
  });

  it('a stranger sees nothing, and comes back to where they wanted to go', async () => {
    const stranger = visit(site.app);
    for (const path of [
      '/',
      '/bench?frame=frame-1',
      '/journal',
      '/cases.csv',
      '/audit',
      '/nowhere',
      '/knowledge',
    ]) {
      const response = await stranger.get(path);
      expect(response.status, path).toBe(303);
      expect(response.headers.get('Location'), path).toMatch(/^\/sign-in/);
    }
    expect((await stranger.get('/healthz')).status).toBe(200);
    const partial = await stranger.get('/bench/next?x=1', {
      'HX-Request': 'true',
      'HX-Current-URL': `${ORIGIN}/bench?x=1`,
    });
    expect(partial.headers.get('HX-Redirect')).toBe('/sign-in?next=%2Fbench%3Fx%3D1');
    const to = (await stranger.get('/cases?state=open')).headers.get('Location') ?? '';
    const inside = await stranger.send(to, { name: 'vera', password: PASSWORD });
    expect(inside.headers.get('Location')).toBe('/cases?state=open');
    expect(await text(await stranger.get('/cases?state=open'))).toContain('Vera View');
    for (const next of ['//evil.test', 'https://evil.test', '/\\evil.test', '/sign-in']) {
      const other = visit(site.app);
      const answer = await other.post('/sign-in', [
        ['name', 'vera'],
        ['password', PASSWORD],
        ['next', next],
      ]);
      expect(answer.headers.get('Location'), next).toBe('/');
    }
  });

  it('a cookie is for this server alone, new at each sign-in, and bound to https where there is https', async () => {
    const vera = visit(site.app);
    const first = (await vera.signIn('vera')).headers.get('Set-Cookie') ?? '';
    expect(first).toMatch(/^session=[\w-]{43}; Max-Age=43200; Path=\/; HttpOnly; SameSite=Lax$/);
    const old = vera.cookies.get('session') ?? '';
    await vera.signIn('vera');
    expect(vera.cookies.get('session')).not.toBe(old);
    expect(await findSession(site.journal, old, SESSION_TIMES)).toBeUndefined();
    const secure = createApp({
      diagnostician: site.diagnostician,
      mill: new Map(),
      journal: openedJournal(site.journal),
      access: { ...OPEN_TO_ANYBODY, publicOrigin: 'https://plant.test' },
      log: () => {},
    });
    const behind = await secure.request(`${ORIGIN}/sign-in`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: 'https://plant.test' },
      body: new URLSearchParams({ name: 'vera', password: PASSWORD }).toString(),
    });
    expect(behind.headers.get('Set-Cookie')).toMatch(
      /^__Host-session=.*; Path=\/; HttpOnly; Secure; SameSite=Lax$/,
    );
  });

  it('unknown names, wrong passwords and blocked accounts get one answer', async () => {
    const admin = visit(site.app);
    await admin.signIn('ada');
    const gone = (await listAccounts(site.journal)).find((one) => one.name === 'gone');
    await admin.send(`/accounts/${gone?.id}`, {}, `/accounts/${gone?.id}/state`);
    await addAccount(site.journal, { name: 'fresh', roles: ['viewer'] }, { who: 'Test' });
    const answers = new Set<string>();
    for (const [name, password] of [
      ['nobody', PASSWORD],
      ['vera', 'wrong'],
      ['gone', PASSWORD],
      ['fresh', PASSWORD],
      ['fresh', 'nobody has this password'],
    ] as const) {
      const response = await visit(site.app).signIn(name, password);
      expect(response.status, name).toBe(422);
      expect(response.headers.get('Set-Cookie'), name).toBeNull();
      answers.add((await response.text()).replaceAll(`value="${name}"`, 'value=""'));
    }
    expect(answers.size).toBe(1);
    const { rows } = await searchAudit(site.journal, { kind: 'sign-in', outcome: 'failed' });
    expect(rows.map((one) => one.data)).toContainEqual({ name: 'vera' });
    expect(rows.filter((one) => one.address === '192.0.2.10').length).toBeGreaterThanOrEqual(5);
    expect(JSON.stringify(rows)).not.toContain('nobody');
  });

  it('too many failures make everybody of that name wait, the right password too', async () => {
    for (let n = 0; n < 5; n++) await takeTry(site.journal, { name: 'quinn', address: '192.0.2.50' });
    const quinn = visit(site.app);
    const waits = await quinn.signIn('quinn');
    expect(waits.status).toBe(429);
    expect(Number(waits.headers.get('Retry-After'))).toBeGreaterThan(0);
    expect(await text(waits)).toContain('Wait 30 seconds');
    const { forgiveTry } = await import('../../../src/journal/index.js');
    await forgiveTry(site.journal, { name: 'quinn', address: '192.0.2.50' });
    expect((await quinn.signIn('quinn')).status).toBe(303);
  });

  it('everybody does what their roles allow, is told what they may not, and sees no link to it', async () => {
    const [vera, sam, quinn, ada] = [visit(site.app), visit(site.app), visit(site.app), visit(site.app)];
    await vera.signIn('vera');
    await sam.signIn('sam');
    await quinn.signIn('quinn');
    await ada.signIn('ada');
    const table = [
      ['/cases', 200, 200, 200, 200],
      ['/cases/new', 403, 200, 200, 403],
      ['/complaints/new', 403, 403, 200, 403],
      ['/frames/new', 403, 403, 403, 403],
      ['/accounts', 403, 403, 403, 200],
      ['/audit', 403, 403, 403, 200],
      ['/tokens', 403, 403, 403, 200],
      ['/learning/versions', 200, 200, 200, 200],
      ['/account', 200, 200, 200, 200],
    ] as const;
    for (const [path, ...expected] of table)
      for (const [n, who] of [vera, sam, quinn, ada].entries())
        expect((await who.get(path)).status, `${path} ${n}`).toBe(expected[n]);
    expect(await text(await vera.get('/cases/new'))).toContain('no right to open cases and record steps');
    const closed = '/cases/case-1';
    expect(await (await vera.get(closed)).text()).not.toContain('/record/');
    expect(await (await vera.get('/learning')).text()).not.toContain('action="/learning"');
    expect((await sam.get(`${closed}/record/reopened`)).status).toBe(403);
    expect((await quinn.get(`${closed}/record/reopened`)).status).toBe(200);
    // A form made up by hand gets no further.
    expect((await vera.post('/cases/new', [['title', 'x']])).status).toBe(403);
    const { rows } = await searchAudit(site.journal, { kind: 'request', outcome: 'refused' });
    expect(rows.map((one) => `${one.who} ${one.subject}`)).toContain('Vera View POST /cases/new');
  });

  it('what is written stands under the name of whoever is signed in, whatever the form says', async () => {
    const sam = visit(site.app);
    await sam.signIn('sam');
    const form = await (await sam.get('/cases/new')).text();
    expect(form).not.toContain('Your name');
    const opened = await sam.send('/cases/new', { title: 'Breaks on 12', who: 'Somebody Else' });
    expect(opened.status).toBe(303);
    const html = await text(await sam.get(opened.headers.get('Location')?.split('#')[0] ?? ''));
    expect(html).toContain('Sam Shift');
    expect(html).not.toContain('Somebody Else');
    const { rows } = await searchAudit(site.journal, { kind: 'case' }, { size: 1 });
    expect(rows[0]).toMatchObject({
      who: 'Sam Shift',
      via: 'session',
      address: '192.0.2.10',
      action: 'opened',
    });
  });

  it('a session that ended meanwhile costs nothing that was typed', async () => {
    const sam = visit(site.app);
    await sam.signIn('sam');
    const page = await (await sam.get('/cases/new')).text();
    const key = /name="key" value="([^"]+)"/.exec(page)?.[1] ?? '';
    sam.cookies.clear();
    const asked = await sam.post('/cases/new', [
      ['title', 'Kept "over" <sign-in>'],
      ['key', key],
    ]);
    expect(asked.status).toBe(401);
    const html = await asked.text();
    const hidden = (name: string) =>
      (new RegExp(`name="${name}" value="([^"]*)"`).exec(html)?.[1] ?? '').replace(/&amp;/g, '&');
    const again = await sam.post('/sign-in', [
      ['name', 'sam'],
      ['password', PASSWORD],
      ['kept-action', hidden('kept-action')],
      ['kept-fields', hidden('kept-fields')],
    ]);
    expect(again.status).toBe(200);
    const ready = await again.text();
    expect(ready).toContain('action="/cases/new"');
    expect(ready).toContain('value="Kept &quot;over&quot; &lt;sign-in&gt;"');
    // Nothing leads to another server or back to the sign-in.
    const led = await visit(site.app).post('/sign-in', [
      ['name', 'sam'],
      ['password', PASSWORD],
      ['kept-action', 'https://evil.test/'],
      ['kept-fields', 'a=b'],
    ]);
    expect(led.status).toBe(303);
    // Passwords are never carried along.
    const secret = await visit(site.app).post('/account/password', [
      ['current', 'a'],
      ['password', 'my secret'],
    ]);
    expect(await secret.text()).not.toContain('my secret');
  });

  it('people change their password, see their sessions and end them', async () => {
    const [here, there] = [visit(site.app), visit(site.app, '192.0.2.11')];
    await here.signIn('vera');
    await there.signIn('vera');
    const own = await text(await here.get('/account'));
    expect(own).toContain('192.0.2.11');
    expect((await here.post('/account/sessions', [['end', 'others']])).status).toBe(303);
    expect((await there.get('/account')).status).toBe(303);
    const wrong = await here.send('/account', {
      current: 'wrong',
      password: 'eleven quiet bridges',
      again: 'eleven quiet bridges',
    });
    expect(await text(wrong)).toContain('The present password is not right');
    const short = await here.send('/account', { current: PASSWORD, password: 'short', again: 'short' });
    expect(await text(short)).toContain('at least 12 characters');
    await there.signIn('vera');
    const changed = await here.send('/account', {
      current: PASSWORD,
      password: 'eleven quiet bridges',
      again: 'eleven quiet bridges',
    });
    expect(changed.status).toBe(303);
    expect((await here.get('/account')).status).toBe(200);
    expect((await there.get('/account')).status).toBe(303);
    expect((await visit(site.app).signIn('vera')).status).toBe(422);
    expect((await there.signIn('vera', 'eleven quiet bridges')).status).toBe(303);
    expect((await here.post('/account/sessions', [['end', 'all']])).headers.get('Location')).toBe('/sign-in');
    expect((await there.get('/account')).status).toBe(303);
    await here.signIn('vera', 'eleven quiet bridges');
    const cookie = here.cookies.get('session') ?? '';
    await here.post('/sign-out', []);
    expect(await findSession(site.journal, cookie, SESSION_TIMES)).toBeUndefined();
    // Back to the usual one.
    const { secret } = await makeLink(site.journal, 'vera', { who: 'Test' });
    expect(
      (await here.send(`/set-password?link=${secret}`, { password: PASSWORD, again: PASSWORD })).status,
    ).toBe(303);
  });

  it('administrators make accounts, whose link works once, and never shut themselves out', async () => {
    const ada = visit(site.app);
    await ada.signIn('ada');
    const refused = await ada.send('/accounts/new', { name: 'sam', shown: 'Sam Two', roles: ['supervisor'] });
    expect(refused.status).toBe(422);
    expect(await text(refused)).toContain('a name that no other account has');
    const made = await ada.send('/accounts/new', { name: 'tess', shown: 'Tess Train', roles: ['trainer'] });
    const link = /http:\/\/plant\.test(\/set-password\?link=[\w-]{43})/.exec(await made.text())?.[1] ?? '';
    const tess = visit(site.app);
    expect(await text(await tess.get(link))).toContain('Welcome, Tess Train');
    expect((await tess.send(link, { password: PASSWORD, again: PASSWORD })).headers.get('Location')).toBe(
      '/',
    );
    expect((await tess.get('/training')).status).toBe(200);
    expect((await visit(site.app).get(link)).status).toBe(410);
    const own = (await listAccounts(site.journal)).find((one) => one.name === 'ada')?.id ?? '';
    const last = await ada.send(`/accounts/${own}`, {}, `/accounts/${own}/state`);
    expect(last.status).toBe(422);
    expect(await text(last)).toContain('This is the last administrator');
    const id = (await listAccounts(site.journal)).find((one) => one.name === 'tess')?.id ?? '';
    expect((await ada.send(`/accounts/${id}`, { roles: ['viewer', 'quality'] })).status).toBe(303);
    expect((await tess.get('/training')).status).toBe(303);
    expect((await ada.get('/accounts/nobody')).status).toBe(404);
  });

  it('speaks the reader’s language: every text is a message, and has a German one but in the audit log', async () => {
    const ada = visit(site.app);
    await ada.signIn('ada');
    const sam = visit(site.app);
    const { secret } = await makeLink(site.journal, 'sam', { who: 'Test' });
    const own = (await listAccounts(site.journal)).find((one) => one.name === 'ada')?.id ?? '';
    const pages = async () => [
      await sam.get('/sign-in'),
      await sam.signIn('sam', 'wrong'),
      await sam.post('/sign-in', []),
      await sam.post('/cases/new', [['title', 'x']]),
      await sam.get(`/set-password?link=${secret}`),
      await sam.send(`/set-password?link=${secret}`, { password: 'short', again: 'x' }),
      await sam.get('/set-password?link=none'),
      await ada.get('/account'),
      await ada.send('/account', { current: 'wrong', password: PASSWORD, again: PASSWORD }),
      await ada.get('/accounts'),
      await ada.get('/accounts/new'),
      await ada.send('/accounts/new', { name: '', shown: '', roles: [] }),
      await ada.get(`/accounts/${own}`),
      await ada.get('/tokens'),
      await ada.post('/tokens', []),
      await ada.get('/training/courses/new'),
    ];
    const say = (language: string) => {
      for (const one of [ada, sam]) one.cookies.set('language', language);
    };
    const names = [
      /Ada Lind|Sam Shift|Vera View|Quinn Quality|Gone Away|Tess Train/,
      /\b(ada|sam|vera|quinn|gone|fresh|tess|Test)\b/,
      // Words of the log itself, as it keeps them.
      /^\s*(account|case|complaint|course|frame|knowledge|lot|practice-case|request|sign-in|yarn)\s*$/,
      /panel 3|\bread, machine-data\b/,
    ];
    say('ar-XB');
    const stray = [...(await pages()), await ada.get('/audit?kind=none')].map(async (page) =>
      strayTexts(await page.text(), names),
    );
    expect((await Promise.all(stray)).flat()).toEqual([]);
    say('de');
    const english = (await pages()).map(async (page) => untranslated(await page.text()));
    expect((await Promise.all(english)).flat()).toEqual([]);
    expect(untranslated(await (await ada.get('/audit')).text())).toContain('From');
  });

  it('programs have tokens with rights of their own', async () => {
    const ada = visit(site.app);
    await ada.signIn('ada');
    const made = await ada.send('/tokens', { name: 'panel 3', rights: ['read', 'machine-data'] });
    const secret = /peelpoint_[\w-]{43}/.exec(await made.text())?.[0] ?? '';
    const call = (path: string, method = 'GET', body?: unknown, token = secret) =>
      site.app.request(`${ORIGIN}/api/v1${path}`, {
        method,
        headers: { Authorization: `Bearer ${token}`, 'Content-Type': 'application/json' },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
    expect((await call('/cases')).status).toBe(200);
    expect((await call('/cases', 'POST', { title: 'x' })).status).toBe(403);
    expect((await call('/openapi.json')).status).toBe(200);
    expect((await call('/cases', 'GET', undefined, 'peelpoint_wrong')).status).toBe(401);
    expect((await site.app.request(`${ORIGIN}/api/v1/openapi.json`)).status).toBe(401);
    // A token is no way to the pages.
    const page = await site.app.request(`${ORIGIN}/journal`, {
      headers: { Authorization: `Bearer ${secret}` },
    });
    expect(page.status).toBe(303);
    const listed = await text(await ada.get('/tokens'));
    expect(listed).toContain('read, machine-data');
    const id = /\/tokens\/(token-[0-9a-f]+)\/revoke/.exec(await (await ada.get('/tokens')).text())?.[1] ?? '';
    await ada.post(`/tokens/${id}/revoke`, []);
    expect((await call('/cases')).status).toBe(401);
    const { secret: writer } = await addToken(site.journal, 'writer', ['read', 'cases']);
    const closedCase = (await (await call('/cases/case-1', 'GET', undefined, writer)).json()) as {
      record: { version: number };
    };
    const reopen = { seen: closedCase.record?.version ?? 1, step: { step: 'reopened', why: 'x' } };
    expect((await call('/cases/case-1/steps', 'POST', reopen, writer)).status).toBe(403);
  });

  it('a browser reads the API with its session, and writes only from pages of this server', async () => {
    const sam = visit(site.app);
    await sam.signIn('sam');
    expect((await sam.get('/api/v1/cases')).status).toBe(200);
    const write = (headers: Record<string, string>) =>
      site.app.request(`${ORIGIN}/api/v1/cases`, {
        method: 'POST',
        headers: {
          Cookie: `session=${sam.cookies.get('session')}`,
          'Content-Type': 'application/json',
          ...headers,
        },
        body: JSON.stringify({ title: 'From a script' }),
      });
    expect((await write({})).status).toBe(403);
    expect((await write({ Origin: 'https://evil.test' })).status).toBe(403);
    expect((await write({ 'Sec-Fetch-Site': 'cross-site' })).status).toBe(403);
    expect((await write({ Origin: ORIGIN })).status).toBe(201);
    // Forms from elsewhere are stopped as before.
    const forged = await site.app.request(`${ORIGIN}/cases/new`, {
      method: 'POST',
      headers: {
        Cookie: `session=${sam.cookies.get('session')}`,
        'Content-Type': 'application/x-www-form-urlencoded',
        Origin: 'https://evil.test',
      },
      body: 'title=x',
    });
    expect(forged.status).toBe(403);
  });

  it('the audit log is searched, taken along, and says that it was', async () => {
    const ada = visit(site.app);
    await ada.signIn('ada');
    const page = await text(await ada.get('/audit?q=sam+shift&kind=case'));
    expect(page).toContain('case: opened');
    expect(page).not.toContain('sign in: signed in');
    expect(await text(await ada.get('/audit?outcome=refused'))).toContain('refused');
    expect((await ada.get('/audit?after=nonsense&from=x&kind=%00')).status).toBe(200);
    const csv = await (await ada.get('/audit.csv?kind=account')).text();
    expect(csv).toContain('account');
    const json = (await (await ada.get('/audit.json?kind=sign-in')).json()) as {
      lines: { action: string }[];
    };
    expect(json.lines.length).toBeGreaterThan(3);
    const { rows } = await searchAudit(site.journal, { kind: 'export' });
    expect(rows.map((one) => one.subject)).toEqual(expect.arrayContaining(['/audit.csv', '/audit.json']));
  });

  it('too many requests are slowed down', async () => {
    const busy = visit(site.app, '192.0.2.99');
    let last = 0;
    for (let n = 0; n < 700 && last !== 429; n++) last = (await busy.get('/')).status;
    expect(last).toBe(429);
    expect((await visit(site.app, '192.0.2.98').get('/')).status).toBe(303);
  });
});
