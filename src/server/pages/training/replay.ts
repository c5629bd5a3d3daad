import { type Context, Hono } from 'hono';
import type { CaseInput } from '../../../rules/case/types.js';
import { causePlace } from '../../../rules/places.js';
import { answerCheck, replayCase, whyNot, withFinding } from '../../../rules/training/index.js';
import { readState, writeQuery } from '../../bench-state.js';
import { readCaseForm } from '../../case-form.js';
import type { Site } from '../../site.js';
import type { TrainingHall } from '../../training/hall.js';
import { drawSheet, svgResponse } from '../../training/position-sheet.js';
import { practiceQuery, readPracticeState } from '../../training/practice-state.js';
import { viewHandout, viewReplay } from '../../views/training/replay.js';

interface Source {
  readonly input: CaseInput;
  readonly title: string;
  /** Query of the case, with its question mark. */
  readonly query: string;
}

/** Replays: any case, from the bench or from practice, step by step, on a projector or on paper. */
export function replayPages(site: Site, hall: () => TrainingHall): Hono {
  const source = async (params: URLSearchParams): Promise<Source> => {
    const practice = readPracticeState(params);
    if (practice === undefined) {
      const state = readState(params, site.mill);
      const { case: input } = readCaseForm(state, site.vocabulary);
      const query = writeQuery(state);
      return {
        input,
        title: input.title ?? state.frame?.name ?? 'The case in hand',
        query: query === '' ? '?' : query,
      };
    }
    const { room } = hall();
    const dealt = await hall().deal(practice.number);
    let input = dealt.input;
    for (const move of practice.moves)
      if ('check' in move) {
        const answer = await answerCheck(room, dealt, move.check);
        input = withFinding(input, answer.check, answer.outcome);
      }
    return { input, title: dealt.title, query: practiceQuery(practice) };
  };
  const read = async (c: Context) => {
    const params = new URL(c.req.url).searchParams;
    const from = await source(params);
    const first = params.get('first') ?? '';
    const steps = await replayCase(hall().room, from.input, first === '' ? [] : [first]);
    return { params, from, first, steps };
  };
  return new Hono()
    .get('/training/replay', async (c) => {
      const { params, from, first, steps } = await read(c);
      const { room } = hall();
      const typed = params.get('step') ?? '0';
      const at = Math.min(steps.length - 1, /^\d{1,3}$/.test(typed) ? Number(typed) : 0);
      const projector = params.get('view') === 'projector';
      const cause = params.get('why') ?? '';
      const why = site.knowledge.book.causes.has(cause) ? await whyNot(room, from.input, cause) : undefined;
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
    })
    .get('/training/replay/drawing.svg', async (c) => {
      const params = new URL(c.req.url).searchParams;
      const cause = site.knowledge.book.causes.get(params.get('cause') ?? '');
      if (cause === undefined) return c.notFound();
      const { input } = await source(params);
      const place = causePlace(cause.id);
      const { svg } = await drawSheet(hall().room, input, {
        title: cause.label,
        layout: params.get('layout') === 'wide' ? 'wide' : 'tall',
        mark:
          place === undefined
            ? undefined
            : { place: place.place, placeLabel: place.label, label: cause.label },
      });
      return svgResponse(svg);
    })
    .get('/training/handout', async (c) => {
      const { from, steps } = await read(c);
      return c.html(
        site.page(
          'handout',
          { title: `Handout: ${from.title}`, section: 'training' },
          viewHandout(steps, from.input, from.title, `/training/replay${from.query}`),
        ),
      );
    });
}
