import { type Context, Hono } from 'hono';
import {
  addCourse,
  type CourseItemRecord,
  type CourseRecord,
  changeCourse,
  findCourse,
  listPracticeCases,
  newItemId,
  type PracticeCaseRecord,
  type StaleError,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { readPracticeCode } from '../../../rules/training/index.js';
import type { CourseEditPage } from '../../../templates/course-models.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewStale,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { courseHref, sayParts, totalMinutes } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import {
  type FormProblem,
  type FormReader,
  readTyped,
  startFields,
  type Typed,
  viewForm,
} from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
  readonly stale?: StaleError;
  /** Which of the two forms was sent. */
  readonly form: 'details' | 'add';
}

/** Minutes that a part takes unless the trainer says otherwise. */
const USUAL_MINUTES = 12;

/** Making and changing a course. */
export function courseEditPages(site: Site, hall: () => TrainingHall): Hono {
  const show = async (
    c: Context,
    desk: Desk,
    course: CourseRecord | undefined,
    sent?: Sent,
  ): Promise<Response> => {
    const cases = await listPracticeCases(desk.journal);
    const page = viewEdit(desk, hall(), course, cases, sent);
    const wrong = sent !== undefined && sent.stale === undefined;
    return c.html(
      site.page(
        'course-edit',
        { title: wrong ? say('course.error', { title: page.heading }) : page.heading, section: 'training' },
        page,
      ),
      sent === undefined ? 200 : sent.stale === undefined ? 422 : 409,
    );
  };

  return new Hono()
    .get(
      '/training/courses/new',
      atDesk(site, (c, desk) => show(c, desk, undefined)),
    )
    .post(
      '/training/courses/new',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const fields = readDetails(reader);
        const written = await writeSent(detailFields(typed, [], desk), reader.problems, () =>
          addCourse(desk.journal, fields, byFrom(typed)),
        );
        if (!written.ok)
          return show(c, desk, undefined, { typed, problems: written.problems, form: 'details' });
        rememberName(c, typed);
        return c.redirect(courseHref(written.value.id, '/edit'), 303);
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}/edit',
      atDesk(site, async (c, desk) => show(c, desk, await findCourse(desk.journal, pathPart(c, 'course')))),
    )
    .post(
      '/training/courses/:course{course-[0-9]+}/edit',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const course = await findCourse(desk.journal, pathPart(c, 'course'));
        const reader = readTyped(typed);
        const seen = Number(reader.text('seen'));
        const { group, title, note, items } = course;
        const now = { group, title, note, items };
        const what = reader.text('do');
        const form = what === 'add' ? 'add' : 'details';
        const wanted =
          what === 'add'
            ? { ...now, items: [...items, readPart(reader, hall())] }
            : what === 'details'
              ? { ...now, ...readDetails(reader) }
              : { ...now, items: rearrange(items, what, reader.text('part')) };
        const by = byFrom(typed);
        const controls =
          form === 'add' ? addFields(typed, [], desk, course, hall(), []) : detailFields(typed, [], desk);
        const written = await writeSent(controls, reader.problems, () =>
          changeCourse(desk.journal, course.id, seen, wanted as never, {
            ...by,
            who: by.who === '' ? 'Trainer' : by.who,
          }),
        );
        if (!written.ok)
          return show(c, desk, course, {
            typed,
            problems: written.problems,
            form,
            ...(written.stale === undefined ? {} : { stale: written.stale }),
          });
        if (what === 'details') rememberName(c, typed);
        return c.redirect(courseHref(course.id, '/edit#parts'), 303);
      }),
    );
}

function rearrange(items: readonly CourseItemRecord[], what: string, id: string): CourseItemRecord[] {
  const at = items.findIndex((item) => item.id === id);
  const item = items[at];
  if (item === undefined) return [...items];
  const rest = items.filter((one) => one !== item);
  if (what === 'out') return rest;
  const to = what === 'up' ? at - 1 : what === 'down' ? at + 1 : at;
  rest.splice(Math.max(0, to), 0, item);
  return rest;
}

function readDetails(reader: FormReader) {
  reader.needed('who', say('record.your-name'));
  return {
    title: reader.needed('title', say('course.called')),
    group: reader.text('group'),
    note: reader.text('note'),
  };
}

