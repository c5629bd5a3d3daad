import { describe, expect, it } from 'vitest';
import { testSite } from './site.js';

const { app } = testSite();
const get = (path: string, headers: Record<string, string> = {}) => app.request(path, { headers });

describe('the language of a page', () => {
  it('is what the reader chose, else what the browser asks for, else English', async () => {
    const language = async (headers: Record<string, string>) =>
      /<html lang="([^"]*)" dir="([^"]*)">/
        .exec(await (await get('/convert', headers)).text())
        ?.slice(1)
        .join(' ');
    expect(await language({})).toBe('en-GB ltr');
    expect(await language({ 'accept-language': 'de-CH,en;q=0.5' })).toBe('de-DE ltr');
    expect(await language({ cookie: 'language=en', 'accept-language': 'de' })).toBe('en-GB ltr');
    expect(await language({ cookie: 'language=ar-XB' })).toBe('en-XB rtl');
    expect(await language({ cookie: 'language=__proto__' })).toBe('en-GB ltr');
  });

  it('is told to caches, and does not touch what machines read', async () => {
    const page = await get('/convert', { cookie: 'language=de' });
    expect(page.headers.get('vary')).toContain('Accept-Language');
    expect(page.headers.get('content-language')).toBe('de-DE');
    expect(
      (await get('/api/v1/openapi.json', { cookie: 'language=de' })).headers.get('content-language'),
    ).toBeNull();
  });

  it('says that the German texts have not been reviewed', async () => {
    expect(await (await get('/convert', { cookie: 'language=de' })).text()).toContain('noch kein Spinner');
    expect(await (await get('/convert')).text()).not.toContain('class="unreviewed"');
  });

  it('is chosen by a plain form that leads back to where it stood, never elsewhere', async () => {
    const choose = (language: string, referer?: string) =>
      app.request('/language', {
        method: 'POST',
        body: new URLSearchParams({ language }),
        headers: { origin: 'http://localhost', ...(referer === undefined ? {} : { referer }) },
      });
    const chosen = await choose('de', 'http://localhost/bench?frame=frame-3');
    expect([chosen.status, chosen.headers.get('location')]).toEqual([303, '/bench?frame=frame-3']);
    expect(chosen.headers.get('set-cookie')).toMatch(
      /^language=de; Max-Age=31536000; Path=\/; HttpOnly; SameSite=Lax$/,
    );
    expect((await choose('xx')).headers.get('set-cookie')).toBeNull();
    expect((await choose('de', 'http://elsewhere.example//evil.example/x')).headers.get('location')).toBe(
      '/',
    );
  });
});
