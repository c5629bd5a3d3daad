import { wordTable } from '../language/say.js';
import {
  CHANGES,
  type Change,
  LEVELS,
  type Level,
  ONSETS,
  type Onset,
  PART_RESULTS,
  PARTS,
  type Part,
  type PartResult,
  SCOPES,
  type Scope,
  STOPS,
  type Stop,
  TRIAL_RESULTS,
  type TrialResult,
} from './knowledge/vocabulary.js';

export { allInSentence, inSentence, joinWords, sentenceCase, withoutStop } from '../language/words.js';

/** The words of case files in plain language, for pages, ledgers and the terminal alike; in the language of the moment. */
export const SCOPE_WORDS: Readonly<Record<Scope, string>> = wordTable('scope', SCOPES);

export const ONSET_WORDS: Readonly<Record<Onset, string>> = wordTable('onset', ONSETS);

export const CHANGE_WORDS: Readonly<Record<Change, string>> = wordTable('change', CHANGES);

export const LEVEL_WORDS: Readonly<Record<Level, string>> = wordTable('level', LEVELS);

export const PART_WORDS: Readonly<Record<Part, string>> = wordTable('part', PARTS);

export const PART_RESULT_WORDS: Readonly<Record<PartResult, string>> = wordTable('part-result', PART_RESULTS);

export const TRIAL_RESULT_WORDS: Readonly<Record<TrialResult, string>> = wordTable(
  'trial-result',
  TRIAL_RESULTS,
);

export const STOP_WORDS: Readonly<Record<Stop, string>> = wordTable('stop', STOPS);

/** What a side effect of an action is on. */
export const EFFECT_WORDS = wordTable('effect', [
  'stability',
  'tension',
  'tenacity',
  'hairiness',
  'fly',
  'hand',
  'output',
  'wear',
  'waste',
  'evenness',
  'package',
]);

/** Qualities that an end use limits. */
export const LIMITED_WORDS = wordTable('limited', ['hairiness', 'softness', 'fly', 'tenacity', 'output']);
