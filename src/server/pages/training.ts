import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { MOST_SEED, readPracticeCode, readTrainerCase, TrainingError } from '../../rules/training/index.js';
import { readForm } from '../form-body.js';
import type { Site } from '../site.js';
import { trainingHall } from '../training/hall.js';
import { placeLesson } from '../training/lesson-place.js';
import { drawSheet, svgResponse } from '../training/position-sheet.js';
import { viewGlossary, viewTraining } from '../views/training/home.js';
import { lessonCases, lessonMark, readLessonState, viewLesson } from '../views/training/lesson.js';
import { viewOwnCase } from '../views/training/own-case.js';
import { attemptPages } from './training/attempts.js';
import { classPages } from './training/class.js';
import { courseEditPages } from './training/course-edit.js';
import { coursePartPages } from './training/course-parts.js';
import { courseProgressPages } from './training/course-progress.js';
import { coursePages } from './training/courses.js';
import { keptCasePages } from './training/kept-cases.js';
import { practicePages } from './training/practice.js';
import { practiceCasePages } from './training/practice-cases.js';
import { replayPages } from './training/replay.js';

/** The training room: lessons, glossary, practice that marks itself, replays, a trainer's own cases. */
export function trainingPages(site: Site): Hono {
  const hall = trainingHall(site);
  const pages = new Hono();
  pages.get('/training', (c) => {
    const typed = (c.req.query('code') ?? '').slice(0, 20);
    const number = readPracticeCode(typed);
    if (number !== undefined) return c.redirect(`/training/practice?case=${typed.trim()}`, 303);
    const error = typed.trim() === '' ? '' : say('training.no-number', { typed });
    const title = error === '' ? say('training.title') : say('training.error-title');
    const seed = 1 + Math.floor(Math.random() * MOST_SEED);
    return c.html(
      site.page(
        'training',
        { title, section: 'training' },
        viewTraining(hall().room, seed, { typed, error }),
      ),
    );
  });
  pages.get('/training/glossary', (c) =>
    c.html(
      site.page(
        'glossary',
        { title: say('training.glossary'), section: 'training' },
        viewGlossary(hall().room),
      ),
    ),
  );
  pages.get('/training/lessons/:id', async (c) => {
    const { room, work } = hall();
    const lesson = room.material.lessons.find((one) => one.id === c.req.param('id'));
    if (lesson === undefined) return c.notFound();
    const state = readLessonState(lesson, new URL(c.req.url).searchParams);
    const cases = lessonCases(lesson, room);
    const chosen = cases[state.play];
    if (chosen === undefined) return c.notFound();
    const reports = await Promise.all(cases.map((input) => site.diagnostician.report(input)));
    const { description } = await drawSheet(work, chosen, {
      title: lesson.title,
      layout: 'wide',
      mark: lessonMark(lesson),
    });
    return c.html(
      site.page(
        'lesson',
        { title: lesson.title, section: 'training' },
        placeLesson(viewLesson(lesson, room, state, reports, description), new URL(c.req.url).searchParams),
      ),
    );
  });
  pages.get('/training/lessons/:id/drawing.svg', async (c) => {
    const { room, work } = hall();
    const lesson = room.material.lessons.find((one) => one.id === c.req.param('id'));
    if (lesson === undefined) return c.notFound();
    const { play } = readLessonState(lesson, new URL(c.req.url).searchParams);
    const cases = lessonCases(lesson, room);
    const [first] = cases;
    const input = cases[play];
    if (input === undefined || first === undefined) return c.notFound();
    const { svg } = await drawSheet(work, input, {
      title: lesson.title,
      layout: c.req.query('layout') === 'wide' ? 'wide' : 'tall',
      mark: lessonMark(lesson),
      before: play === 0 ? undefined : first,
    });
    return svgResponse(svg);
  });
  const own = (model: ReturnType<typeof viewOwnCase>) =>
    site.page(
      'own-case',
      {
        title: model.problems.length > 0 ? say('own-case.error-title') : say('own-case.heading'),
        section: 'training',
      },
      model,
    );
  pages.get('/training/own-case', (c) => c.html(own(viewOwnCase('', [], undefined))));
  pages.post('/training/own-case', async (c) => {
    const text = (await readForm(c)).get('text') ?? '';
    try {
      const { room, work } = hall();
      return c.html(own(viewOwnCase(text, [], await work.checkKey(readTrainerCase(text, room)))));
    } catch (error) {
      if (!(error instanceof TrainingError)) throw error;
      // Answered at once: a case is too long for an address, and nothing is kept here.
      return c.html(own(viewOwnCase(text, error.problems, undefined)), 422);
    }
  });
  for (const part of [
    practicePages,
    replayPages,
    coursePages,
    coursePartPages,
    courseEditPages,
    courseProgressPages,
    attemptPages,
    classPages,
    practiceCasePages,
    keptCasePages,
  ])
    pages.route('/', part(site, hall));
  return pages;
}
