import type { ENGLISH } from '../en/index.js';
import { answer } from './answer.js';
import { bench } from './bench.js';
import { change, level, onset, part, partResult, scope, stop } from './case.js';
import { caseFile } from './case-file.js';
import { chance } from './chance.js';
import { effect } from './effect.js';
import { fault } from './fault.js';
import { home } from './home.js';
import { page } from './page.js';
import { quality } from './quality.js';
import { reasoning } from './reasoning.js';
import { shell } from './shell.js';
import { standing } from './standing.js';
import { unit } from './unit.js';
import { who } from './who.js';
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
  page,
  fault,
  home,
  chance,
  reasoning,
  effect,
  quality,
  bench,
  answer,
  'case-file': caseFile,
  standing,
  who,
  unit,
  words,
};
