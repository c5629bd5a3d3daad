import { afterAll, beforeAll, describe, expect, it } from 'vitest';

import { type JournalSite, openJournalSite } from './journal-site.js';

let site: JournalSite;
beforeAll(async () => {
  site = await openJournalSite(false);
});
afterAll(async () => site.close());

const GERMAN = { cookie: 'language=de' };
const get = async (path: string) => (await site.app.request(path, { headers: GERMAN })).text();
const send = (path: string, fields: Record<string, string>) =>
  site.app.request(path, {
    method: 'POST',
    headers: { ...GERMAN, origin: 'http://localhost' },
    body: new URLSearchParams(fields),
  });

describe('a case in German', () => {
  it('is opened, looked into and closed in German, with a decimal comma; what is kept of the answer is English', async () => {
    const query = 'observations.end-breaks=marked&scope=position';
    const form = await get(`/cases/new?${query}`);
    expect(form).toContain('Einen Fall eröffnen');
    expect(form).toContain('Mehr Fadenbrüche im Lauf, eine Spinnstelle');
    const opened = await send('/cases/new', { query: `?${query}`, title: 'Probe', who: 'Nachtschicht' });
    expect(opened.status).toBe(303);
    const path = opened.headers.get('location') ?? '';
    const page = await get(path);
    for (const words of [
      'Was kommt als Nächstes?',
      'Als Nächstes kontrollieren',
      'Offen',
      'Diagnose abgelegt',
    ])
      expect(page).toContain(words);
    // The summary kept is English and says so.
    expect(page).toMatch(/<span lang="en" dir="ltr">(?:“|No cause|This may)/);

    const wrong = await send(`${path}/record/check-made`, { check: 'nozzle-look', minutes: 'viel', who: '' });
    expect(wrong.status).toBe(422);
    const again = await wrong.text();
    expect(again).toContain('Arbeitszeit: „viel“ ist keine Zahl ab 0.');
    expect(again).toContain('Ihr Name fehlt.');
    const right = await send(`${path}/record/check-made`, {
      check: 'nozzle-look',
      outcomes: 'track',
      minutes: '7,5',
      seen: '1',
      who: 'Nachtschicht',
    });
    expect([303, 409]).toContain(right.status);
  });
});
