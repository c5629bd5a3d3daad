import { randomUUID } from 'node:crypto';
import { type Context, Hono } from 'hono';
import {
  type CourseItemRecord,
  type CourseRecord,
  findCourse,
  findPracticeCase,
  keepAttempt,
  listMembers,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { errorPage } from '../../errors.js';
import { atDesk, byFrom, type Desk, pathPart, readSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { courseHref } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { practiceQuery } from '../../training/practice-state.js';

/** Beginning a part of a course, and handing a lesson's answers in. */
export function coursePartPages(site: Site, hall: () => TrainingHall): Hono {
  const withPart = (
    handle: (c: Context, desk: Desk, course: CourseRecord, item: CourseItemRecord) => Promise<Response>,
  ) =>
    atDesk(site, async (c, desk) => {
      const course = await findCourse(desk.journal, pathPart(c, 'course'));
      const item = course.items.find((one) => one.id === pathPart(c, 'part'));
      return item === undefined
        ? errorPage(c, site, 404, '', say('course.part-gone'))
        : handle(c, desk, course, item);
    });
  return new Hono()
    .get(
      '/training/courses/:course{course-[0-9]+}/parts/:part{part-[0-9a-z-]+}',
      withPart(async (c, desk, course, item) => {
        const members = await listMembers(desk.journal, course.id);
        const trainee = members.some((one) => one.trainee === desk.who) ? desk.who : '';
        if (item.kind === 'replay') return c.redirect(replayHref(item), 303);
        if (item.kind === 'lesson')
          return c.redirect(
            `/training/lessons/${item.lesson}${trainee === '' ? '' : `?course=${course.id}&part=${item.id}`}`,
            303,
          );
        // Nobody has joined here, or the course is closed: its page says so.
        if (trainee === '' || course.state !== 'open') return c.redirect(courseHref(course.id), 303);
        const code =
          item.kind === 'case'
            ? item.code
            : `${item.practiceCase}.${(await findPracticeCase(desk.journal, item.practiceCase)).version}`;
        const place = { id: course.id, item: item.id, run: randomUUID() };
        return c.redirect(
          `/training/practice${practiceQuery({ code, moves: [], closed: false, trainee, course: place })}`,
          303,
        );
      }),
    )
    .post(
      '/training/courses/:course{course-[0-9]+}/parts/:part{part-[0-9a-z-]+}/answers',
      withPart(async (c, desk, course, item) => {
        const { typed } = await readSent(c);
        const lesson =
          item.kind === 'lesson'
            ? hall().room.material.lessons.find((one) => one.id === item.lesson)
            : undefined;
        if (lesson === undefined || desk.who === '') return c.redirect(courseHref(course.id), 303);
        const answers = lesson.questions.map((question, n) => {
          const given = Number(typed.get(`q${n + 1}`)?.at(-1) ?? '-1');
          return question.answers[given] === undefined ? -1 : given;
        });
        const query = new URLSearchParams({ course: course.id, part: item.id });
        for (const [n, given] of answers.entries()) if (given >= 0) query.set(`q${n + 1}`, String(given));
        const back = (more: string) =>
          c.redirect(`/training/lessons/${lesson.id}?${query}${more}#questions`, 303);
        // Not all answered: the page says so, with what was chosen.
        if (answers.includes(-1)) return back('&missing=yes');
        const { key } = byFrom(typed);
        await keepAttempt(
          desk.journal,
          {
            course: course.id,
            item: item.id,
            kind: 'lesson',
            trainee: desk.who,
            knowledge: site.knowledge.version,
            result: {
              lesson: lesson.id,
              title: lesson.title,
              right: lesson.questions.filter(
                (question, n) => question.answers[answers[n] ?? -1]?.right === true,
              ).length,
              of: lesson.questions.length,
              answers,
            },
          },
          { who: desk.who, ...(key === undefined ? {} : { key }) },
        );
        return back('&handed=yes');
      }),
    );
}

/** The replay of a case with the checks that the trainer wants shown. */
export const replayHref = (item: Extract<CourseItemRecord, { kind: 'replay' }>, view = ''): string =>
  `/training/replay${practiceQuery(
    { code: item.code, moves: (item.checks ?? []).map((check) => ({ check })), closed: false, trainee: '' },
    view === '' ? {} : { view },
  )}`;
