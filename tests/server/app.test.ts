import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import { OPEN_TO_ANYBODY } from '../../src/server/access/settings.js';
import { createApp } from '../../src/server/app.js';
import { EngineBusy, EngineTimeout } from '../../src/server/engine-pool.js';
import { page, post, testSite, textOf } from './site.js';

const { app, mill, diagnostician } = testSite();
const SEEN = '/bench?frame=frame-3&observations.end-breaks=marked';

describe('what every answer carries', () => {
  it('forbids everything that does not come from this server', async () => {
    const { headers } = await app.request('/');
    expect(headers.get('Content-Security-Policy')).toBe(
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'",
    );
    expect(headers.get('Referrer-Policy')).toBe('same-origin');
    expect(headers.get('X-Content-Type-Options')).toBe('nosniff');
    expect(headers.get('Cross-Origin-Opener-Policy')).toBeNull();
  });

  it('keeps pages out of shared caches and errors too', async () => {
    for (const path of ['/', '/bench', '/knowledge', '/nowhere'])
      expect((await app.request(path)).headers.get('Cache-Control')).toBe('private, no-store');
  });

  it('says that it is well', async () => {
    const response = await app.request('/healthz');
    expect(await response.json()).toEqual({ ok: true, knowledge: diagnostician.knowledge.version });
  });
});

describe('assets', () => {
  it('have names that change with their content, and may be kept for a year', async () => {
    const html = await page(app, '/');
    const urls = [...html.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g)].map((match) => match[1] ?? '');
    expect(urls).toHaveLength(4);
    for (const url of urls) {
      expect(url).toMatch(/\.[0-9a-f]{10}\./);
      const response = await app.request(url);
      expect(response.status).toBe(200);
      expect(response.headers.get('Cache-Control')).toBe('public, max-age=31536000, immutable');
    }
    expect((await app.request('/assets/app.0000000000.css')).status).toBe(404);
    expect((await app.request('/assets/..%2f..%2fshell.eta')).status).toBe(404);
  });

  it('come compressed, and the first page with all it needs stays below 60 kB', async () => {
    const sent = async (path: string) => {
      const response = await app.request(path, { headers: { 'Accept-Encoding': 'gzip' } });
      expect(response.headers.get('Content-Encoding')).toBe('gzip');
      const body = Buffer.from(await response.arrayBuffer());
      expect(gunzipSync(body).length).toBeGreaterThan(body.length);
      return { body, plain: gunzipSync(body).toString() };
    };
    for (const first of ['/', SEEN]) {
      const { body, plain } = await sent(first);
      let bytes = body.length;
      for (const [, url = ''] of plain.matchAll(/(?:href|src)="(\/assets\/[^"]+)"/g))
        bytes += (await sent(url)).body.length;
      expect(bytes).toBeLessThan(60_000);
    }
  });
});

describe('what goes wrong', () => {
  it('gives a whole page for an unknown address', async () => {
    for (const path of [
      '/nowhere',
      '/cause/no-such-cause',
      '/knowledge/causes/none',
      '/knowledge/cause/none',
      '/knowledge/thing',
      '/knowledge/thing/x',
    ]) {
      const html = await page(app, path, 404);
      expect(html).toContain('<main');
      expect(textOf(html)).toContain('There is no such page');
    }
  });

  it('says which methods a page takes', async () => {
    const response = await app.request('http://plant.test/bench', {
      method: 'DELETE',
      headers: { Origin: 'http://plant.test' },
    });
    expect(response.status).toBe(405);
    expect(response.headers.get('Allow')).toContain('POST');
    expect(await response.text()).toContain('<main');
  });

  it('takes forms only', async () => {
    const response = await app.request('http://plant.test/bench', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', Origin: 'http://plant.test' },
      body: '{}',
    });
    expect(response.status).toBe(415);
    expect(await response.text()).toContain('<main');
  });

  it('refuses forms from elsewhere, on plain http too', async () => {
    const send = (origin: string | undefined) =>
      app.request('http://plant.test/bench', {
        method: 'POST',
        headers: {
          'Content-Type': 'application/x-www-form-urlencoded',
          ...(origin === undefined ? {} : { Origin: origin }),
        },
        body: 'scope=frame',
      });
    expect((await send('http://elsewhere.test')).status).toBe(403);
    expect((await send('null')).status).toBe(403);
    expect((await send('http://plant.test')).status).toBe(303);
  });

  it('takes the public origin for the right one behind a proxy', async () => {
    const behind = createApp({
      diagnostician,
      mill,
      access: { ...OPEN_TO_ANYBODY, publicOrigin: 'https://plant.test' },
    });
    const response = await behind.request('http://127.0.0.1:4680/bench', {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: 'https://plant.test' },
      body: 'scope=frame',
    });
    expect(response.status).toBe(303);
  });

  it('refuses a form that is too large', async () => {
    const response = await post(app, '/bench', [['note', 'x'.repeat(1024 * 1024 + 10)]]);
    expect(response.status).toBe(413);
    expect(await response.text()).toContain('<main');
  });

  it('reports an unforeseen fault under the reference that the page shows, without the case', async () => {
    const log: string[] = [];
    const broken: Diagnostician = {
      ...diagnostician,
      diagnose: () => Promise.reject(new Error('lost the thread')),
    };
    const faulty = createApp({ diagnostician: broken, mill, log: (line) => log.push(line) });
    const html = await page(faulty, SEEN, 500);
    const reference = /Reference: <code>([0-9a-f]+)<\/code>/.exec(html)?.[1] ?? 'none';
    expect(log).toHaveLength(1);
    expect(log[0]).toContain(reference);
    expect(log[0]).toContain('lost the thread');
    expect(log[0]).not.toContain('end-breaks');
    expect(html).not.toContain('lost the thread');
  });

  it('says so when a case takes too long', async () => {
    const slow: Diagnostician = { ...diagnostician, diagnose: () => Promise.reject(new EngineTimeout(10)) };
    const html = await page(createApp({ diagnostician: slow, mill, log: () => {} }), SEEN, 503);
    expect(textOf(html)).toContain('This takes too long');
  });

  it('says that it is busy and when to ask again, and keeps what was typed', async () => {
    const reject = () => Promise.reject(new EngineBusy(3));
    const busy: Diagnostician = { ...diagnostician, diagnose: reject, rank: reject, report: reject };
    const full = createApp({ diagnostician: busy, mill, log: () => {} });
    const whole = await full.request(SEEN);
    expect(whole.status).toBe(503);
    expect(whole.headers.get('retry-after')).toBe('3');
    expect(whole.headers.get('refresh')).toBe('3');
    expect(textOf(await whole.text())).toContain('The server is busy');
    // A swap gets an element of the same place that asks again, not a page in a page.
    const part = await full.request(SEEN.replace('/bench?', '/bench/answer?'), {
      headers: { 'hx-request': 'true', 'hx-request-type': 'partial', 'hx-target': 'section#answer' },
    });
    expect(part.status).toBe(503);
    expect(part.headers.get('retry-after')).toBe('3');
    const html = await part.text();
    expect(html).toMatch(/^<div id="answer"/);
    expect(html).toContain('hx-trigger="load delay:3s"');
    expect(html).toContain('/bench/answer?');
    expect(html).not.toContain('<main');
  });
});
