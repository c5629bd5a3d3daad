/** One analysis of a table of breaks, in plain words with its figures. */
export { analyseCounts } from './analyse-counts.js';
export { hoursToNotice } from './counting-need.js';
export { sayBreaks, sayOnceIn, sayTimes } from './plain-words.js';
export * from './types.js';
