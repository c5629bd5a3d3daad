import { Hono } from 'hono';
import { z } from 'zod';
import { findAttempt, findCourse } from '../../../journal/index.js';
import { type Marking, type PracticeCase, TrainingError } from '../../../rules/training/index.js';
import { requireOwn } from '../../access/requester.js';
import { errorPage } from '../../errors.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { courseHref } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { practiceQuery, readMove } from '../../training/practice-state.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewMarking } from '../../views/training/marking.js';

/** What is kept of an attempt beside its figures; case and marking as the program wrote them. */
const sheetSchema = z.object({
  code: z.string(),
  dealt: z.looseObject({ code: z.string(), input: z.looseObject({}), truth: z.looseObject({}) }),
  moves: z.array(z.string()),
  marking: z.looseObject({ summary: z.string(), checks: z.array(z.looseObject({})) }),
});

/** Attempts kept with a course: as they were marked, or marked anew by today's knowledge. */
export function attemptPages(site: Site, hall: () => TrainingHall): Hono {
  return new Hono().get(
    '/training/courses/:course{course-[0-9]+}/attempts/:number{[0-9]+}',
    atDesk(site, async (c, { journal }) => {
      const course = await findCourse(journal, pathPart(c, 'course'));
      const attempt = await findAttempt(journal, course.id, Number(pathPart(c, 'number')));
      requireOwn(attempt.trainee, 'courses');

      const read = sheetSchema.safeParse(attempt.sheet);
      if (!read.success)
        return errorPage(c, site, 404, '', 'This is a lesson; its answers stand in the report.');
      const { code, moves } = read.data;
      const dealt = read.data.dealt as unknown as PracticeCase;
      const kept = read.data.marking as unknown as Marking;
      const changed = attempt.knowledge !== site.knowledge.version;
      const again = c.req.query('marked') === 'again';
      const own = courseHref(course.id, `/attempts/${attempt.number}`);
      let marking = kept;
      let note = `Handed in ${sayMoment(attempt.at)}; marked with knowledge ${attempt.knowledge.slice(0, 12)}${changed ? ', which has changed since' : ''}.`;
      if (c.req.query('again') === 'yes')
        note = `This attempt had been handed in before; it counts once. ${note}`;
      if (again)
        try {
          marking = await hall().work.mark(dealt, {
            trainee: attempt.trainee,
            moves: moves.flatMap((token) => readMove(token) ?? []),
          });
          note = `Marked anew with today’s knowledge (${site.knowledge.version.slice(0, 12)}), the same frame and the same answers. What counts is the marking of ${sayMoment(attempt.at)}: “${kept.summary}”`;
        } catch (error) {
          if (!(error instanceof TrainingError)) throw error;
          note = `Today’s knowledge cannot mark this attempt: ${error.message}. ${note}`;
        }
      const state = {
        code,
        moves: moves.flatMap((token) => readMove(token) ?? []),
        closed: false,
        trainee: '',
      };
      const page = viewMarking(
        { ...marking, trainee: attempt.trainee },
        {
          back: { href: courseHref(course.id), text: course.title },
          note,
          links: [
            { href: courseHref(course.id), text: 'Go on with the course' },
            {
              href: courseHref(course.id, `/report?trainee=${encodeURIComponent(attempt.trainee)}`),
              text: 'Report over all cases',
            },
            { href: `/training/replay${practiceQuery(state)}`, text: 'Replay it step by step' },
            again
              ? { href: own, text: 'As it was marked then' }
              : { href: `${own}?marked=again`, text: 'Mark it with today’s knowledge' },
          ],
        },
      );
      return c.html(site.page('marking', { title: `Marked: ${page.title}`, section: 'training' }, page));
    }),
  );
}
