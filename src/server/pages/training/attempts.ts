import { Hono } from 'hono';
import { z } from 'zod';
import { findAttempt, findCourse } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
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
      if (!read.success) return errorPage(c, site, 404, '', say('marking.is-lesson'));
      const { code, moves } = read.data;
      const dealt = read.data.dealt as unknown as PracticeCase;
      const kept = read.data.marking as unknown as Marking;
      const changed = attempt.knowledge !== site.knowledge.version;
      const again = c.req.query('marked') === 'again';
      const own = courseHref(course.id, `/attempts/${attempt.number}`);
      let marking = kept;
      const version = { when: sayMoment(attempt.at), version: attempt.knowledge.slice(0, 12) };
      let note = changed ? say('marking.handed-since', version) : say('marking.handed', version);
      if (c.req.query('again') === 'yes') note = say('marking.once', { note });
      if (again)
        try {
          marking = await hall().work.mark(dealt, {
            trainee: attempt.trainee,
            moves: moves.flatMap((token) => readMove(token) ?? []),
          });
          note = say('marking.anew', {
            version: site.knowledge.version.slice(0, 12),
            when: sayMoment(attempt.at),
            summary: kept.summary,
          });
        } catch (error) {
          if (!(error instanceof TrainingError)) throw error;
          note = say('marking.cannot', { why: error.message, note });
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
            { href: courseHref(course.id), text: say('marking.go-on') },
            {
              href: courseHref(course.id, `/report?trainee=${encodeURIComponent(attempt.trainee)}`),
              text: say('marking.report'),
            },
            { href: `/training/replay${practiceQuery(state)}`, text: say('marking.replay') },
            again
              ? { href: own, text: say('marking.as-then') }
              : { href: `${own}?marked=again`, text: say('marking.with-today') },
          ],
        },
      );
      return c.html(
        site.page(
          'marking',
          { title: say('marking.title', { title: page.title }), section: 'training' },
          page,
        ),
      );
    }),
  );
}
