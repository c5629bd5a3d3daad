import { type Context, Hono } from 'hono';
import { say } from '../../../language/say.js';
import { causePlace } from '../../../rules/places.js';
import { errorPage } from '../../errors.js';
import { atDesk } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import type { TrainingHall } from '../../training/hall.js';
import { drawSheet, svgResponse } from '../../training/position-sheet.js';
import { keptSource, openSource, type ReplaySource, readKeptName } from '../../training/replay-source.js';
import { viewHandout, viewReplay } from '../../views/training/replay.js';

/** Replays: any case, from the bench, from practice or kept in the journal, step by step, on a projector or on paper. */
export function replayPages(site: Site, hall: () => TrainingHall): Hono {
  /** Hands the case of the address to a page; one kept in the journal is looked up there. */
  const open = (
    c: Context,
    show: (from: ReplaySource, params: URLSearchParams) => Promise<Response>,
  ): Promise<Response> => {
    const params = new URL(c.req.url).searchParams;
    const name = readKeptName(params);
    if (name === undefined) return openSource(site, hall(), params).then((from) => show(from, params));
    return atDesk(site, async (_, { journal }) => {
      const from = await keptSource(site, journal, name);
      return from === undefined ? errorPage(c, site, 404, '', say('replay.unreadable')) : show(from, params);
    })(c);
  };
  const stepsOf = (from: ReplaySource, first: string) =>
    hall().work.replay(from.input, first === '' ? [] : [first]);
  return new Hono()
    .get('/training/replay', (c) =>
      open(c, async (from, params) => {
        const first = params.get('first') ?? '';
        const steps = await stepsOf(from, first);
        const { room, work } = hall();
        const typed = params.get('step') ?? '0';
        const at = Math.min(steps.length - 1, /^\d{1,3}$/.test(typed) ? Number(typed) : 0);
        const projector = params.get('view') === 'projector';
        const cause = params.get('why') ?? '';
        const why = site.knowledge.book.causes.has(cause) ? await work.whyNot(from.input, cause) : undefined;
        const query = (more: Readonly<Record<string, string>>) => {
          const next = new URLSearchParams(from.query.slice(1));
          const fields = { first, view: projector ? 'projector' : '', ...more };
          for (const [name, value] of Object.entries(fields)) if (value !== '') next.set(name, value);
          return `?${next}`;
        };
        const page = viewReplay(
          room,
          steps,
          at,
          {
            title: from.title,
            note: from.note,
            projector,
            first,
            href: (more) => `/training/replay${query(more)}`,
            drawingHref: (one) => `/training/replay/drawing.svg${from.query}&cause=${one}`,
            handoutHref: `/training/handout${query({ view: '' })}`,
            hidden: [...new URLSearchParams(from.query.slice(1))].map(([name, value]) => ({ name, value })),
          },
          why,
        );
        const title = `${page.step}: ${page.heading}`;
        return c.html(site.page('replay', { title, section: 'training' }, page));
      }),
    )
    .get('/training/replay/drawing.svg', (c) =>
      open(c, async (from, params) => {
        const cause = site.knowledge.book.causes.get(params.get('cause') ?? '');
        if (cause === undefined) return c.notFound();
        const { places } = site.books();
        const place = places === undefined ? undefined : causePlace(cause.id, places);
        const { svg } = await drawSheet(hall().work, from.input, {
          title: cause.label,
          layout: params.get('layout') === 'wide' ? 'wide' : 'tall',
          mark:
            place === undefined
              ? undefined
              : { place: place.place, placeLabel: place.label, label: cause.label },
        });
        return svgResponse(svg);
      }),
    )
    .get('/training/handout', (c) =>
      open(c, async (from, params) => {
        const steps = await stepsOf(from, params.get('first') ?? '');
        return c.html(
          site.page(
            'handout',
            { title: say('replay.handout', { title: from.title }), section: 'training' },
            viewHandout(steps, from.input, from.title, `/training/replay${from.query}`),
          ),
        );
      }),
    );
}
