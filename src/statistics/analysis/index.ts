/** One analysis of a table of breaks, in plain words with its figures. */
export { analyseCounts } from './analyse-counts.js';
export { hoursToNotice } from './counting-need.js';
export { EXPORTS, type ExportName, exportFigures, exportTable } from './export-tables.js';
export { sayBreaks, sayOnceIn, sayTimes, sayUnit } from './plain-words.js';
export {
  answerBeforeAfter,
  answerCompare,
  answerNormTrial,
  answerPlan,
  answerRate,
  answerTrial,
  type PlanQuestion,
  type QuickAnswer,
  type TrialAnswer,
  type TrialStep,
} from './quick-answers.js';
export * from './types.js';
