import { type Context, Hono } from 'hono';
import { JournalError } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { checkMoves, type PracticeCase, TrainingError } from '../../../rules/training/index.js';
import { readForm } from '../../form-body.js';
import { atDesk } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { dealState } from '../../training/deal-state.js';
import type { TrainingHall } from '../../training/hall.js';
import { handIn } from '../../training/hand-in.js';
import { readPracticeStep } from '../../training/practice-form.js';
import { type PracticeState, practiceQuery, readPracticeState } from '../../training/practice-state.js';
import { viewTraining } from '../../views/training/home.js';
import { placeAlone, viewMarking } from '../../views/training/marking.js';
import { viewPractice } from '../../views/training/practice.js';

/** Practice: a dealt frame, asked and acted on in the address alone, then marked. */
export function practicePages(site: Site, hall: () => TrainingHall): Hono {
  const noCase = (c: Context, typed: string, error: string) =>
    c.html(
      site.page(
        'training',
        { title: say('training.error-title'), section: 'training' },
        viewTraining(hall().room, 1, { typed, error }),
      ),
      404,
    );
  const deal = async (
    c: Context,
    state: PracticeState,
    show: (dealt: PracticeCase, state: PracticeState) => Promise<Response>,
  ): Promise<Response> => {
    const { room } = hall();
    // Moves of an older knowledge base may name what is gone.
    const moves = state.moves.filter((move) => checkMoves(room, [move]).length === 0);
    try {
      return await show(await dealState(site, hall(), state), { ...state, moves });
    } catch (error) {
      if (error instanceof TrainingError) return noCase(c, state.code, `${error.message}.`);
      if (error instanceof JournalError && error.fault === 'not-found')
        return noCase(c, state.code, error.message);
      throw error;
    }
  };
  const nameless = (c: Context, typed: string) =>
    noCase(c, typed.slice(0, 20), say('training.names-no-case'));

  return new Hono()
    .get('/training/practice', async (c) => {
      const params = new URL(c.req.url).searchParams;
      const state = readPracticeState(params);
      if (state === undefined) return nameless(c, params.get('case') ?? '');
      return deal(c, state, async (dealt, now) => {
        const { room, work } = hall();
        if (now.closed) {
          const marking = await work.mark(dealt, {
            moves: now.moves,
            ...(now.trainee === '' ? {} : { trainee: now.trainee }),
          });
          return c.html(
            site.page(
              'marking',
              { title: say('marking.title', { title: dealt.title }), section: 'training' },
              viewMarking(marking, placeAlone(now)),
            ),
          );
        }
        const draft = Object.fromEntries(
          [...params].filter(([name]) => /^(wrong|(cause|confidence|action)\.\d|on|standstill)$/.test(name)),
        );
        const model = viewPractice(room, dealt, now, await work.play(dealt, now.moves), draft);
        const title = model.errors.items.length > 0 ? `Error: ${model.title}` : model.title;
        return c.html(site.page('practice', { title, section: 'training' }, model));
      });
    })
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
          if (state.course === undefined) return to({ ...state, closed: true }, {}, '');
          return atDesk(site, (_, desk) =>
            deal(c, state, async (dealt, now) => c.redirect(await handIn(site, hall, desk, dealt, now), 303)),
          )(c);
        default:
          return to(state, {}, '');
      }
    });
}
