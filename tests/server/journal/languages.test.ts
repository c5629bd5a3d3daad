import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addToken, findDiagnosis, type KeptDiagnosis } from '../../../src/journal/index.js';
import { inLanguage } from '../../../src/language/scope.js';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import { languageOfKept, sayKeptLanguage } from '../../../src/server/journal/kept-language.js';
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

  it('is refused in German on a page, in English to a program', async () => {
    const opened = await send('/cases/new', { query: '?', title: 'Probe 2', who: 'Nachtschicht' });
    const path = opened.headers.get('location') ?? '';
    const close = { cause: 'nozzle-worn', how: 'by-trial', gone: 'yes', seen: '1', who: 'Nachtschicht' };
    const refused = await (await send(`${path}/record/closed`, close)).text();
    expect(refused).toContain(
      'Das lässt sich nicht festhalten: durch Versuch nachgewiesen braucht einen abgeschlossenen Versuch',
    );
    const long = await (await send(`${path}/record/noted`, { note: 'x'.repeat(10_001), who: 'N' })).text();
    expect(long).toContain('höchstens 10000 Zeichen');
    expect(await get('/cases/case-99')).toContain('Im Journal gibt es nichts unter Fall „case-99“.');
    const stale = await (await send(`${path}/record/noted`, { note: 'a', who: 'N', seen: '0' })).text();
    expect(stale).toContain('wurde inzwischen von Nachtschicht geändert');
    const { secret } = await addToken(site.journal, 'reader');
    const api = await site.app.request('/api/v1/cases/case-99', {
      headers: { ...GERMAN, authorization: `Bearer ${secret}` },
    });
    expect(await api.text()).toContain('There is no case \\"case-99\\" in the journal.');
  });

  it('is printed and looked at again in German; the diagnosis kept is English and says so', async () => {
    const opened = await send('/cases/new', {
      query: '?observations.end-breaks=marked&scope=position',
      title: 'Probe 3',
      who: 'Nachtschicht',
    });
    const path = opened.headers.get('location') ?? '';
    const sheet = await get(`${path}/report`);
    for (const words of [
      'Was gesehen wurde',
      'Mehr Fadenbrüche im Lauf (deutlich)',
      'Noch nicht abgeschlossen',
    ])
      expect(sheet).toContain(words);
    const again = await get(`${path}/again`);
    expect(again).toContain('Derselbe Fall nach heutigen Regeln');
    expect(await get(`${path}/diagnoses/1`)).toContain('abgelegt von Nachtschicht');
    const madeIn = 'Auf Englisch erstellt; die Sätze bleiben, wie sie waren.';
    for (const page of [path, `${path}/diagnoses/1`, `${path}/report`])
      expect(await get(page)).toContain(madeIn);
    // Made again by a reader of German it is kept in English all the same.
    const seen = /name="seen" value="(\d+)"/.exec(again)?.[1] ?? '';
    expect((await send(`${path}/again`, { seen, key: 'k-again', who: 'Nachtschicht' })).status).toBe(303);
    const kept = await findDiagnosis(site.journal, path.replace('/cases/', ''));
    expect(kept.number).toBe(2);
    expect(languageOfKept(kept.diagnosis)).toBe('en');
    expect(inLanguage('en', () => sayKeptLanguage(kept.diagnosis))).toBe('');
    // One that was kept in German is told as such to a reader of English.
    const input = { observations: { 'end-breaks': 'marked' } };
    const reading = readCaseObject(input, site.diagnostician.vocabulary, { partial: true });
    if (!reading.ok) throw new Error('the case cannot be read');
    const german = (await inLanguage('de', () =>
      site.diagnostician.diagnose(reading.case),
    )) as unknown as KeptDiagnosis;
    expect(inLanguage('en', () => sayKeptLanguage(german))).toBe(
      'Made in German; its sentences stay as they were.',
    );
    expect(inLanguage('de', () => sayKeptLanguage(german))).toBe('');
  });
});
