import { gunzipSync } from 'node:zlib';
import { Hono } from 'hono';
import { describe, expect, it } from 'vitest';
import { compressPages } from '../../src/server/compress-pages.js';

const PAGE = `<p>${'Füße und Fäden, 20 Ne. '.repeat(200)}</p>`;

const app = new Hono()
  .use(compressPages)
  .use(async (c, next) => {
    await next();
    c.res.headers.append('Vary', 'Cookie');
  })
  .get('/page', (c) => {
    c.header('Set-Cookie', 'a=1', { append: true });
    c.header('Set-Cookie', 'b=2', { append: true });
    return c.html(PAGE, 422);
  })
  .get('/long', (c) => c.html(PAGE.repeat(10)))
  .get('/small', (c) => c.html('<p>No.</p>'))
  .get('/table', (c) => c.body(PAGE, 200, { 'Content-Type': 'text/csv; charset=utf-8' }))
  .get('/picture', (c) => c.body(PAGE, 200, { 'Content-Type': 'image/png' }))
  .get('/changed', async (c) => {
    c.html(PAGE);
    return c.html(`<p>${'Another page. '.repeat(200)}</p>`);
  })
  .get('/twice', (c) => c.html(PAGE, 200, { 'Content-Encoding': 'br' }));
app.onError((error, c) => c.html(`${PAGE}${error.message}`, 500));
app.get('/fault', () => {
  throw new Error('broken');
});

const ask = (path: string, accepted?: string, method = 'GET') =>
  app.request(path, { method, headers: accepted === undefined ? {} : { 'Accept-Encoding': accepted } });
const unpacked = async (response: Response) =>
  gunzipSync(Buffer.from(await response.arrayBuffer())).toString('utf8');

describe('pages are compressed', () => {
  it('keeping status, headers, cookies and every character', async () => {
    const response = await ask('/page', 'gzip, deflate, br');
    expect(response.status).toBe(422);
    expect(response.headers.get('Content-Encoding')).toBe('gzip');
    expect(response.headers.get('Content-Type')).toBe('text/html; charset=UTF-8');
    expect(response.headers.get('Vary')).toBe('Cookie, Accept-Encoding');
    expect(response.headers.getSetCookie()).toEqual(['a=1', 'b=2']);
    expect(await unpacked(response)).toBe(PAGE);
  });

  it.each([undefined, 'identity', 'br', 'gzip;q=0', 'gzip;q=0, *', ''])(
    'not for those who accept %s, and caches are told that it may differ',
    async (accepted) => {
      const response = await ask('/page', accepted);
      expect(response.headers.get('Content-Encoding')).toBeNull();
      expect(response.headers.get('Vary')).toBe('Cookie, Accept-Encoding');
      expect(await response.text()).toBe(PAGE);
    },
  );

  it('whether long or short', async () => {
    expect(await unpacked(await ask('/long', 'gzip'))).toBe(PAGE.repeat(10));
  });

  it.each(['*', 'br, GZIP;q=0.5'])('for those who accept %s', async (accepted) => {
    expect(await unpacked(await ask('/page', accepted))).toBe(PAGE);
  });

  it('also those that tell of a fault', async () => {
    const response = await ask('/fault', 'gzip');
    expect(response.status).toBe(500);
    expect(await unpacked(response)).toBe(`${PAGE}broken`);
  });

  it('as they are sent, not as one was made before', async () => {
    expect(await unpacked(await ask('/changed', 'gzip'))).toMatch(/^<p>Another page/);
  });

  it('not when short, asked for by HEAD or compressed already', async () => {
    expect(await (await ask('/small', 'gzip')).text()).toBe('<p>No.</p>');
    expect((await ask('/page', 'gzip', 'HEAD')).headers.get('Content-Encoding')).toBeNull();
    const twice = await ask('/twice', 'gzip');
    expect(twice.headers.get('Content-Encoding')).toBe('br');
    expect(await twice.text()).toBe(PAGE);
  });

  it('and other texts, but no pictures', async () => {
    expect(await unpacked(await ask('/table', 'gzip'))).toBe(PAGE);
    expect((await ask('/picture', 'gzip')).headers.get('Content-Encoding')).toBeNull();
  });
});
