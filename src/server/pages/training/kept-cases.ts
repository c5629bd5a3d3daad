import { Hono } from 'hono';
import { type CaseFilter, findCase, findDiagnosis, searchCases } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { makeFromKept } from '../../../rules/training/index.js';
import { errorPage } from '../../errors.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import { inputWithFindings } from '../../journal/kept-case.js';
import type { Site } from '../../site.js';
import { sayDay } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { causeName, HOW_WORDS } from '../../views/journal/words.js';
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
            { title: say('own-case.closed-cases'), section: 'training' },
            {
              demo: desk.demo,
              links: [
                { href: '/training/cases', text: say('training.own-cases') },
                ...(next === null
                  ? []
                  : [
                      {
                        href: `/training/cases/from-journal?after=${encodeURIComponent(next)}`,
                        text: say('own-case.older'),
                      },
                    ]),
              ],
              table: viewTable(
                'closed',
                say('own-case.closed-known'),
                [
                  say('own-case.case'),
                  say('marking.cause'),
                  say('own-case.how-known'),
                  say('own-case.closed'),
                ],
                usable.map((one) => [
                  {
                    text: say('own-case.case-n', { n: one.number }),
                    href: `/training/cases/from-journal/${one.id}`,
                    note: one.title,
                  },
                  causeName(knowledge, one.closure?.cause ?? ''),
                  one.closure?.how == null ? '' : HOW_WORDS[one.closure.how],
                  sayDay(one.closure?.at ?? one.changedAt),
                ]),
                say('own-case.none-closed'),
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
          return errorPage(c, site, 404, '', say('own-case.only-closed'));
        const kept = await findDiagnosis(desk.journal, record.id, first.number);
        const found = (inputWithFindings(kept, record).findings ?? {}) as Record<string, unknown>;
        const made = makeFromKept(
          kept.input,
          found,
          [closure.cause, ...closure.contributing].slice(0, 4),
          say('own-case.in-trouble'),
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
              say('own-case.made-of', { n: record.number }),
              made.fixed.length === 0
                ? say('own-case.none-looked')
                : say('own-case.looked-at', { checks: made.fixed.map(check).join(', ') }),
              ...(made.leftOut.length === 0
                ? []
                : [say('own-case.left-out', { what: made.leftOut.join(', ') })]),
            ],
          }),
        );
      }),
    );
}
