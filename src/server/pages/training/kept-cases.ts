import { Hono } from 'hono';
import { type CaseFilter, findCase, findDiagnosis, searchCases } from '../../../journal/index.js';
import { makeFromKept } from '../../../rules/training/index.js';
import { errorPage } from '../../errors.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import { inputWithFindings } from '../../journal/kept-case.js';
import type { Site } from '../../site.js';
import { sayDay } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName } from '../../views/journal/words.js';
import { renderCase } from './practice-cases.js';

/** Closed cases whose cause is proved or seen can be made into practice. */
const USABLE: CaseFilter = { state: ['closed'], outcome: ['confirmed'] };
const SHOWN = 40;

/** Practice cases from closed cases of the journal, without anything that says whose frame it was. */
export function keptCasePages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono()
    .get(
      '/training/cases/from-journal',
      atDesk(site, async (c, desk) => {
        const after = c.req.query('after');
        const { rows, next } = await searchCases(desk.journal, USABLE, {
          size: SHOWN,
          ...(after === undefined ? {} : { after }),
        });
        const usable = rows.filter((one) => one.firstRanking !== null && one.closure?.cause != null);
        return c.html(
          site.page(
            'practice-cases',
            { title: 'Closed cases for practice', section: 'training' },
            {
              demo: desk.demo,
              links: [
                { href: '/training/cases', text: 'Practice cases of your own' },
                ...(next === null
                  ? []
                  : [
                      {
                        href: `/training/cases/from-journal?after=${encodeURIComponent(next)}`,
                        text: 'Older ones',
                      },
                    ]),
              ],
              table: viewTable(
                'closed',
                'Closed cases whose cause is known',
                ['Case', 'Cause', 'How it is known', 'Closed'],
                usable.map((one) => [
                  {
                    text: `Case ${one.number}`,
                    href: `/training/cases/from-journal/${one.id}`,
                    note: one.title,
                  },
                  causeName(knowledge, one.closure?.cause ?? ''),
                  one.closure?.how ?? '',
                  sayDay(one.closure?.at ?? one.changedAt),
                ]),
                'No case with a known cause has been closed yet.',
              ),
            },
          ),
        );
      }),
    )
    .get(
      '/training/cases/from-journal/:case{case-[0-9]+}',
      atDesk(site, async (c, desk) => {
        const record = await findCase(desk.journal, pathPart(c, 'case'));
        const { closure } = record;
        const first = record.diagnoses[0];
        if (closure?.cause == null || closure.outcome !== 'confirmed' || first === undefined)
          return errorPage(
            c,
            site,
            404,
            '',
            'Only a closed case whose cause is confirmed, and which was diagnosed, can be practised on.',
          );
        const kept = await findDiagnosis(desk.journal, record.id, first.number);
        const found = (inputWithFindings(kept, record).findings ?? {}) as Record<string, unknown>;
        const made = makeFromKept(
          kept.input,
          found,
          [closure.cause, ...closure.contributing].slice(0, 4),
          'A frame in trouble',
        );
        const check = (id: string) => knowledge.book.checks.get(id)?.label ?? id;
        return c.html(
          renderCase(site, undefined, {
            name: '',
            text: made.text,
            who: desk.who,
            origin: 'journal',
            fromCase: record.id,
            notes: [
              `Made from case ${record.number}. Only settings, signs, place, beginning, changes and measurements are in it: no names, frame, customer, lot, date or free text.`,
              made.fixed.length === 0
                ? 'Nothing was looked at in the real case: every check is answered from the network given the cause.'
                : `These were looked at on the real frame and are answered as it was: ${made.fixed.map(check).join(', ')}. Every other check is answered from the network given the cause, not from that frame.`,
              ...(made.leftOut.length === 0 ? [] : [`Left out: ${made.leftOut.join(', ')}.`]),
            ],
          }),
        );
      }),
    );
}
