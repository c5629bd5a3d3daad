import { type Context, Hono } from 'hono';
import {
  correctSetup,
  countByFrame,
  findFrame,
  findFrameHistory,
  findPartHours,
  findYarn,
  listSetups,
  searchCases,
  setupReportsOf,
  setupsAt,
  type WhatChanged,
  whatChangedLately,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { SETUP_PATHS } from '../../../rules/case/types.js';
import { poissonInterval } from '../../../statistics/index.js';
import { cardTexts, readState, writeQuery } from '../../bench-state.js';
import {
  atDesk,
  byFrom,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewHead,
  writeSent,
} from '../../journal/desk.js';
import { cardOf } from '../../journal/live-frames.js';
import { byName, byReceipt, loadMill, loadNames, namesOf } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { SPANS, viewFrame } from '../../views/journal/frame.js';
import { sayMoment } from '../../views/journal/moments.js';
import { type Cell, viewTable } from '../../views/journal/table.js';
import { sayRough } from '../../words.js';
import { NOT_CLOSED } from './filter-params.js';

const DAY = 86_400_000;
/** Days of counts, cases and complaints on the page of a frame. */
const SHOWN_DAYS = 60;
const RATE_DAYS = 28;
const REPORTS_SHOWN = 8;

/** Frames of the mill: how they run, what was changed on them. */
export function framePages(site: Site): Hono {
  const { knowledge } = site;
  return new Hono()
    .get(
      '/frames',
      atDesk(site, async (c, desk) => {
        const { journal } = desk;
        const now = Date.now();
        const { yarns, lots, ...records } = await loadMill(journal);
        const names = namesOf({ yarns, lots, ...records });
        const frames = [...records.frames].sort(byName);
        const period = {
          from: new Date(now - RATE_DAYS * DAY).toISOString(),
          until: new Date(now).toISOString(),
        };
        const rates = new Map((await countByFrame(journal, period)).map((one) => [one.frame, one]));
        const open = (await searchCases(journal, { state: [...NOT_CLOSED] }, { size: 200 })).rows;
        const rows: Cell[][] = [];
        const kinds: string[] = [];
        const setups = await setupsAt(journal, period.until);
        for (const frame of frames) {
          const setup = setups.get(frame.id);
          const rate = rates.get(frame.id);
          const norm = yarns.find((yarn) => yarn.id === setup?.yarn)?.targets.breaksPer1000 ?? null;
          const interval = rate === undefined ? undefined : poissonInterval(rate.count);
          const per = (count: number) => (1000 * count) / (rate?.rotorHours ?? 1);
          const high =
            rate !== undefined && interval !== undefined && norm !== null && per(interval.lower) > norm;
          const ofFrame = open.filter((one) => one.frame === frame.id);
          rows.push([
            {
              text: frame.name,
              href: `/frames/${frame.id}`,
              note: frame.retired ? say('mill.place-retired', { place: frame.place }) : frame.place,
            },
            setup?.yarn == null ? '' : (names.yarns.get(setup.yarn) ?? setup.yarn),
            setup?.lot == null ? '' : (names.lots.get(setup.lot) ?? setup.lot),
            rate === undefined || interval === undefined
              ? '–'
              : {
                  text: sayRough(per(rate.count)),
                  note: say(high ? 'mill.range-above' : 'quality-desk.bounds', {
                    low: sayRough(per(interval.lower)),
                    high: sayRough(per(interval.upper)),
                  }),
                },
            norm === null ? '–' : sayRough(norm),
            ofFrame.length === 0
              ? '–'
              : { text: String(ofFrame.length), href: `/cases?frame=${frame.id}&state=not-closed` },
          ]);
          kinds.push(frame.retired ? 'retired' : high ? 'high' : '');
        }
        return c.html(
          site.page(
            'journal-frames',
            { title: say('quality-desk.o-frame'), section: 'journal' },
            {
              head: viewHead(desk, '/frames'),
              note: say('mill.rates-note', { days: RATE_DAYS }),
              table: viewTable(
                'frames',
                say('quality-desk.o-frame'),
                [
                  say('record.frame'),
                  say('mill.spins'),
                  say('record.lot'),
                  `#${say('mill.breaks-1000h')}`,
                  `#${say('mill.usual')}`,
                  `#${say('mill.open-cases')}`,
                ],
                rows,
                say('mill.no-frame'),
                kinds,
              ),
              yarns: viewTable(
                'yarns',
                say('mill.yarns'),
                [say('record.yarn'), `#${say('mill.usual-breaks')}`, ''],
                yarns.map((yarn) => [
                  { text: yarn.name, href: `/quality?yarn=${yarn.id}&months=6` },
                  yarn.targets.breaksPer1000 === null ? '–' : sayRough(yarn.targets.breaksPer1000),
                  { text: say('mill.edit'), href: `/yarns/${yarn.id}/edit` },
                ]),
                say('mill.no-yarn'),
              ),
              lots: viewTable(
                'lots',
                say('mill.latest-lots'),
                [say('record.lot'), say('record.yarn'), say('mill.material'), ''],
                [...lots]
                  .sort(byReceipt)
                  .slice(0, 12)
                  .map((lot) => [
                    { text: lot.name, href: `/cases?lot=${lot.id}` },
                    lot.yarn === null ? '' : (names.yarns.get(lot.yarn) ?? lot.yarn),
                    lot.material,
                    { text: say('mill.edit'), href: `/lots/${lot.id}/edit` },
                  ]),
                say('mill.no-lot'),
              ),
            },
          ),
        );
      }),
    )
    .get(
      '/frames/:id',
      atDesk(site, async (c, desk) => {
        const id = pathPart(c, 'id');
        // "new" is the form for a further frame, on another page.
        const { journal } = desk;
        const frame = await findFrame(journal, id);
        const wanted = Number(c.req.query('days') ?? 3);
        const span = SPANS.find((days) => days === wanted) ?? 3;
        const now = Date.now();
        const until = new Date(now).toISOString();
        const setups = (await listSetups(journal, id)).filter((setup) => setup.at <= until);
        const lately = await whatChangedLately(journal, id, new Date(now - span * DAY).toISOString());
        const reports = await setupReportsOf(
          journal,
          setups.slice(0, REPORTS_SHOWN).map((setup) => setup.id),
        );
        const yarn = setups[0]?.yarn ?? null;
        return c.html(
          site.page(
            'journal-frame',
            { title: frame.name, section: 'journal' },
            viewFrame(
              {
                frame,
                yarn: yarn === null ? undefined : await findYarn(journal, yarn),
                history: await findFrameHistory(journal, id, {
                  from: new Date(now - SHOWN_DAYS * DAY).toISOString(),
                  until,
                }),
                setups,
                reports,
                lately,
                span,
                benchHref: latelyOnBench(site, lately),
                hours: await findPartHours(journal, id, until),
              },
              knowledge,
              await loadNames(journal),
              viewHead(desk, '/frames'),
            ),
          ),
        );
      }),
    )
    .get(
      '/frames/:id/setups/:setup/withdraw',
      atDesk(site, async (c, desk) => withdrawPage(c, desk)),
    )
    .post(
      '/frames/:id/setups/:setup/withdraw',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        reader.needed('who', say('record.your-name'));
        const written = await writeSent(
          [startFields(typed, []).text('who', say('record.your-name'))],
          reader.problems,
          () => correctSetup(desk.journal, pathPart(c, 'setup'), null, byFrom(typed)),
        );
        if (!written.ok) return withdrawPage(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        site.framesChanged();
        return c.redirect(`/frames/${pathPart(c, 'id')}`, 303);
      }),
    );

  async function withdrawPage(
    c: Context,
    desk: import('../../journal/desk.js').Desk,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ): Promise<Response> {
    const frame = await findFrame(desk.journal, pathPart(c, 'id'));
    const setup = (await listSetups(desk.journal, frame.id)).find((one) => one.id === pathPart(c, 'setup'));
    if (setup === undefined) return c.notFound();
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return c.html(
      site.page(
        'journal-record',
        { title: say('mill.withdraw-title'), section: 'journal' },
        {
          head: viewHead(desk, '/frames'),
          backHref: `/frames/${frame.id}`,
          backText: frame.name,
          heading: say('mill.withdraw-heading'),
          lead: `${sayMoment(setup.at)}, ${setup.who}: ${setup.note}`,
          stale: undefined,
          cautions: [],
          how: [],
          facts: [],
          form: viewForm(
            `/frames/${frame.id}/setups/${setup.id}/withdraw`,
            say('record.withdraw-it'),
            [
              make.hidden('key', newKey()),
              make.text('who', say('record.your-name'), {
                value: desk.who,
                autocomplete: 'name',
                hint: say('mill.withdraw-hint'),
              }),
            ],
            sent?.problems ?? [],
          ),
          second: undefined,
          secondHeading: '',
        },
      ),
      sent === undefined ? 200 : 422,
    );
  }
}

/** The bench with what was changed lately as evidence: what was changed, that it began since, and what was before. */
function latelyOnBench(site: Site, lately: WhatChanged): string {
  const params = new URLSearchParams();
  if (site.mill.has(lately.frame)) params.set('frame', lately.frame);
  for (const change of lately.changed) params.append('changed', change);
  if (lately.onset !== null) params.set('onset', lately.onset);
  const { before, present } = lately;
  if (before !== null && present !== null) {
    const was = cardTexts(cardOf(before.given));
    const is = cardTexts(cardOf(present.given));
    for (const path of SETUP_PATHS) {
      const old = was.get(path);
      if (old !== undefined && is.has(path) && is.get(path) !== old) params.set(`before.${path}`, old);
    }
  }
  return `/bench${writeQuery(readState(params, site.mill))}`;
}
