import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addToken, logComplaint } from '../../src/journal/index.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import { OPEN_TO_ANYBODY } from '../../src/server/access/settings.js';
import { API_BASE } from '../../src/server/api/base.js';
import { createApp } from '../../src/server/app.js';
import { type JournalSite, openJournalSite } from './journal/journal-site.js';
import { post, testSite, textOf } from './site.js';

const { app, mill, diagnostician } = testSite();
const ORIGIN = 'http://plant.test';

describe('headers', () => {
  const behind = createApp({
    diagnostician,
    mill,
    access: { ...OPEN_TO_ANYBODY, publicOrigin: 'https://plant.test' },
  });

  it('say https for good where there is https, and never where there is none', async () => {
    for (const path of ['/', '/nowhere', `${API_BASE}/nowhere`, '/healthz']) {
      expect((await behind.request(`http://127.0.0.1${path}`)).headers.get('Strict-Transport-Security')).toBe(
        'max-age=31536000; includeSubDomains',
      );
      // What a stranger says of the way the request came changes nothing.
      const { headers } = await app.request(`${ORIGIN}${path}`, {
        headers: { 'X-Forwarded-Proto': 'https', Forwarded: 'proto=https' },
      });
      expect(headers.get('Strict-Transport-Security')).toBeNull();
    }
  });

  it('allow no other site to read, and no device to be used', async () => {
    const { headers } = await app.request(`${ORIGIN}/`, { headers: { Origin: 'http://elsewhere.test' } });
    expect(headers.get('Access-Control-Allow-Origin')).toBeNull();
    expect(headers.get('Cross-Origin-Resource-Policy')).toBe('same-origin');
    expect(headers.get('Permissions-Policy')).toContain('camera=()');
    expect(headers.get('X-Powered-By')).toBeNull();
    expect(headers.get('Server')).toBeNull();
  });

  it('never repeat the host that a request names', async () => {
    for (const path of ['/', '/bench', '/nowhere', '/training', '/counts']) {
      const response = await app.request(`http://elsewhere.test${path}`, {
        headers: { 'X-Forwarded-Host': 'elsewhere.test' },
      });
      expect(await response.text()).not.toContain('elsewhere.test');
      expect(response.headers.get('Location') ?? '').not.toContain('elsewhere.test');
    }
  });
});

describe('forms', () => {
  const send = (type: string, body: string) =>
    app.request(`${ORIGIN}/bench`, {
      method: 'POST',
      headers: { 'Content-Type': type, Origin: ORIGIN },
      body,
    });

  it('that broke off are told so, as no fault of the program', async () => {
    for (const [type, body] of [
      ['multipart/form-data; boundary=edge', '--edge\r\nContent-Disposition: form-data; name="a"\r\n\r\n1'],
      ['multipart/form-data', 'anything'],
    ] as const) {
      const response = await send(type, body);
      expect(response.status).toBe(400);
      expect(await response.text()).toContain('<main');
    }
  });

  it('have a bounded number of fields', async () => {
    const fields = (count: number) => Array.from({ length: count }, (_, n) => `a${n}=1`).join('&');
    expect((await send('application/x-www-form-urlencoded', fields(1500))).status).toBe(303);
    expect((await send('application/x-www-form-urlencoded', fields(2500))).status).toBe(413);
  });

  it('are what they seem: no method, no prototype comes out of a field', async () => {
    const response = await post(app, '/bench', [
      ['_method', 'DELETE'],
      ['__proto__', 'x'],
      ['constructor.prototype.polluted', 'x'],
      ['setup.count', '20 Ne'],
    ]);
    expect(response.status).toBe(303);
    expect(response.headers.get('Location')).toBe('/bench?setup.count=20+Ne#answer');
    expect('polluted' in {}).toBe(false);
  });
});

