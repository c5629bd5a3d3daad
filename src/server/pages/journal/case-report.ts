import { Hono } from 'hono';
import { findCase } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import { joinWords, LEVEL_WORDS, ONSET_WORDS, SCOPE_WORDS, sentenceCase } from '../../../rules/words.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import { asRanking, readKept } from '../../journal/kept-case.js';
import { sayKeptLanguage } from '../../journal/kept-language.js';
import { lastDiagnosis } from '../../journal/last-diagnosis.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { caseFacts } from '../../views/journal/case.js';
import { describeStep } from '../../views/journal/case-steps.js';
import { sayDay, sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName, HOW_WORDS } from '../../views/journal/words.js';
import { describeSetup } from '../../views/setup-line.js';
import { sayPercent } from '../../words.js';

/** A case on one page, for the file or the wall. */
export function caseReportPages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono().get(
    '/cases/:id{case-[0-9]+}/report',
    atDesk(site, async (c, desk) => {
      const record = await findCase(desk.journal, pathPart(c, 'id'));
      const kept = await lastDiagnosis(desk.journal, record);
      const input = kept === undefined ? undefined : readKept(kept.input, site.vocabulary).case;
      const signs = Object.entries(input?.observations ?? {}).map(
        ([id, level]) => `${knowledge.book.symptoms.get(id)?.label ?? id} (${LEVEL_WORDS[level]})`,
      );
      const circumstances = [
        ...(input?.scope ?? []).map((one) => SCOPE_WORDS[one]),
        ...(input?.onset ?? []).map((one) => ONSET_WORDS[one]),
      ];
      const done = record.steps.filter(
        ({ data }) => !['opened', 'diagnosed', 'assigned', 'renamed', 'placed'].includes(data.step),
      );
      const { closure } = record;
      return c.html(
        site.page(
          'journal-sheet',
          { title: say('case-sheet.title', { number: record.number }), section: 'journal' },
          {
            backHref: `/cases/${record.id}`,
            backText: say('case-sheet.back'),
            demo: desk.demo,
            heading: record.title,
            top: [say('case-sheet.top', { number: record.number, day: sayDay(new Date().toISOString()) })],
            facts: caseFacts(record, await loadNames(desk.journal)),
            sections: [
              ...(signs.length === 0
                ? []
                : [
                    {
                      title: say('case-sheet.seen'),
                      lines: [
                        say('case-sheet.sentence', { text: signs.join('; ') }),
                        ...(circumstances.length === 0
                          ? []
                          : [say('case-sheet.sentence', { text: sentenceCase(joinWords(circumstances)) })]),
                        ...(input === undefined
                          ? []
                          : [say('case-sheet.setup', { setup: describeSetup(input.given) })]),
                      ],
                      table: undefined,
                    },
                  ]),
              ...(kept === undefined
                ? []
                : [
                    {
                      title: say('case-sheet.said'),
                      lines: [
                        sourceText(asRanking(kept.diagnosis)?.summary ?? ''),
                        sayKeptLanguage(kept.diagnosis),
                      ].filter((line) => line !== ''),
                      table: viewTable(
                        'causes',
                        say('case-sheet.first-causes'),
                        [say('case-sheet.cause'), `#${say('case-sheet.chance')}`],
                        kept.ranked
                          .slice(0, 4)
                          .map(([id, probability]) => [causeName(knowledge, id), sayPercent(probability)]),
                        '',
                      ),
                    },
                  ]),
              {
                title: say('case-sheet.done'),
                lines: [],
                table: viewTable(
                  'steps',
                  say('case-sheet.steps'),
                  [say('case-sheet.step'), say('case-sheet.when'), say('case-sheet.who')],
                  done.map((step) => {
                    const { title, lines } = describeStep(step.data, knowledge);
                    return [{ text: title, note: lines.join(' ') }, sayMoment(step.at), step.who];
                  }),
                  say('case-sheet.nothing-done'),
                ),
              },
              {
                title: say(closure === null ? 'case-sheet.not-closed' : 'case-sheet.result'),
                lines:
                  closure === null
                    ? []
                    : [
                        closure.cause === null
                          ? say('case-sheet.no-cause')
                          : say('case-sheet.root-cause', {
                              cause: causeName(knowledge, closure.cause),
                              how: closure.how === null ? '' : HOW_WORDS[closure.how],
                            }),
                        ...(closure.symptomGone === null
                          ? []
                          : [say(closure.symptomGone ? 'case-sheet.gone' : 'case-sheet.was-there')]),
                        ...(closure.note === '' ? [] : [closure.note]),
                      ],
                table: undefined,
              },
            ],
            signatures: [say('case-sheet.shift'), say('case-sheet.quality')],
          },
        ),
      );
    }),
  );
}
