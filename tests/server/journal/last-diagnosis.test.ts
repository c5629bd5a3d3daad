import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  findCase,
  findDiagnosis,
  type Journal,
  recordDiagnosis,
  searchCases,
} from '../../../src/journal/index.js';
import { SOURCE_LANGUAGE } from '../../../src/language/languages.js';
import { inLanguage } from '../../../src/language/scope.js';
import { FAMILIES } from '../../../src/rules/knowledge/vocabulary.js';
import { asRanking } from '../../../src/server/journal/kept-case.js';
import { languageOfKept } from '../../../src/server/journal/kept-language.js';
import { lastDiagnosis } from '../../../src/server/journal/last-diagnosis.js';
import { loadNames } from '../../../src/server/journal/names.js';
import { viewCase } from '../../../src/server/views/journal/case.js';
import { type JournalSite, openJournalSite } from './journal-site.js';

const HEAD = { demo: true, tabs: [] };

describe('the last diagnosis of a case in brief', () => {
  let site: JournalSite;
  let journal: Journal;
  beforeAll(async () => {
    site = await openJournalSite();
    journal = site.journal;
  });
  afterAll(() => site.close());

  it('shows on the page of every case what the whole one shows, in every language, at a tenth of its size', async () => {
    const { knowledge } = site.diagnostician;
    const names = await loadNames(journal);
    let [whole, brief, whichAsk] = [0, 0, 0];
    for (const { id } of (await searchCases(journal, {}, { size: 60 })).rows) {
      const record = await findCase(journal, id);
      const short = await lastDiagnosis(journal, record);
      if (record.diagnoses.length === 0) {
        expect(short).toBeUndefined();
        continue;
      }
      const full = await findDiagnosis(journal, id);
      // Also as it would look if the case were open.
      for (const one of [
        record,
        { ...record, state: 'checking' as const, closure: null, steps: [], checks: [] },
      ])
        for (const language of [SOURCE_LANGUAGE, 'de'] as const)
          inLanguage(language, () => {
            const page = viewCase(one, short, '/bench?a=b', knowledge, names, HEAD);
            expect(page).toEqual(viewCase(one, full, '/bench?a=b', knowledge, names, HEAD));
            if (page.nextChecks.length > 0 && page.nextActions.length > 0) whichAsk++;
          });
      expect({ ...short, diagnosis: 0 }).toEqual({ ...full, diagnosis: 0 });
      whole += JSON.stringify(full.diagnosis).length;
      brief += JSON.stringify(short?.diagnosis).length;
    }
    expect(whichAsk).toBeGreaterThan(5);
    expect(brief).toBeLessThan(whole / 10);
  });

  it('is the new one as soon as there is one', async () => {
    const [row] = (await searchCases(journal, { state: ['open', 'checking'] })).rows;
    const before = await findCase(journal, row?.id ?? '');
    const old = await lastDiagnosis(journal, before);
    expect(await lastDiagnosis(journal, before)).toBe(old);
    const { input, diagnosis } = await findDiagnosis(journal, before.id);
    // Made by a reader of German: told by the families of all causes, not only of those shown.
    const german = inLanguage('de', () =>
      (asRanking(diagnosis)?.causes ?? []).map((cause) => ({
        ...cause,
        familyLabel: FAMILIES[cause.family],
      })),
    );
    await recordDiagnosis(
      journal,
      { id: before.id, seen: before.version },
      { input, diagnosis: { ...diagnosis, knowledgeVersion: 'another', causes: german } },
      { who: 'Ruth' },
    );
    const now = await lastDiagnosis(journal, await findCase(journal, before.id));
    expect(now).toMatchObject({ number: (old?.number ?? 0) + 1, knowledgeVersion: 'another' });
    expect([old, now].map((one) => one && languageOfKept(one.diagnosis))).toEqual(['en', 'de']);
  });
});
