/** The public face of the training room. */

export type { ActionOutcome, CheckAnswer } from './answer.js';
export { answerCheck, drawAnswers, tryActions } from './answer.js';
export type { Attempt, Extent, Move, ReadAttempt } from './attempt.js';
export { checkMoves, readAttempt } from './attempt.js';
export {
  type AttemptResult,
  attemptResultSchema,
  type LessonResult,
  lessonResultSchema,
  recordOf,
  resultOf,
} from './attempt-result.js';
export * from './course.js';
export { dealCase } from './deal.js';
export { TrainingError } from './errors.js';
export { type MadeCase, makeFromKept } from './from-kept-case.js';
export type { Glossary, GlossaryEntry } from './glossary-schema.js';
export type { Lesson } from './lesson-schema.js';
export { loadTraining, type TrainingMaterial } from './load-training.js';
export { needsStandstill } from './mark-checks.js';
export { type Marking, markAttempt } from './marking.js';
export { exchangeableParts, exchangeChances, PART_EXCHANGE } from './part-exchange.js';
export { playSetup } from './play.js';
export { type PlayedCase, type PlayedMove, playMoves } from './play-moves.js';
export { bestCheck, canAsk, expectedMinutes, POLICIES, type PolicyName, runPolicy } from './policy.js';
export type { PracticeCase } from './practice-case.js';
export {
  LEVELS_OF_PRACTICE,
  MOST_SEED,
  mixedNumber,
  type PracticeLevel,
  type PracticeNumber,
  practiceCode,
  readPracticeCode,
} from './practice-code.js';
export { itemsOf, type Place, placeOf, type ReplayStep, replayCase } from './replay.js';
export { type ReportedAttempt, reportTrainee, sayTelling, type TraineeReport } from './report.js';
export {
  checkMinutes,
  openTrainingRoom,
  type Standing,
  type TrainingRoom,
  withAnswer,
  withFinding,
  withTrial,
} from './room.js';
export { brierScore, logScore } from './scores.js';
export { type TellingCheck, tellApart } from './tell-apart.js';
export {
  checkAnswerKey,
  type KeyVerdict,
  openTrainerCase,
  readTrainerCase,
  type TrainerCase,
} from './trainer-case.js';
export { type WhyNot, whyNot } from './why-not.js';
export { type DrawnState, type TrainingQuestion, type TrainingWork, workIn } from './work.js';
