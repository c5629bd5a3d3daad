import { describe, expect, it } from 'vitest';
import { strayTexts } from '../language/stray-texts.js';
import { page, testSite, textOf } from './site.js';

const { app, diagnostician, vignettes } = testSite();
const cites = [...diagnostician.knowledge.book.sources.values()].map((source) => source.cite);
/** The title of a page cannot hold a mark. */
const titles = [...vignettes.values()].map((vignette) => vignette.title);
const inLanguage = (language: string, path: string) =>
  page(app, path, 200, { cookie: `language=${language}` });
/** In one piece what is drawn in lines or marked, and without what stands in English and says so. */
const withoutForeign = (html: string) =>
  html
    .replace(/<\/tspan>\s*<tspan[^>]*>/g, ' ')
    .replace(/<\/?(?:tspan|mark)\b[^>]*>/g, '')
    .replace(/<span lang="en" dir="ltr">[^<]*<\/span>/g, ' ');

const PAGES = [
  '/knowledge',
  '/knowledge?q=ring',
  '/knowledge?q=qqqq',
  '/knowledge/check',
  '/knowledge/causes',
  '/knowledge/sources',
  '/knowledge/cases',
  '/knowledge/causes/nozzle-too-smooth/run',
  '/knowledge/causes/blend-change',
  '/knowledge/symptoms/end-breaks',
  '/knowledge/mechanisms/false-twist',
  '/knowledge/checks/groove-look',
  '/knowledge/actions/lower-twist',
  '/knowledge/cases/half-a-trial/run',
];

describe('the knowledge in other languages', () => {
  it.each(PAGES)('has no text of its own beside the catalogue: %s', async (path) => {
    expect(
      strayTexts(withoutForeign(await inLanguage('ar-XB', path)), [...cites, ...titles, /\d+\u00a0min/]),
    ).toEqual([]);
  });

  it('is searched, listed and ordered in the language of the reader, whoever came before', async () => {
    const english = await page(app, '/knowledge?q=nozzle+worn');
    const german = await inLanguage('de', '/knowledge?q=verschlissen+D%C3%BCsen');
    expect(english).toContain('/knowledge/causes/nozzle-worn');
    expect(german).toContain('/knowledge/causes/nozzle-worn');
    expect(textOf(german)).toContain('Abzugsdüse');
    expect(german).toContain('<mark>Düse</mark>');
    expect(textOf(await page(app, '/knowledge?q=D%C3%BCsen'))).toContain('Nothing holds all of');
  });

  it('marks a text found in English as such on either side of the word', async () => {
    const html = await inLanguage('de', '/knowledge?q=nozzle');
    expect(html).toMatch(
      /<span lang="en" dir="ltr">[^<]+<\/span><mark><span lang="en" dir="ltr">[Nn]ozzle<\/span><\/mark>/,
    );
    expect(html).not.toMatch(/[\uE000\uE001]/);
  });

  it('puts conditions into German with the verb at their end', async () => {
    const text = textOf(await inLanguage('de', '/knowledge/causes/blend-change'));
    expect(text).toContain('Wenn der Anteil Baumwolle mindestens 99,5 % beträgt oder');
  });
});
