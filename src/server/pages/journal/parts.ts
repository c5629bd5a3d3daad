import { Hono } from 'hono';
import { listReplacements, type Replacement, setupAt } from '../../../journal/index.js';
import { sentenceCase } from '../../../rules/words.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import { atDesk, type Desk, viewHead } from '../../journal/desk.js';
import { cardOf } from '../../journal/live-frames.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { readTyped, startFields, typedFrom, viewForm } from '../../views/journal/form.js';
import { viewTable } from '../../views/journal/table.js';
import { sayShare } from '../../views/journal/words.js';
import { sayNumber, sayRough } from '../../words.js';
import { withParams } from './filter-params.js';

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
    const tube = reader.amount('tube', 'Life of tubes');
    const rotor = reader.amount('rotor', 'Life of rotors');
    const percent = reader.amount('used', 'Listed from') ?? 80;
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
            { title: problems.length > 0 ? 'Error: parts' : 'Parts', section: 'journal' },
            {
              head: viewHead(desk, '/parts'),
              lead: 'Nozzles are held against the life that the model gives them on what the frame spins; tubes and rotors against what you state.',
              filter: viewForm(
                '/parts',
                'List them',
                [
                  make.number('used', 'Listed from', { unit: '% of the life', value: '80' }),
                  make.number('tube', 'Life of tubes', { unit: 'h', hint: 'Empty: not listed.' }),
                  make.number('rotor', 'Life of rotors', { unit: 'h', hint: 'Empty: not listed.' }),
                ],
                problems,
              ),
              table: viewTable(
                'replacements',
                'Due for replacement',
                ['Frame', 'Part', 'Positions', '#Has run, h', '#Life, h', '#Used', 'Left'],
                rows.map((row) => [
                  { text: names.frames.get(row.frame) ?? row.frame, href: `/frames/${row.frame}` },
                  sentenceCase(row.part),
                  sayPositions(row),
                  sayRough(row.hours),
                  sayRough(row.expectedLife),
                  sayShare(row.used),
                  sayLeft(row),
                ]),
                'Nothing has come that far.',
                rows.map((row) => (row.used >= 1 ? 'high' : '')),
              ),
              notes: [
                'The life of a nozzle is judgement: it depends on fibre, delustrant, material and friction power, and the model’s figure is the middle of a wide range. Look at the nozzles before a whole set is renewed.',
                'Hours follow from what was put in and when, and from the running hours reported since. A position whose fitting was never recorded is not listed.',
              ],
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
    : `${runs.slice(0, most - 1).join(', ')} and more (${sayNumber(positions.length)} in all)`;
}

function sayLeft({ daysLeft, used }: Replacement): string {
  if (used >= 1) return 'overdue';
  if (daysLeft === null) return 'the frame stands';
  return daysLeft < 1 ? 'less than a day' : `about ${sayNumber(Math.round(daysLeft))} days`;
}
