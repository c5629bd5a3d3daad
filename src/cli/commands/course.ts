import type { Journal } from '../../journal/index.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { DATA_OPTION, placeOf, withPresentJournal } from '../journal/place.js';
import { layTable } from '../layout/table.js';
import { openRoom } from '../training/room.js';

const journalOf = () => import('../../journal/index.js');

/** `peelpoint course list`. */
export const courseList: Command = {
  name: 'course list',
  summary: 'list the courses of the training room',
  about: [
    'Lists the courses kept in the journal: what they are called, for whom, whether they are open, how many take part and how much was handed in.',
  ],
  arguments: [],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: ['peelpoint course list'],
  run: async (given, terminal) => {
    const { listAttempts, listCourses, listMembers } = await journalOf();
    const rows = await withPresentJournal(placeOf(given), async (journal: Journal) =>
      Promise.all(
        (await listCourses(journal)).map(async (course) => ({
          ...course,
          trainees: (await listMembers(journal, course.id)).length,
          handedIn: (await listAttempts(journal, course.id)).length,
        })),
      ),
    );
    if (given.options.has('json')) printJson(terminal, { courses: rows });
    else if (rows.length === 0)
      terminal.out('There is no course yet. The page /training/courses offers one that is ready.\n');
    else
      for (const line of layTable(
        ['Course', 'Title', 'Group', 'State', 'Parts', 'Trainees', 'Handed in'].map((title) => ({ title })),
        rows.map((one) => [
          one.id,
          one.title,
          one.group === '' ? '-' : one.group,
          one.state,
          String(one.items.length),
          String(one.trainees),
          String(one.handedIn),
        ]),
        terminal.width,
      ))
        terminal.out(`${line}\n`);
    return EXIT.done;
  },
};

/** `peelpoint course export COURSE`. */
export const courseExport: Command = {
  name: 'course export',
  summary: 'print what was handed in for a course, as CSV or JSON',
  about: [
    'Prints everything handed in for a course: who, when, minutes against the best way, scores, causes put forward, what to do differently. Texts that a spreadsheet would run as a formula are made harmless.',
  ],
  arguments: [{ name: 'COURSE', help: 'the id of the course, as course list shows it: course-1' }],
  options: { ...DATA_OPTION, ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint course export course-1 > results.csv', 'peelpoint course export course-1 --json'],
  run: async (given, terminal) => {
    const [id = ''] = given.arguments;
    const { findCourse, listPracticeCases } = await journalOf();
    const { readHanded } = await import('../../server/training/course-results.js');
    const { exportResults, RESULT_COLUMNS, resultRow } = await import(
      '../../server/training/export-results.js'
    );
    const { writeCsv } = await import('../../statistics/tables/write-csv.js');
    const room = await openRoom(given);
    const { course, results } = await withPresentJournal(placeOf(given), async (journal) => {
      const found = await findCourse(journal, id);
      return {
        course: found,
        results: exportResults(
          { room },
          found,
          await readHanded(journal, id),
          await listPracticeCases(journal),
        ),
      };
    });
    if (given.options.has('json')) printJson(terminal, { course, results });
    else terminal.out(writeCsv([...RESULT_COLUMNS], results.map(resultRow)));
    return EXIT.done;
  },
};
