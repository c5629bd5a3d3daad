import { Hono } from 'hono';
import {
  type CourseRecord,
  findCourse,
  type Journal,
  listMembers,
  listPracticeCases,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { reportTrainee, tellApart } from '../../../rules/training/index.js';
import { writeCsv } from '../../../statistics/tables/write-csv.js';
import { requireOwn } from '../../access/requester.js';
import { atDesk, pathPart } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { type Handed, lastOfEach, readHanded } from '../../training/course-results.js';
import { courseHref } from '../../training/course-words.js';
import { exportResults, RESULT_COLUMNS, resultRow } from '../../training/export-results.js';
import type { TrainingHall } from '../../training/hall.js';
import { sayMoment } from '../../views/journal/moments.js';
import { type Cell, viewTable } from '../../views/journal/table.js';
import { viewProgress } from '../../views/training/course-progress.js';

/** What a group made of a course: progress, mix-ups, what each is to do differently, and files to take along. */
export function courseProgressPages(site: Site, hall: () => TrainingHall): Hono {
  const { book } = site.knowledge;
  const label = (id: string) => book.causes.get(id)?.label ?? id;
  const all = async (journal: Journal, id: string) => {
    const course = await findCourse(journal, id);
    const [members, handed, cases] = [
      await listMembers(journal, id),
      await readHanded(journal, id),
      await listPracticeCases(journal),
    ];
    return { course, members, handed, cases };
  };
  return new Hono()
    .get(
      '/training/courses/:course{course-[0-9]+}/progress',
      atDesk(site, async (c, { journal }) => {
        const found = await all(journal, pathPart(c, 'course'));
        const page = viewProgress(hall(), found, (one, other) => tellApart(hall().room, one, other));
        return c.html(
          site.page(
            'course-progress',
            { title: say('course.progress-title', { title: found.course.title }), section: 'training' },
            page,
          ),
        );
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}/results.csv',
      atDesk(site, async (c, { journal }) => {
        const { course, handed, cases } = await all(journal, pathPart(c, 'course'));
        const rows = exportResults(hall(), course, handed, cases);
        return c.body(writeCsv([...RESULT_COLUMNS], rows.map(resultRow)), 200, {
          'Content-Type': 'text/csv; charset=utf-8',
          'Content-Disposition': `attachment; filename="${course.id}.csv"`,
        });
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}/results.json',
      atDesk(site, async (c, { journal }) => {
        const { course, handed, cases } = await all(journal, pathPart(c, 'course'));
        c.header('Content-Disposition', `attachment; filename="${course.id}.json"`);
        return c.json({ course, results: exportResults(hall(), course, handed, cases) });
      }),
    )
    .get(
      '/training/courses/:course{course-[0-9]+}/report',
      atDesk(site, async (c, desk) => {
        const course = await findCourse(desk.journal, pathPart(c, 'course'));
        const trainee = (c.req.query('trainee') ?? desk.who).slice(0, 200);
        requireOwn(trainee, 'courses');

        const handed = await readHanded(desk.journal, course.id, trainee);
        const report = reportTrainee(lastOfEach(handed.cases), label, (one, other) =>
          tellApart(hall().room, one, other),
        );
        const page = {
          title: course.title,
          trainee: trainee === '' ? say('course.nobody') : trainee,
          backHref: courseHref(course.id),
          ...report,
          attempts: handedTable(course, handed),
        };
        return c.html(
          site.page(
            'trainee-report',
            { title: say('course.report-for', { name: page.trainee }), section: 'training' },
            page,
          ),
        );
      }),
    );
}

function handedTable(course: CourseRecord, handed: Handed) {
  const rows = [
    ...handed.cases.map(({ attempt, result }): [number, Cell[]] => [
      attempt.number,
      [
        { text: result.title, href: courseHref(course.id, `/attempts/${attempt.number}`) },
        sayMoment(attempt.at),
        result.passed ? say('course.passed') : say('course.not-passed'),
        say('course.took', {
          n: Math.round(result.minutes),
          best: Math.round(result.bestMinutes),
        }),
      ],
    ]),
    ...handed.lessons.map(({ attempt, result }): [number, Cell[]] => [
      attempt.number,
      [
        say('course.lesson', { title: result.title }),
        sayMoment(attempt.at),
        say('lesson.score', { right: result.right, of: result.of }),
        '',
      ],
    ]),
  ].sort(([a], [b]) => b - a);
  return viewTable(
    'handed',
    say('course.handed-last'),
    [say('course.what'), say('course.when'), say('course.result'), `#${say('course.minutes')}`],
    rows.map(([, cells]) => cells),
    say('course.none-handed'),
  );
}
