import type { ENGLISH } from '../en/index.js';
import { change, level, onset, part, partResult, scope, stop } from './case.js';
import { shell } from './shell.js';
import { words } from './words.js';

/** German: not yet reviewed by a native spinner. Areas and keys left out are said in English. */
export const GERMAN: {
  readonly [Area in keyof typeof ENGLISH]?: { readonly [Key in keyof (typeof ENGLISH)[Area]]?: string };
} = {
  change,
  level,
  onset,
  part,
  'part-result': partResult,
  scope,
  shell,
  stop,
  words,
};
