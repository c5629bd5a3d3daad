import { Hono } from 'hono';
import { listReplacements, type Replacement, setupAt } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { sentenceCase } from '../../../rules/words.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import { atDesk, type Desk, viewHead } from '../../journal/desk.js';
import { cardOf } from '../../journal/live-frames.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { readTyped, startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { withParams } from '../../views/journal/links.js';
import { viewTable } from '../../views/journal/table.js';
import { sayShare } from '../../views/journal/words.js';
import { sayNumber, sayRough } from '../../words.js';

/** Lives already computed: setup entry → hours. A setup never changes, so they stay true for one knowledge base. */
const MOST_KEPT = 500;

/** Parts that have run their time, by frame and position. */
export function partsPages(site: Site): Hono {
  const lives = new Map<string, number>();

  /** The life of the nozzles on a frame by the model, from what it spins and how. */
  const nozzleLife = async (desk: Desk, frame: string): Promise<number | undefined> => {
    const setup = await setupAt(desk.journal, frame, new Date().toISOString());
    if (setup === undefined) return undefined;
    const known = lives.get(setup.id);
    if (known !== undefined) return known;
    const report = await site.diagnostician.report(cardOf(setup.given));
    const life = report.computed['nozzle-life']?.value;
    if (life === undefined || !(life > 0)) return undefined;
    if (lives.size >= MOST_KEPT) lives.clear();
    lives.set(setup.id, life);
    return life;
  };

  const list = async (desk: Desk, params: URLSearchParams) => {
    const reader = readTyped(typedFrom(params));
    const tube = reader.amount('tube', say('parts.life-tubes'));
    const rotor = reader.amount('rotor', say('parts.life-rotors'));
    const percent = reader.amount('used', say('parts.listed-from')) ?? 80;
    const rows =
      reader.problems.length > 0
        ? []
        : await listReplacements(
            desk.journal,
            async (frame) => {
              const nozzle = await nozzleLife(desk, frame);
              return {
                ...(nozzle === undefined ? {} : { nozzle }),
                ...(tube === null || tube === 0 ? {} : { tube }),
                ...(rotor === null || rotor === 0 ? {} : { rotor }),
              };
            },
            { from: percent / 100 },
          );
    return { rows, problems: reader.problems };
  };

  return new Hono()
    .get(
      '/parts',
      atDesk(site, async (c, desk) => {
        const params = new URL(c.req.url).searchParams;
        const { rows, problems } = await list(desk, params);
        const names = await loadNames(desk.journal);
        const make = startFields(typedFrom(params), problems);
        return c.html(
          site.page(
            'parts',
            { title: problems.length > 0 ? say('parts.error') : say('parts.title'), section: 'journal' },
            {
              head: viewHead(desk, '/parts'),
              lead: say('parts.lead'),
              filter: viewForm(
                '/parts',
                say('parts.list-them'),
                [
                  make.number('used', say('parts.listed-from'), { unit: say('parts.of-life'), value: '80' }),
                  make.number('tube', say('parts.life-tubes'), { unit: 'h', hint: say('parts.empty-not') }),
                  make.number('rotor', say('parts.life-rotors'), { unit: 'h', hint: say('parts.empty-not') }),
                ],
                problems,
              ),
              table: viewTable(
                'replacements',
                say('parts.due'),
                [
                  say('record.frame'),
                  say('parts.part'),
                  say('mill.positions'),
                  `#${say('parts.has-run')}`,
                  `#${say('parts.life')}`,
                  `#${say('parts.used')}`,
                  say('parts.left'),
                ],
                rows.map((row) => [
                  { text: names.frames.get(row.frame) ?? row.frame, href: `/frames/${row.frame}` },
                  sentenceCase(say(`mill.part-${row.part}`)),
                  sayPositions(row),
                  sayRough(row.hours),
                  sayRough(row.expectedLife),
                  sayShare(row.used),
                  sayLeft(row),
                ]),
                say('parts.nothing-yet'),
                rows.map((row) => (row.used >= 1 ? 'high' : '')),
              ),
              notes: [say('parts.note-life'), say('parts.note-hours')],
              downloads: [{ href: withParams('/parts.csv', params, {}), text: 'CSV' }],
            },
          ),
          problems.length > 0 ? 422 : 200,
        );
      }),
    )
    .get(
      '/parts.csv',
      atDesk(site, async (c, desk) => {
        const { rows } = await list(desk, new URL(c.req.url).searchParams);
        return c.body(
          writeCsv(
            ['frame', 'part', 'positions', 'hours', 'expected life', 'share used', 'days left'],
            rows.map((row) => [
              row.frame,
              row.part,
              sayPositions(row, Number.POSITIVE_INFINITY),
              Math.round(row.hours),
              Math.round(row.expectedLife),
              Number(row.used.toFixed(3)),
              row.daysLeft === null ? undefined : Math.round(row.daysLeft),
            ]),
          ),
          200,
          {
            'Content-Type': 'text/csv; charset=utf-8',
            'Content-Disposition': 'attachment; filename="parts.csv"',
          },
        );
      }),
    );
}

/** "1–240", "12, 40–47". */
function sayPositions({ positions }: Replacement, most = 10): string {
  const runs: string[] = [];
  let start = positions[0];
  positions.forEach((position, n) => {
    if (positions[n + 1] === position + 1) return;
    runs.push(start === position ? String(position) : `${start}–${position}`);
    start = positions[n + 1];
  });
  return runs.length <= most
    ? runs.join(', ')
    : say('parts.and-more', {
        runs: runs.slice(0, most - 1).join(', '),
        n: sayNumber(positions.length),
      });
}

function sayLeft({ daysLeft, used }: Replacement): string {
  if (used >= 1) return say('parts.overdue');
  if (daysLeft === null) return say('parts.stands');
  return daysLeft < 1
    ? say('parts.under-day')
    : say('parts.about-days', { n: sayNumber(Math.round(daysLeft)) });
}
