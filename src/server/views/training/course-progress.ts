import type { CourseRecord, MemberRecord, PracticeCaseRecord } from '../../../journal/index.js';
import { sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import {
  confusionTable,
  courseProgress,
  NOTHING,
  sayTelling,
  type TellingCheck,
} from '../../../rules/training/index.js';
import type { CourseProgressPage } from '../../../templates/course-models.js';
import { drawMixUps, type MixUp } from '../../pictures/mix-ups.js';
import { firstOfEach, type Handed } from '../../training/course-results.js';
import { courseHref, isPractice, sayParts } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { sayMinutes } from '../../words.js';
import { sayMoment } from '../journal/moments.js';
import { type Cell, viewTable } from '../journal/table.js';

/** Pairs that the picture shows; the table shows all. */
const PICTURED = 9;

/** What a group made of a course. */
export function viewProgress(
  hall: TrainingHall,
  found: {
    readonly course: CourseRecord;
    readonly members: readonly MemberRecord[];
    readonly handed: Handed;
    readonly cases: readonly PracticeCaseRecord[];
  },
  tellApart: (one: string, other: string) => TellingCheck | undefined,
): CourseProgressPage {
  const { course, members, handed, cases } = found;
  const { book } = hall.room.reasoner.knowledge;
  const label = (id: string) =>
    id === NOTHING ? say('course.put-nothing') : (book.causes.get(id)?.label ?? id);
  const practice = course.items.filter(isPractice);
  const progress = courseProgress(
    {
      id: course.id,
      title: course.title,
      group: course.group,
      items: practice.map((item) => ({ kind: 'case' as const, code: item.id })),
    },
    handed.cases.map((one) => one.record),
  );
  const titles = new Map(sayParts(course.items, hall, cases).map(({ item, title }) => [item.id, title]));
  const lessons = course.items.filter((item) => item.kind === 'lesson');
  const table = confusionTable(firstOfEach(handed.cases).map((one) => one.record));
  const pairs = table.truths.flatMap((truth) =>
    table.proposed
      .map((taken): MixUp & { readonly ids: readonly [string, string] } => ({
        truth: label(truth),
        taken: label(taken),
        count: table.count(truth, taken),
        right: truth === taken,
        ids: [truth, taken],
      }))
      .filter((pair) => pair.count > 0),
  );
  const shown = [...pairs]
    .sort((a, b) => Number(a.right) - Number(b.right) || b.count - a.count)
    .slice(0, PICTURED);
  return {
    title: course.title,
    backHref: courseHref(course.id),
    lead: say('course.progress-lead', {
      members: members.length,
      cases: handed.cases.length,
      lessons: handed.lessons.length,
    }),
    progress: viewTable(
      'progress',
      say('course.who-did'),
      [
        say('course.trainee'),
        `#${say('course.cases-column')}`,
        `#${say('course.passed-column')}`,
        `#${say('course.minutes')}`,
        `#${say('course.brier')}`,
        `#${say('course.unsafe')}`,
        `#${say('course.questions')}`,
      ],
      members.map(({ trainee }): Cell[] => {
        const one = progress.find((row) => row.trainee === trainee);
        const right = lastLessons(handed, trainee);
        return [
          { text: trainee, href: courseHref(course.id, `/report?trainee=${encodeURIComponent(trainee)}`) },
          say('course.done-of', { n: one?.done ?? 0, of: practice.length }),
          String(one?.passed ?? 0),
          one === undefined || one.done === 0
            ? '–'
            : say('course.times', { n: sayFixed(one.minutesRatio, 1) }),
          one === undefined || one.done === 0 ? '–' : sayFixed(one.brier, 2),
          String(one?.unsafe ?? 0),
          lessons.length === 0 || right.of === 0
            ? '–'
            : say('lesson.score', { right: right.right, of: right.of }),
        ];
      }),
      say('course.nobody-yet'),
    ),
    picture: shown.length === 0 ? undefined : drawMixUps(say('course.mixes'), shown),
    confusions: viewTable(
      'confusions',
      say('course.work-and-first'),
      [say('course.at-work'), say('course.put-first'), `#${say('course.often')}`, say('course.apart')],
      [...pairs]
        .sort((a, b) => Number(a.right) - Number(b.right) || b.count - a.count)
        .map(({ truth, taken, count, right, ids }): Cell[] => {
          const telling = right || ids[1] === NOTHING ? undefined : tellApart(...(ids as [string, string]));
          return [
            { text: truth, href: `/knowledge/cause/${ids[0]}` },
            right ? say('course.found') : taken,
            String(count),
            telling === undefined
              ? right || ids[1] === NOTHING
                ? ''
                : say('course.no-check')
              : sayTelling(telling, label),
          ];
        }),
      say('course.no-case'),
      [...pairs]
        .sort((a, b) => Number(a.right) - Number(b.right) || b.count - a.count)
        .map((pair) => (pair.right ? '' : 'high')),
    ),
    attempts: viewTable(
      'attempts',
      say('course.all-last'),
      [
        say('course.who-column'),
        say('course.what'),
        say('course.when'),
        say('course.result'),
        `#${say('course.checks')}`,
        `#${say('course.minutes')}`,
        `#${say('course.best')}`,
        `#${say('course.brier')}`,
      ],
      [
        ...handed.cases.map(({ attempt, result }): [number, Cell[]] => [
          attempt.number,
          [
            { text: attempt.trainee, href: courseHref(course.id, `/attempts/${attempt.number}`) },
            titles.get(attempt.item) ?? result.title,
            sayMoment(attempt.at),
            result.unsafe.length > 0
              ? say('course.not-safe')
              : result.passed
                ? say('course.passed')
                : say('course.not-passed'),
            String(result.checks),
            sayMinutes(result.minutes),
            sayMinutes(result.bestMinutes),
            sayFixed(result.brier, 2),
          ],
        ]),
        ...handed.lessons.map(({ attempt, result }): [number, Cell[]] => [
          attempt.number,
          [
            attempt.trainee,
            say('course.lesson', { title: result.title }),
            sayMoment(attempt.at),
            say('lesson.score', { right: result.right, of: result.of }),
            '',
            '',
            '',
            '',
          ],
        ]),
      ]
        .sort(([a], [b]) => b - a)
        .map(([, cells]) => cells),
      say('course.none-handed'),
    ),
    notes: [say('course.progress-note')],
    downloads: [
      { href: courseHref(course.id, '/results.csv'), text: 'CSV' },
      { href: courseHref(course.id, '/results.json'), text: 'JSON' },
    ],
  };
}

/** Right answers of somebody's last try at each lesson. */
function lastLessons(handed: Handed, trainee: string): { readonly right: number; readonly of: number } {
  const last = new Map(
    handed.lessons
      .filter((one) => one.attempt.trainee === trainee)
      .map((one) => [one.result.lesson, one.result]),
  );
  let right = 0;
  let of = 0;
  for (const result of last.values()) {
    right += result.right;
    of += result.of;
  }
  return { right, of };
}
