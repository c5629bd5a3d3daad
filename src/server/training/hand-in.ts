import { findCourse, JournalError, keepAttempt, listAttempts } from '../../journal/index.js';
import { SOURCE_LANGUAGE } from '../../language/languages.js';
import { inLanguage } from '../../language/scope.js';
import { type PracticeCase, resultOf, TrainingError } from '../../rules/training/index.js';
import type { Desk } from '../journal/desk.js';
import type { Site } from '../site.js';
import type { TrainingHall } from './hall.js';
import { type PracticeState, writeMove } from './practice-state.js';

/**
 * Marks an attempt for a course and keeps it with everything that is needed to mark it anew: the case as it was dealt,
 * the answers that were given, the moves. An attempt handed in a second time, because the network dropped or the button
 * was pressed twice, is kept once.
 *
 * @returns the address of the marked attempt
 * @throws TrainingError when nobody has said who he is
 */
export async function handIn(
  site: Site,
  hall: () => TrainingHall,
  desk: Desk,
  dealt: PracticeCase,
  state: PracticeState,
): Promise<string> {
  const place = state.course;
  const trainee = (desk.who === '' ? state.trainee : desk.who).trim();
  if (place === undefined || trainee === '')
    throw new TrainingError('nobody has joined the course here; open the course and say who you are');
  const course = await findCourse(desk.journal, place.id);
  const moves = state.moves.map(writeMove);
  const key = `run-${place.run}`;
  const known = (await listAttempts(desk.journal, course.id, trainee)).find(
    (one) => (one.result as { run?: unknown }).run === place.run,
  );
  if (known !== undefined) return attemptHref(course.id, known.number, true);
  const attempt = { moves: state.moves, trainee };
  // What is kept is kept in the language everything is written in first.
  const [marking, played] = await inLanguage(SOURCE_LANGUAGE, async () => {
    const { work } = hall();
    return [await work.mark(dealt, attempt), await work.play(dealt, state.moves)] as const;
  });
  const answers = Object.fromEntries(
    played.moves.flatMap((move) =>
      move.kind === 'check'
        ? [[move.part === undefined ? move.check : `${move.check}.${move.part}`, move.outcome] as const]
        : [],
    ),
  );
  const fixed: PracticeCase = { ...dealt, fixedAnswers: { ...dealt.fixedAnswers, ...answers } };
  try {
    const kept = await keepAttempt(
      desk.journal,
      {
        course: course.id,
        item: place.item,
        kind: 'case',
        trainee,
        knowledge: site.knowledge.version,
        result: { ...resultOf(marking), run: place.run },
        sheet: { code: state.code, dealt: fixed, moves, marking },
      },
      { who: trainee, key },
    );
    return attemptHref(course.id, kept.number, false);
  } catch (error) {
    // Two of the same at once: the other one was first, with other moves.
    if (error instanceof JournalError && error.fault === 'reused-key')
      return `/training/courses/${course.id}`;
    throw error;
  }
}

/** Where a marked attempt is shown. */
export const attemptHref = (course: string, number: number, again: boolean): string =>
  `/training/courses/${course}/attempts/${number}${again ? '?again=yes' : ''}`;
