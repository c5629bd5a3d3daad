import type { CourseRecord, MemberRecord, PracticeCaseRecord } from '../../../journal/index.js';
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
import { courseHref, isPractice, sayPart } from '../../training/course-words.js';
import type { TrainingHall } from '../../training/hall.js';
import { sayMinutes } from '../../words.js';
import { sayMoment } from '../journal/moments.js';
import { type Cell, viewTable } from '../journal/table.js';

/** Pairs that the picture shows; the table shows all. */
const PICTURED = 9;
const PUT_NOTHING = 'nothing put forward';

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
  const label = (id: string) => (id === NOTHING ? PUT_NOTHING : (book.causes.get(id)?.label ?? id));
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
  const titles = new Map(course.items.map((item) => [item.id, sayPart(item, hall, cases).title]));
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
    lead: `${members.length} ${members.length === 1 ? 'takes' : 'take'} part; ${handed.cases.length} ${handed.cases.length === 1 ? 'case' : 'cases'} and ${handed.lessons.length} ${handed.lessons.length === 1 ? 'lesson' : 'lessons'} handed in.`,
    progress: viewTable(
      'progress',
      'Who did what',
      ['Trainee', '#Cases', '#Passed', '#Minutes', '#Brier score', '#Unsafe steps', '#Questions'],
      members.map(({ trainee }): Cell[] => {
        const one = progress.find((row) => row.trainee === trainee);
        const right = lastLessons(handed, trainee);
        return [
          { text: trainee, href: courseHref(course.id, `/report?trainee=${encodeURIComponent(trainee)}`) },
          `${one?.done ?? 0} of ${practice.length}`,
          String(one?.passed ?? 0),
          one === undefined || one.done === 0 ? '–' : `${one.minutesRatio.toFixed(1)} × the best way`,
          one === undefined || one.done === 0 ? '–' : one.brier.toFixed(2),
          String(one?.unsafe ?? 0),
          lessons.length === 0 || right.of === 0 ? '–' : `${right.right} of ${right.of} right`,
        ];
      }),
      'Nobody takes part yet. Trainees open the course and say who they are.',
    ),
    picture: shown.length === 0 ? undefined : drawMixUps('Which causes this group mixes up', shown),
    confusions: viewTable(
      'confusions',
      'What was at work and what was put first',
      ['At work', 'Put first', '#How often', 'What tells them apart'],
      [...pairs]
        .sort((a, b) => Number(a.right) - Number(b.right) || b.count - a.count)
        .map(({ truth, taken, count, right, ids }): Cell[] => {
          const telling = right || ids[1] === NOTHING ? undefined : tellApart(...(ids as [string, string]));
          return [
            { text: truth, href: `/knowledge/cause/${ids[0]}` },
            right ? 'found' : taken,
            String(count),
            telling === undefined
              ? right || ids[1] === NOTHING
                ? ''
                : 'no single check'
              : sayTelling(telling, label),
          ];
        }),
      'No case has been handed in yet.',
      [...pairs]
        .sort((a, b) => Number(a.right) - Number(b.right) || b.count - a.count)
        .map((pair) => (pair.right ? '' : 'high')),
    ),
    attempts: viewTable(
      'attempts',
      'Everything handed in, the last one first',
      ['Who', 'What', 'When', 'Result', '#Checks', '#Minutes', '#Best way', '#Brier score'],
      [
        ...handed.cases.map(({ attempt, result }): [number, Cell[]] => [
          attempt.number,
          [
            { text: attempt.trainee, href: courseHref(course.id, `/attempts/${attempt.number}`) },
            titles.get(attempt.item) ?? result.title,
            sayMoment(attempt.at),
            result.unsafe.length > 0 ? 'not safe' : result.passed ? 'passed' : 'not passed yet',
            String(result.checks),
            sayMinutes(result.minutes),
            sayMinutes(result.bestMinutes),
            result.brier.toFixed(2),
          ],
        ]),
        ...handed.lessons.map(({ attempt, result }): [number, Cell[]] => [
          attempt.number,
          [
            attempt.trainee,
            `Lesson: ${result.title}`,
            sayMoment(attempt.at),
            `${result.right} of ${result.of} right`,
            '',
            '',
            '',
            '',
          ],
        ]),
      ]
        .sort(([a], [b]) => b - a)
        .map(([, cells]) => cells),
      'Nothing has been handed in yet.',
    ),
    notes: [
      'Minutes: checks and search together over those of the best way from the same beginning; the middle of the last attempts. Brier score: smaller is better, nothing beats saying how sure one really is. Mix-ups count first attempts, made without knowing how it ends.',
    ],
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
