import { z } from 'zod';
import {
  addPracticeCase,
  findCourse,
  findPracticeCase,
  listCourses,
  listPracticeCases,
  type PracticeCaseRecord,
} from '../../journal/index.js';
import { readTrainerCase, TrainingError } from '../../rules/training/index.js';
import { readHanded } from '../training/course-results.js';
import { exportResults } from '../training/export-results.js';
import { trainingHall } from '../training/hall.js';
import { ApiError } from './errors.js';
import { type ApiRoute, route } from './route.js';

const courseSchema = z.looseObject({
  id: z.string(),
  title: z.string(),
  group: z.string(),
  state: z.string(),
  items: z.array(z.looseObject({ id: z.string(), kind: z.string(), minutes: z.number() })),
});
const practiceCaseSchema = z.looseObject({
  id: z.string(),
  version: z.number(),
  title: z.string(),
  origin: z.string(),
  agrees: z.boolean(),
  retired: z.boolean(),
});

/** Courses and practice cases: what they are, what was made of them, a case of one's own to add. */
export const TRAINING_ROUTES: readonly ApiRoute[] = [
  route({
    method: 'get',
    path: '/courses',
    tag: 'Training',
    summary: 'All courses with their parts',
    response: z.strictObject({ rows: z.array(courseSchema) }),
    handle: async ({ journal }) => ({ rows: await listCourses(journal) }),
  }),
  route({
    method: 'get',
    path: '/courses/{course}/results',
    tag: 'Training',
    summary: 'Everything handed in for a course: minutes, scores, causes put forward, advice',
    response: z.strictObject({
      course: courseSchema,
      results: z.array(z.looseObject({ trainee: z.string(), at: z.string(), kind: z.string() })),
    }),
    handle: async ({ journal, site, params }) => {
      const course = await findCourse(journal, params.course ?? '');
      const handed = await readHanded(journal, course.id);
      return {
        course,
        results: exportResults(trainingHall(site)(), course, handed, await listPracticeCases(journal)),
      };
    },
  }),
  route({
    method: 'get',
    path: '/practice-cases',
    tag: 'Training',
    summary: 'The practice cases of this mill, without their texts and keys',
    response: z.strictObject({ rows: z.array(practiceCaseSchema) }),
    handle: async ({ journal }) => ({ rows: (await listPracticeCases(journal)).map(withoutText) }),
  }),
  route({
    method: 'get',
    path: '/practice-cases/{case}',
    tag: 'Training',
    summary: 'A practice case with its text and answer key, for trainers',
    response: practiceCaseSchema.extend({ text: z.string() }),
    handle: ({ journal, params }) => findPracticeCase(journal, params.case ?? ''),
  }),
  route({
    method: 'post',
    path: '/practice-cases',
    tag: 'Training',
    summary:
      'Keep a practice case: a case file with an answer key; says whether the product agrees with the key',
    body: z.strictObject({
      title: z.string().min(1).max(200).describe('what trainees see; it must not give the cause away'),
      text: z.string().min(1).max(60_000).describe('a case file with an answer-key, YAML or JSON'),
    }),
    status: 201,
    response: z.strictObject({ case: practiceCaseSchema, words: z.string() }),
    handle: async ({ journal, site, body, by }) => {
      const hall = trainingHall(site)();
      try {
        const verdict = await hall.work.checkKey(readTrainerCase(body.text, hall.room));
        const kept = await addPracticeCase(
          journal,
          { ...body, origin: 'written', agrees: verdict.agrees, knowledge: site.knowledge.version },
          by(),
        );
        return { case: withoutText(kept), words: verdict.words };
      } catch (error) {
        if (!(error instanceof TrainingError)) throw error;
        throw new ApiError(
          422,
          'case',
          `${error.message}.`,
          error.problems.map(({ field, value, message, allowed }) => ({
            field: field === '' ? 'text' : `text.${field}`,
            value: `${value === '' ? '' : `${value}: `}${message}`,
            allowed: allowed.join('; '),
          })),
        );
      }
    },
  }),
];

const withoutText = ({ text: _, ...rest }: PracticeCaseRecord) => rest;
