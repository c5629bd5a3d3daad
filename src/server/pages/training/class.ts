import { Hono } from 'hono';
import {
  type CourseItemRecord,
  type CourseRecord,
  findCourse,
  listMembers,
  listPracticeCases,
  type PracticeCaseRecord,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { ClassPage, CourseHandoutPage } from '../../../templates/course-models.js';
import type { Link } from '../../../templates/models.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { type Handed, readHanded } from '../../training/course-results.js';
import { courseHref, isPractice, sayParts, totalMinutes } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { replayHref } from './course-parts.js';

/** Minutes at the end for what the group mixed up. */
const CLOSING_MINUTES = 5;

interface Class {
  readonly course: CourseRecord;
  readonly cases: readonly PracticeCaseRecord[];
  readonly handed: Handed;
  readonly trainees: number;
}

/** The walk through a class, step by step with its minutes, and a handout for those who sit in it. */
export function classPages(site: Site, hall: () => TrainingHall): Hono {
  return new Hono()
    .get(
      '/training/courses/:course{course-[0-9]+}/class',
      atDesk(site, async (c, { journal }) => {
        const id = pathPart(c, 'course');
        if (c.req.query('begin') === 'now')
          return c.redirect(courseHref(id, `/class?at=1&began=${Date.now()}`), 303);
        const course = await findCourse(journal, id);
        const [members, handed, cases] = [
          await listMembers(journal, id),
          await readHanded(journal, id),
          await listPracticeCases(journal),
        ];
        const typed = c.req.query('at') ?? '0';
        const began = /^\d{13}$/.test(c.req.query('began') ?? '') ? Number(c.req.query('began')) : undefined;
        const page = viewClass(
          hall(),
          { course, cases, handed, trainees: members.length },
          /^\d{1,2}$/.test(typed) ? Number(typed) : 0,
          began,
          Date.now(),
        );
        return c.html(
          site.page(
            'class',
            {
              title: say('course.class-title', { step: page.heading, title: course.title }),
              section: 'training',
            },
            page,
          ),
        );
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}/handout',
      atDesk(site, async (c, { journal }) => {
        const course = await findCourse(journal, pathPart(c, 'course'));
        const page = viewCourseHandout(hall(), course, await listPracticeCases(journal));
        return c.html(
          site.page(
            'course-handout',
            { title: say('course.handout', { title: course.title }), section: 'training' },
            page,
          ),
        );
      }),
    );
}

/** A step of the class: 0 is the beginning, the last is the talk about what was mixed up. */
export function viewClass(
  hall: TrainingHall,
  { course, cases, handed, trainees }: Class,
  wanted: number,
  began: number | undefined,
  now: number,
): ClassPage {
  const { items } = course;
  const last = items.length + 1;
  const at = Math.min(wanted, last);
  const starts = [0];
  for (const item of items) starts.push((starts.at(-1) ?? 0) + item.minutes);
  const href = (step: number) =>
    courseHref(course.id, `/class?at=${step}${began === undefined ? '' : `&began=${began}`}`);
  const span = (step: number): string => {
    if (step === 0) return '';
    const from = starts[step - 1] ?? 0;
    const until = step === last ? from + CLOSING_MINUTES : (starts[step] ?? from);
    return say('course.span', { from, until });
  };
  const words = sayParts(items, hall, cases);
  const titleOf = (step: number) =>
    step === 0
      ? say('course.before-begin')
      : step === last
        ? say('course.was-mixed')
        : (words[step - 1]?.title ?? '');
  const item = items[at - 1];
  return {
    title: course.title,
    backHref: courseHref(course.id),
    step: at === 0 ? say('course.before-class') : say('replay.step', { n: at, of: last }),
    heading: titleOf(at),
    planned: span(at),
    clock: began === undefined || at === 0 ? '' : sayClock((now - began) / 60_000, starts[at - 1] ?? 0),
    note: at === 0 ? course.note : at === last ? '' : (item?.note ?? ''),
    lines:
      at === 0
        ? [
            say('course.need-screen'),
            say('course.open-everywhere'),
            say('course.says-who'),
            say('course.so-far', { n: trainees }),
            say('course.takes', { n: totalMinutes(items) + CLOSING_MINUTES }),
          ]
        : at === last
          ? [say('course.on-the-wall'), say('course.reads-out')]
          : item === undefined
            ? []
            : linesFor(item, handed, trainees),
    links:
      at === 0
        ? [
            { href: courseHref(course.id), text: say('course.trainees-open') },
            { href: courseHref(course.id, '/handout'), text: say('replay.print') },
          ]
        : at === last
          ? [{ href: courseHref(course.id, '/progress'), text: say('course.progress-link') }]
          : item === undefined
            ? []
            : linksFor(course, item),
    back: at > 0 ? href(at - 1) : '',
    next: at < last ? href(at + 1) : '',
    beginHref: at === 0 ? courseHref(course.id, '/class?begin=now') : '',
    steps: Array.from({ length: last + 1 }, (_, step) => ({
      href: href(step),
      title: titleOf(step),
      planned: span(step),
      current: step === at,
    })),
  };
}

function sayClock(minutes: number, planned: number): string {
  const into = Math.max(0, Math.round(minutes));
  const late = into - planned;
  return late >= 3
    ? say('course.clock-late', { n: into, planned, late })
    : say('course.clock', { n: into, planned });
}

function linesFor(item: CourseItemRecord, handed: Handed, trainees: number): string[] {
  if (item.kind === 'replay') return [say('course.arrows')];
  const names = new Set(
    item.kind === 'lesson'
      ? handed.lessons.filter((one) => one.result.lesson === item.lesson).map((one) => one.attempt.trainee)
      : handed.cases.filter((one) => one.attempt.item === item.id).map((one) => one.attempt.trainee),
  );
  return [
    say('course.handed-so-far', { n: names.size, of: trainees }),
    ...(item.kind === 'case' ? [say('course.on-board', { code: item.code })] : []),
  ];
}

function linksFor(course: CourseRecord, item: CourseItemRecord): Link[] {
  switch (item.kind) {
    case 'lesson':
      return [{ href: `/training/lessons/${item.lesson}`, text: say('course.lesson-wall') }];
    case 'replay':
      return [
        { href: replayHref(item, 'projector'), text: say('course.replay-wall') },
        {
          href: replayHref(item).replace('/training/replay', '/training/handout'),
          text: say('course.its-handout'),
        },
      ];
    default:
      return [
        { href: courseHref(course.id), text: say('course.where-begin') },
        { href: courseHref(course.id, '/progress'), text: say('course.who-done') },
      ];
  }
}

/** What trainees get on paper: the parts with room to write, the questions without their answers, the words. */
function viewCourseHandout(
  hall: TrainingHall,
  course: CourseRecord,
  cases: readonly PracticeCaseRecord[],
): CourseHandoutPage {
  const { lessons, glossary } = hall.room.material;
  const seen = new Set<string>();
  const texts: string[] = [];
  const parts = sayParts(course.items, hall, cases).map(({ item, ...words }) => {
    const lesson = item.kind === 'lesson' ? lessons.find((one) => one.id === item.lesson) : undefined;
    const lines: string[] = [];
    let questions: CourseHandoutPage['parts'][number]['questions'] = [];
    if (lesson !== undefined) {
      lines.push(lesson.lead);
      texts.push(lesson.lead, ...lesson.steps.map((step) => step.text));
      // The questions once, where the lesson stands last.
      if (course.items.findLast((one) => one.kind === 'lesson' && one.lesson === lesson.id) === item)
        questions = lesson.questions.map((question) => ({
          ask: question.ask,
          answers: question.answers.map((answer) => answer.text),
        }));
      if (seen.has(lesson.id)) lines.splice(0);
      seen.add(lesson.id);
    }
    if (item.kind === 'replay') lines.push(say('course.which-rises'));
    if (isPractice(item)) lines.push(say('course.which-first'));
    return { title: words.title, minutes: say('course.min', { n: item.minutes }), lines, questions };
  });
  const running = texts.join(' ').toLowerCase();
  return {
    title: course.title,
    group: course.group,
    backHref: courseHref(course.id),
    note: course.note,
    parts,
    terms: Object.values(glossary)
      .filter((entry) => running.includes(entry.term.toLowerCase()))
      .map(({ term, plain }) => ({ term, plain })),
  };
}
