import {
  type CourseRecord,
  type CourseState,
  listMembers,
  listPracticeCases,
} from '../../../journal/index.js';
import type { CoursePage, CoursePartView } from '../../../templates/course-models.js';
import { mayOpen, signedIn } from '../../access/requester.js';
import { type Desk, newKey } from '../../journal/desk.js';
import { type Handed, lastFor, readHanded } from '../../training/course-results.js';
import { courseHref, isPractice, STATE_WORDS, sayPart } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { type FormProblem, startFields, type Typed, viewForm } from '../journal/form.js';

/** What a trainer can make of a course as it stands. */
export const stateForms: readonly {
  readonly state: CourseState;
  readonly from: readonly CourseState[];
  readonly submit: string;
}[] = [
  { state: 'open', from: ['draft', 'closed'], submit: 'Open it to trainees' },
  { state: 'closed', from: ['open'], submit: 'Close it' },
];

const ACTIONS = {
  lesson: 'Open the lesson',
  case: 'Begin',
  own: 'Begin',
  replay: 'Step through it',
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
    parts: course.items.map((item, n): CoursePartView => {
      const words = sayPart(item, hall, cases);
      const last = done[n];
      return {
        n: n + 1,
        kind: words.kind,
        title: words.title,
        minutes: `${item.minutes} min`,
        done:
          last === undefined
            ? ''
            : 'record' in last
              ? `Handed in: ${last.result.passed ? 'passed' : 'not passed yet'}. What to do differently`
              : `Handed in: ${last.result.right} of ${last.result.of} right`,
        doneHref:
          last !== undefined && 'record' in last
            ? courseHref(course.id, `/attempts/${last.attempt.number}`)
            : '',
        href: open ? courseHref(course.id, `/parts/${item.id}`) : '',
        action: last !== undefined && isPractice(item) ? 'Try it again' : ACTIONS[item.kind],
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
              'Take part',
              [
                make.text('who', 'Your name', {
                  autocomplete: 'name',
                  hint:
                    members.length === 0
                      ? 'As the trainer knows you; what you hand in stands under it.'
                      : 'New here? As the trainer knows you; what you hand in stands under it.',
                }),
              ],
              sent?.problems ?? [],
            ),
          },
    trainerLinks: [
      { href: courseHref(course.id, '/class'), text: 'Walk through the class' },
      { href: courseHref(course.id, '/progress'), text: 'Progress and mix-ups' },
      { href: courseHref(course.id, '/edit'), text: 'Change the course' },
      { href: courseHref(course.id, '/handout'), text: 'Handout to print' },
    ].filter((link) => mayOpen(link.href)),
    stateForms: stateForms
      .filter((one) => one.from.includes(course.state) && mayOpen(courseHref(course.id, '/state'), 'POST'))
      .map((one) =>
        viewForm(courseHref(course.id, '/state'), one.submit, [
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
    ? 'everything is handed in.'
    : `${handed} of ${counted} handed in.`;
}
