import { Hono } from 'hono';
import { findCase } from '../../../journal/index.js';
import { joinWords, LEVEL_WORDS, ONSET_WORDS, SCOPE_WORDS, sentenceCase } from '../../../rules/words.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import { asRanking, readKept } from '../../journal/kept-case.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { caseFacts } from '../../views/journal/case.js';
import { describeStep } from '../../views/journal/case-steps.js';
import { sayDay, sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName, HOW_WORDS } from '../../views/journal/words.js';
import { describeSetup } from '../../views/setup-line.js';
import { sayPercent } from '../../words.js';
import { lastDiagnosis } from './cases.js';

/** A case on one page, for the file or the wall. */
export function caseReportPages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono().get(
    '/cases/:id{case-[0-9]+}/report',
    atDesk(site, async (c, desk) => {
      const record = await findCase(desk.journal, pathPart(c, 'id'));
      const kept = await lastDiagnosis(desk.journal, record.id);
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
          { title: `Report on case ${record.number}`, section: 'journal' },
          {
            backHref: `/cases/${record.id}`,
            backText: 'Back to the case',
            demo: desk.demo,
            heading: record.title,
            top: [`Case report ${record.number} · printed ${sayDay(new Date().toISOString())}`],
            facts: caseFacts(record, await loadNames(desk.journal)),
            sections: [
              ...(signs.length === 0
                ? []
                : [
                    {
                      title: 'What was seen',
                      lines: [
                        `${signs.join('; ')}.`,
                        ...(circumstances.length === 0 ? [] : [`${sentenceCase(joinWords(circumstances))}.`]),
                        ...(input === undefined ? [] : [`Setup: ${describeSetup(input.given)}.`]),
                      ],
                      table: undefined,
                    },
                  ]),
              ...(kept === undefined
                ? []
                : [
                    {
                      title: 'What the bench said',
                      lines: [asRanking(kept.diagnosis)?.summary ?? ''].filter((line) => line !== ''),
                      table: viewTable(
                        'causes',
                        'First causes',
                        ['Cause', '#Chance'],
                        kept.ranked
                          .slice(0, 4)
                          .map(([id, probability]) => [causeName(knowledge, id), sayPercent(probability)]),
                        '',
                      ),
                    },
                  ]),
              {
                title: 'What was done',
                lines: [],
                table: viewTable(
                  'steps',
                  'Steps',
                  ['Step', 'When', 'Who'],
                  done.map((step) => {
                    const { title, lines } = describeStep(step.data, knowledge);
                    return [{ text: title, note: lines.join(' ') }, sayMoment(step.at), step.who];
                  }),
                  'Nothing has been recorded yet.',
                ),
              },
              {
                title: closure === null ? 'Not closed yet' : 'Result',
                lines:
                  closure === null
                    ? []
                    : [
                        closure.cause === null
                          ? 'No cause was found.'
                          : `Root cause: ${causeName(knowledge, closure.cause)} (${closure.how === null ? '' : HOW_WORDS[closure.how]}).`,
                        ...(closure.symptomGone === null
                          ? []
                          : [closure.symptomGone ? 'The trouble is gone.' : 'The trouble was still there.']),
                        ...(closure.note === '' ? [] : [closure.note]),
                      ],
                table: undefined,
              },
            ],
            signatures: ['Shift', 'Quality'],
          },
        ),
      );
    }),
  );
}
