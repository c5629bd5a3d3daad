import {
  type CourseRecord,
  type CourseState,
  listMembers,
  listPracticeCases,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { CoursePage, CoursePartView } from '../../../templates/course-models.js';
import { mayOpen, signedIn } from '../../access/requester.js';
import { type Desk, newKey } from '../../journal/desk.js';
import { type Handed, lastFor, readHanded } from '../../training/course-results.js';
import { courseHref, isPractice, STATE_WORDS, sayParts } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { type FormProblem, startFields, type Typed, viewForm } from '../journal/form.js';

/** What a trainer can make of a course as it stands. */
export const stateForms: readonly {
  readonly state: CourseState;
  readonly from: readonly CourseState[];
  readonly submit: 'course.open-it' | 'course.close-it';
}[] = [
  { state: 'open', from: ['draft', 'closed'], submit: 'course.open-it' },
  { state: 'closed', from: ['open'], submit: 'course.close-it' },
];

const ACTIONS = {
  lesson: 'course.open-lesson',
  case: 'course.begin-it',
  own: 'course.begin-it',
  replay: 'course.step-through',
} as const;

/** The page of a course for whoever works here. */
export async function viewCourse(
  desk: Desk,
  hall: TrainingHall,
  course: CourseRecord,
  sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
): Promise<CoursePage> {
  const members = await listMembers(desk.journal, course.id);
  const trainee = members.some((one) => one.trainee === desk.who) ? desk.who : '';
  const handed: Handed =
    trainee === '' ? { cases: [], lessons: [] } : await readHanded(desk.journal, course.id, trainee);
  const cases = course.items.some((item) => item.kind === 'own') ? await listPracticeCases(desk.journal) : [];
  const open = course.state === 'open' && trainee !== '';
  const done = course.items.map((item) => lastFor(handed, item));
  const next = course.items.findIndex((item, n) => item.kind !== 'replay' && done[n] === undefined);
  const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
  return {
    title: course.title,
    group: course.group,
    state: STATE_WORDS[course.state],
    note: course.note,
    trainee,
    parts: sayParts(course.items, hall, cases).map(({ item, ...words }, n): CoursePartView => {
      const last = done[n];
      return {
        n: n + 1,
        kind: words.kind,
        title: words.title,
        minutes: say('course.min', { n: item.minutes }),
        done:
          last === undefined
            ? ''
            : 'record' in last
              ? last.result.passed
                ? say('course.done-passed')
                : say('course.done-not')
              : say('course.done-right', { right: last.result.right, of: last.result.of }),
        doneHref:
          last !== undefined && 'record' in last
            ? courseHref(course.id, `/attempts/${last.attempt.number}`)
            : '',
        href: open ? courseHref(course.id, `/parts/${item.id}`) : '',
        action: last !== undefined && isPractice(item) ? say('course.again') : say(ACTIONS[item.kind]),
        next: open && n === next,
      };
    }),
    progress: sayProgress(course, done),
    reportHref: courseHref(course.id, `/report?trainee=${encodeURIComponent(trainee)}`),
    join:
      course.state !== 'open' || (trainee !== '' && signedIn() !== undefined)
        ? undefined
        : {
            action: courseHref(course.id, '/join'),
            key: newKey(),
            // Whoever is signed in has no other name.
            names:
              signedIn() === undefined
                ? members.map((one) => one.trainee).filter((name) => name !== trainee)
                : [],
            form: viewForm(
              courseHref(course.id, '/join'),
              say('course.join'),
              [
                make.text('who', say('record.your-name'), {
                  autocomplete: 'name',
                  hint: members.length === 0 ? say('course.who-hint') : say('course.who-hint-new'),
                }),
              ],
              sent?.problems ?? [],
            ),
          },
    trainerLinks: [
      { href: courseHref(course.id, '/class'), text: say('course.walk') },
      { href: courseHref(course.id, '/progress'), text: say('course.progress-link') },
      { href: courseHref(course.id, '/edit'), text: say('course.change') },
      { href: courseHref(course.id, '/handout'), text: say('replay.print') },
    ].filter((link) => mayOpen(link.href)),
    stateForms: stateForms
      .filter((one) => one.from.includes(course.state) && mayOpen(courseHref(course.id, '/state'), 'POST'))
      .map((one) =>
        viewForm(courseHref(course.id, '/state'), say(one.submit), [
          make.hidden('state', one.state),
          make.hidden('who', desk.who === '' ? 'Trainer' : desk.who),
        ]),
      ),
  };
}

function sayProgress(course: CourseRecord, done: readonly unknown[]): string {
  const counted = course.items.filter((item) => item.kind !== 'replay').length;
  const handed = course.items.filter((item, n) => item.kind !== 'replay' && done[n] !== undefined).length;
  return handed === counted && counted > 0
    ? say('course.all-handed')
    : say('course.handed-of', { n: handed, of: counted });
}
