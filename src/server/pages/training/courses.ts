import { type Context, Hono } from 'hono';
import {
  addCourse,
  type CourseInput,
  type CourseItemRecord,
  findCourse,
  joinCourse,
  listCourses,
  listMembers,
  newItemId,
  setCourseState,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { inSentence } from '../../../language/words.js';
import type { CoursePage, CoursesPage } from '../../../templates/course-models.js';
import { mayOpen } from '../../access/requester.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { courseHref, STATE_WORDS, sayParts, totalMinutes } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { viewTable } from '../../views/journal/table.js';
import { stateForms, viewCourse } from '../../views/training/course.js';

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
}

/** Courses: the list, the page of one, taking part, opening and closing. */
export function coursePages(site: Site, hall: () => TrainingHall): Hono {
  const list = async (c: Context, desk: Desk, sent?: Sent): Promise<Response> => {
    const courses = await listCourses(desk.journal);
    const members = await Promise.all(courses.map((course) => listMembers(desk.journal, course.id)));
    const page: CoursesPage = {
      demo: desk.demo,
      courses: viewTable(
        'courses',
        say('course.courses'),
        [
          say('course.course'),
          say('course.group'),
          say('course.state'),
          `#${say('course.n-parts')}`,
          `#${say('course.n-minutes')}`,
          `#${say('course.n-trainees')}`,
        ],
        courses.map((course, n) => [
          {
            text: course.title,
            href: courseHref(course.id),
            ...(members[n]?.some((one) => one.trainee === desk.who) === true
              ? { note: say('course.take-part') }
              : {}),
          },
          course.group === '' ? '–' : course.group,
          STATE_WORDS[course.state],
          String(course.items.length),
          String(totalMinutes(course.items)),
          String(members[n]?.length ?? 0),
        ]),
        say('course.none'),
      ),
      links: [
        { href: '/training/courses/new', text: say('course.make') },
        { href: '/training/cases', text: say('training.own-cases') },
      ].filter((link) => mayOpen(link.href)),
      ready: viewReady(desk, sent),
    };
    return c.html(
      site.page(
        'courses',
        {
          title: sent === undefined ? say('course.courses') : say('course.error-courses'),
          section: 'training',
        },
        page,
      ),
      sent === undefined ? 200 : 422,
    );
  };

  function viewReady(desk: Desk, sent: Sent | undefined): CoursesPage['ready'] {
    const ready = readyCourse();
    if (ready === undefined || !mayOpen('/training/courses/first-hour', 'POST')) return undefined;
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return {
      title: ready.title,
      note: ready.note ?? '',
      parts: sayParts((ready.items ?? []) as CourseItemRecord[], hall(), []).map(({ item, title, kind }) =>
        say('course.ready-part', { title, kind: inSentence(kind), n: item.minutes }),
      ),
      minutes: say('course.ready-minutes', {
        n: (ready.items ?? []).reduce((sum, item) => sum + item.minutes, 0),
      }),
      form: viewForm(
        '/training/courses/first-hour',
        say('course.give'),
        [
          make.hidden('key', newKey()),
          make.text('group', say('course.group'), { hint: say('course.group-hint') }),
          make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
        ],
        sent?.problems ?? [],
      ),
    };
  }

  function readyCourse(): CourseInput | undefined {
    const ready = hall().room.material.practice['first-hour'];
    if (ready === undefined) return undefined;
    return {
      title: ready.title,
      note: ready.note,
      items: ready.parts.map(({ lesson, case: code, replay, checks, minutes, note }) => {
        const common = { id: newItemId(), minutes, note };
        if (lesson !== undefined) return { ...common, kind: 'lesson', lesson };
        return replay === undefined
          ? { ...common, kind: 'case', code: code ?? '' }
          : { ...common, kind: 'replay', code: replay, checks: checks ?? [] };
      }),
    };
  }

  const show = async (c: Context, desk: Desk, sent?: Sent): Promise<Response> => {
    const course = await findCourse(desk.journal, pathPart(c, 'course'));
    const page: CoursePage = await viewCourse(desk, hall(), course, sent);
    const title = sent === undefined ? course.title : say('course.error', { title: course.title });
    return c.html(site.page('course', { title, section: 'training' }, page), sent === undefined ? 200 : 422);
  };

  return new Hono()
    .get(
      '/training/courses',
      atDesk(site, (c, desk) => list(c, desk)),
    )
    .post(
      '/training/courses/first-hour',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        reader.needed('who', say('record.your-name'));
        const ready = readyCourse();
        if (ready === undefined) return c.notFound();
        const make = startFields(typed, []);
        const by = byFrom(typed);
        const written = await writeSent(
          [make.text('group', say('course.group')), make.text('who', say('record.your-name'))],
          reader.problems,
          async () => {
            // Part ids are drawn anew each time, so a form sent twice is told by its key alone.
            const known = (await listCourses(desk.journal)).find((one) =>
              one.items.some((item) => item.id === `part-${by.key?.slice(-8) ?? ''}`),
            );
            if (known !== undefined) return known;
            const [first, ...rest] = ready.items ?? [];
            const items = first === undefined ? [] : [{ ...first, id: `part-${by.key?.slice(-8)}` }, ...rest];
            const made = await addCourse(
              desk.journal,
              { ...ready, items, group: reader.text('group') },
              { who: by.who },
            );
            await setCourseState(desk.journal, made.id, 'open', { who: by.who });
            return made;
          },
        );
        if (!written.ok) return list(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        return c.redirect(courseHref(written.value.id), 303);
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}',
      atDesk(site, (c, desk) => show(c, desk)),
    )
    .post(
      '/training/courses/:course{course-[0-9]+}/join',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const id = pathPart(c, 'course');
        const reader = readTyped(typed);
        const name = reader.needed('who', say('record.your-name'));
        const written = await writeSent(
          [startFields(typed, []).text('who', say('record.your-name'))],
          reader.problems,
          () => joinCourse(desk.journal, id, name, { who: name }),
        );
        if (!written.ok) return show(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        return c.redirect(courseHref(id), 303);
      }),
    )
    .post(
      '/training/courses/:course{course-[0-9]+}/state',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const id = pathPart(c, 'course');
        const wanted = stateForms.find((one) => one.state === typed.get('state')?.at(-1));
        if (wanted !== undefined) {
          const who = byFrom(typed).who;
          await setCourseState(desk.journal, id, wanted.state, {
            who: who === '' ? 'Trainer' : who,
          });
        }
        return c.redirect(courseHref(id), 303);
      }),
    );
}
