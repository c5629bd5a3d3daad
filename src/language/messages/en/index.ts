import { change, level, onset, part, partResult, scope, stop } from './case.js';
import { shell } from './shell.js';
import { words } from './words.js';

/** The English catalogue, complete by definition: area → key → message in ICU syntax. */
export const ENGLISH = {
  change,
  level,
  onset,
  part,
  'part-result': partResult,
  scope,
  shell,
  stop,
  words,
} as const;
