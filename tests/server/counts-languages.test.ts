import { describe, expect, it } from 'vitest';
import { strayTexts, untranslated } from '../language/stray-texts.js';
import { testSite } from './site.js';

const { app } = testSite();
const ORIGIN = 'http://plant.test';
const ask = (path: string, language: string) =>
  app.request(`${ORIGIN}${path}`, { headers: { cookie: `language=${language}` } });

/** Questions without a file, asked and asked wrongly. */
const QUESTIONS = [
  '/counts',
  '/counts/rate?breaks=30&hours=4000&norm=5',
  '/counts/rate?breaks=x',
  '/counts/compare?breaks-a=3&hours-a=4000&breaks-b=15&hours-b=4000',
  '/counts/trial-plan?from=5&to=4&positions=8',
  '/counts/trial-plan?from=5&to=5',
  '/counts/trial?changed-breaks=3&changed-hours=4000&norm=5',
  '/counts/trial-positions?frame=240&trial=8',
  '/counts/wavelength?peak=0.1&unit=m&frame=frame-3',
  '/counts/table/none',
];
const OPTIONS = 'norm=5&positions=120&hours=24';

async function keep(sample: string): Promise<string> {
  const body = new FormData();
  body.set('sample', sample);
  const sent = await app.request(`${ORIGIN}/counts/table`, {
    method: 'POST',
    body,
    headers: { origin: ORIGIN },
  });
  return sent.headers.get('location') ?? '';
}

describe('counts in the language of the reader', () => {
  it('say nothing that is no message, and all of it in German', async () => {
    const tables = await Promise.all(['positions', 'log', 'shifts'].map(keep));
    const paths = [...QUESTIONS, ...tables, ...tables.map((table) => `${table}/answer?${OPTIONS}`)];
    // Names of frames and files, and what stands in the cells of the tables.
    const data = [
      /Frame \d, Hall [A-C](, (first|second) row)?/,
      /\b(frame-\d-by-position|frame-\d-log|shifts)\.csv/i,
      /^\s*(Frame|Position|Breaks|Hours run|Time|Reason|Date|Shift|End breaks|Rotor hours)\s*$/,
      /\b(early|late|night|end break|sliver out)\b/,
    ];
    for (const path of paths) {
      expect(strayTexts(await (await ask(path, 'ar-XB')).text(), data), path).toEqual([]);
      expect(untranslated(await (await ask(path, 'de')).text()), path).toEqual([]);
    }
  });

  it('are kept by language, and taken away in one', async () => {
    const table = await keep('log');
    const page = async (language: string) => (await ask(`${table}/answer?${OPTIONS}`, language)).text();
    expect(await page('en')).toContain('Since about 11 Nov');
    expect(await page('de')).toContain('Etwa seit dem 11. Nov.');
    expect(await page('en')).toContain('Since about 11 Nov');
    const csv = async (language: string) => (await ask(`${table}/figures.csv?${OPTIONS}`, language)).text();
    expect(await csv('de')).toBe(await csv('en'));
  });
});