/** A part as the form names it: `lesson:false-twist`, `own:own-1`, `case`, `replay`. */
function readPart(reader: FormReader, hall: TrainingHall): CourseItemRecord | undefined {
  const [kind = '', id = ''] = reader.text('what').split(':');
  const minutes = reader.whole('minutes', say('course.minutes')) ?? USUAL_MINUTES;
  const common = { id: newItemId(), minutes, note: reader.text('partNote') };
  if (kind === 'lesson' && hall.room.material.lessons.some((one) => one.id === id))
    return { ...common, kind: 'lesson', lesson: id };
  if (kind === 'own') return { ...common, kind: 'own', practiceCase: id };
  const code = reader.text('code').replace(/\s/g, '').toLowerCase();
  if (kind === 'case' || kind === 'replay') {
    if (readPracticeCode(code) !== undefined)
      return kind === 'case' ? { ...common, kind, code } : { ...common, kind, code, checks: [] };
    reader.problems.push({
      name: 'code',
      message: say('course.no-number', { code: code.slice(0, 40) }),
      allowed: say('course.number-allowed'),
    });
    return undefined;
  }
  reader.problems.push({ name: 'what', message: say('course.choose-what'), allowed: '' });
  return undefined;
}

const detailFields = (typed: Typed, problems: readonly FormProblem[], desk: Desk, course?: CourseRecord) => {
  const make = startFields(typed, problems);
  return [
    make.hidden('do', 'details'),
    make.hidden('seen', String(course?.version ?? 0)),
    make.hidden('key', newKey()),
    make.text('title', say('course.called'), { value: course?.title ?? '' }),
    make.text('group', say('course.group'), { value: course?.group ?? '', hint: say('course.group-for') }),
    make.area('note', say('course.note'), { value: course?.note ?? '' }),
    make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
  ];
};

const addFields = (
  typed: Typed,
  problems: readonly FormProblem[],
  desk: Desk,
  course: CourseRecord,
  hall: TrainingHall,
  cases: readonly PracticeCaseRecord[],
) => {
  const make = startFields(typed, problems);
  const own = cases.filter((one) => !one.retired);
  return [
    make.hidden('do', 'add'),
    make.hidden('seen', String(course.version)),
    make.hidden('key', newKey()),
    make.hidden('who', desk.who === '' ? 'Trainer' : desk.who),
    make.select('what', say('course.what'), [
      ['', say('course.choose')],
      ['case', say('course.by-number')],
      ...own.map((one) => [`own:${one.id}`, say('course.own-case', { title: one.title })] as const),
      ...hall.room.material.lessons.map(
        (one) => [`lesson:${one.id}`, say('course.lesson', { title: one.title })] as const,
      ),
      ['replay', say('course.replay-number')],
    ]),
    make.text('code', say('course.number'), {
      hint: say('course.number-hint'),
    }),
    make.number('minutes', say('course.minutes'), {
      value: String(USUAL_MINUTES),
      unit: say('course.in-class'),
    }),
    make.area('partNote', say('course.trainer-note'), { hint: say('course.trainer-note-hint') }),
  ];
};

function viewEdit(
  desk: Desk,
  hall: TrainingHall,
  course: CourseRecord | undefined,
  cases: readonly PracticeCaseRecord[],
  sent: Sent | undefined,
): CourseEditPage {
  const nothing: Typed = new Map();
  const typedFor = (form: Sent['form']) => (sent?.form === form ? sent.typed : nothing);
  const problemsFor = (form: Sent['form']) => (sent?.form === form ? sent.problems : []);
  const details = detailFields(typedFor('details'), problemsFor('details'), desk, course);
  return {
    heading: course === undefined ? say('course.make') : say('course.change-what', { title: course.title }),
    backHref: course === undefined ? '/training/courses' : courseHref(course.id),
    backText: course === undefined ? say('course.all') : course.title,
    stale:
      sent?.stale === undefined
        ? undefined
        : viewStale(
            sent.stale,
            sent.stale.since.map((one) => `${one.who}, ${sayMoment(one.at)}: ${one.step}`),
          ),
    details: viewForm(
      course === undefined ? '/training/courses/new' : courseHref(course.id, '/edit'),
      course === undefined ? say('course.make-it') : say('course.keep'),
      details,
      problemsFor('details'),
    ),
    parts: sayParts(course?.items ?? [], hall, cases).map(({ item, ...words }, n, all) => {
      return {
        n: n + 1,
        id: item.id,
        title: words.title,
        kind: words.kind,
        minutes: say('course.min', { n: item.minutes }),
        note: item.note,
        first: n === 0,
        last: n === all.length - 1,
      };
    }),
    total: course === undefined ? '' : say('course.total', { n: totalMinutes(course.items) }),
    action: course === undefined ? '' : courseHref(course.id, '/edit'),
    hidden:
      course === undefined
        ? []
        : [
            { name: 'seen', value: String(course.version) },
            { name: 'who', value: desk.who === '' ? 'Trainer' : desk.who },
          ],
    add:
      course === undefined
        ? undefined
        : viewForm(
            courseHref(course.id, '/edit'),
            say('course.add'),
            addFields(typedFor('add'), problemsFor('add'), desk, course, hall, cases),
            problemsFor('add'),
          ),
  };
}