describe('a fault of the program', () => {
  const broken: Diagnostician = {
    ...diagnostician,
    rank: () => Promise.reject(new Error('lost the thread at /srv/peelpoint/dist')),
    diagnose: () => Promise.reject(new Error('lost the thread at /srv/peelpoint/dist')),
  };

  it.each([
    ['a page', '/bench?frame=frame-3&observations.end-breaks=marked', {}],
    [
      'a part of a page',
      '/bench/answer?frame=frame-3&observations.end-breaks=marked',
      { 'HX-Request': 'true', 'HX-Request-Type': 'partial', 'HX-Target': 'section#answer' },
    ],
    ['the API', `${API_BASE}/diagnose`, undefined],
  ])('is told with a reference that the log has too: %s', async (_, path, headers) => {
    const log: string[] = [];
    const faulty = createApp({ diagnostician: broken, mill, log: (line) => log.push(line) });
    const response = await faulty.request(
      `${ORIGIN}${path}`,
      headers === undefined
        ? {
            method: 'POST',
            headers: { 'Content-Type': 'application/json' },
            body: JSON.stringify({
              setup: { fibre: 'cotton', count: '20 Ne' },
              observations: { 'end-breaks': 'marked' },
            }),
          }
        : { headers },
    );
    expect(response.status).toBe(500);
    const text = await response.text();
    const reference = response.headers.get('X-Request-Id') ?? 'none';
    expect(text).toContain(reference);
    expect(text).not.toMatch(/lost the thread|\/srv\/|dist/);
    expect(log.join('\n')).toContain(reference);
    expect(log.join('\n')).toContain('lost the thread');
  });
});

describe('what people typed', () => {
  let site: JournalSite;
  let secret: string;
  const FORMULA = '=HYPERLINK("http://elsewhere.test","x")';
  const TAG = '</title></script><img src=x onerror=alert(1)>"\'';
  beforeAll(async () => {
    site = await openJournalSite(false);
    secret = (await addToken(site.journal, 'planning')).secret;
    for (const customer of [FORMULA, TAG, '+49 30', '@SUM(A1)', '-1+2', '\t=1', '＝1'])
      await logComplaint(
        site.journal,
        { customer, fabricFault: customer, receivedAt: '2026-03-02T06:15:00Z' } as Parameters<
          typeof logComplaint
        >[1],
        { who: FORMULA },
      );
    for (const title of [FORMULA, TAG])
      await site.app.request(`${ORIGIN}${API_BASE}/cases`, {
        method: 'POST',
        headers: { Authorization: `Bearer ${secret}`, 'Content-Type': 'application/json' },
        body: JSON.stringify({ title }),
      });
  });
  afterAll(async () => site?.close());

  it('is never a formula in a table taken along', async () => {
    let formulas = 0;
    for (const path of ['/cases.csv', '/complaints.csv', '/quality.csv', '/parts.csv']) {
      const response = await site.app.request(`${ORIGIN}${path}`);
      expect(response.status, path).toBe(200);
      expect(response.headers.get('Content-Disposition')).toMatch(/^attachment; filename="[a-z-]+\.csv"$/);
      for (const line of (await response.text()).replace(/^\ufeff/, '').split('\r\n'))
        for (const cell of line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/)) {
          const plain = cell.replace(/^"/, '');
          if (plain.includes('HYPERLINK')) formulas++;
          expect(/^\s*[=+@＝]|^\s*-(?!\d+(?:\.\d+)?$)/.test(plain), `${path}: ${cell}`).toBe(false);
        }
    }
    expect(formulas).toBeGreaterThanOrEqual(2);
  });

  it('is never markup on a page', async () => {
    for (const path of ['/cases', '/complaints', '/complaints/complaint-2', '/cases/case-2', '/journal']) {
      const response = await site.app.request(`${ORIGIN}${path}`);
      expect(response.status, path).toBe(200);
      const html = await response.text();
      expect(html, path).not.toContain('<img src=x');
      if (path.endsWith('-2')) expect(textOf(html)).toContain('onerror=alert(1)');
    }
  });

  it('is JSON under its own type when taken along as JSON', async () => {
    for (const path of ['/cases.json', '/complaints.json', '/quality.json']) {
      const response = await site.app.request(`${ORIGIN}${path}`);
      expect(response.headers.get('Content-Type')).toMatch(/^application\/json/);
      expect(response.headers.get('Content-Disposition')).toMatch(/^attachment/);
      JSON.parse(await response.text());
    }
  });
});
