import { type Context, Hono } from 'hono';
import { checkMoves, type PracticeCase, TrainingError } from '../../../rules/training/index.js';
import { readForm } from '../../form-body.js';
import type { Site } from '../../site.js';
import type { TrainingHall } from '../../training/hall.js';
import { readPracticeStep } from '../../training/practice-form.js';
import { type PracticeState, practiceQuery, readPracticeState } from '../../training/practice-state.js';
import { viewTraining } from '../../views/training/home.js';
import { viewMarking } from '../../views/training/marking.js';
import { viewPractice } from '../../views/training/practice.js';

/** Practice: a dealt frame, asked and acted on in the address alone, then marked. */
export function practicePages(site: Site, hall: () => TrainingHall): Hono {
  const noCase = (c: Context, typed: string, error: string) =>
    c.html(
      site.page(
        'training',
        { title: 'Error: training', section: 'training' },
        viewTraining(hall().room, 1, { typed, error }),
      ),
      404,
    );
  const open = async (
    c: Context,
    show: (dealt: PracticeCase, state: PracticeState) => Promise<Response>,
  ): Promise<Response> => {
    const params = new URL(c.req.url).searchParams;
    const typed = (params.get('case') ?? '').slice(0, 20);
    const state = readPracticeState(params);
    if (state === undefined)
      return noCase(c, typed, 'This address names no case. Write its number, for example 2-7.');
    const { room } = hall();
    // Moves of an older knowledge base may name what is gone.
    const moves = state.moves.filter((move) => checkMoves(room, [move]).length === 0);
    try {
      return await show(await hall().deal(state.number), { ...state, moves });
    } catch (error) {
      if (!(error instanceof TrainingError)) throw error;
      return noCase(c, typed, `${error.message}.`);
    }
  };
  return new Hono()
    .get('/training/practice', (c) =>
      open(c, async (dealt, state) => {
        const { room, work } = hall();
        if (state.closed) {
          const marking = await work.mark(dealt, {
            moves: state.moves,
            ...(state.trainee === '' ? {} : { trainee: state.trainee }),
          });
          return c.html(
            site.page(
              'marking',
              { title: `Marked: ${dealt.title}`, section: 'training' },
              viewMarking(marking, state),
            ),
          );
        }
        const params = new URL(c.req.url).searchParams;
        const draft = Object.fromEntries(
          [...params].filter(([name]) => /^(wrong|(cause|confidence|action)\.\d|on|standstill)$/.test(name)),
        );
        const model = viewPractice(room, dealt, state, await work.play(dealt, state.moves), draft);
        const title = model.errors.items.length > 0 ? `Error: ${model.title}` : model.title;
        return c.html(site.page('practice', { title, section: 'training' }, model));
      }),
    )
    .post('/training/practice', async (c) => {
      const form = await readForm(c);
      const state = readPracticeState(form);
      if (state === undefined) return c.redirect('/training', 303);
      const step = readPracticeStep(form);
      const to = (next: PracticeState, more: Readonly<Record<string, string>>, at: string) =>
        c.redirect(`/training/practice${practiceQuery(next, more)}${at}`, 303);
      switch (step?.kind) {
        case 'move':
          return to({ ...state, moves: [...state.moves, step.move] }, {}, '#latest');
        case 'wrong':
          return to(state, step.draft, '');
        case 'close':
          return to({ ...state, closed: true }, {}, '');
        default:
          return to(state, {}, '');
      }
    });
}
