import { say } from '../../language/say.js';
import { TRIAL_RESULTS } from '../knowledge/vocabulary.js';
import { nearestWord } from './nearest-word.js';
import { isLeftOut, type Path, type Reading, readMap, readWord, refuse, showValue, warn } from './reading.js';
import type { Trial } from './types.js';

/** Parts the actions of a key that were tried at the same time: `clean-rotor + replace-nozzle`. */
const TOGETHER = '+';

/** Stands for the action of a form's row in which only the result was given. */
export const NOT_CHOSEN = '-';

/** Actions tried at the same time as the key of a case file; the same actions always give the same key. */
export const triedKey = (actions: readonly string[]): string => [...new Set(actions)].sort().join(TOGETHER);

/** The actions of a key, whether or not there are such. */
export const actionsOfKey = (key: string): string[] =>
  key.split(TOGETHER).map((action) => action.trim().toLowerCase());

/**
 * Reads `tried`: action, or several tried at the same time, → what came of it. What is undecided is kept, and a warning
 * says that it does not weigh.
 */
export function readTried(reading: Reading, path: Path, value: unknown): Trial[] {
  if (isLeftOut(value)) return [];
  const { actions: known } = reading.vocabulary;
  const trials = new Map<string, Trial>();
  const keys = typeof value === 'object' && value !== null ? Object.keys(value) : known;
  for (const [written, one] of readMap(reading, path, value, keys) ?? []) {
    const at = [...path, written];
    const actions = actionsOfKey(written);
    const result = readWord(reading, at, one, TRIAL_RESULTS);
    const unknown = actions.find((action) => !known.has(action));
    if (unknown !== undefined) refuse(reading, at, written, sayUnknown(unknown, known), [...known]);
    if (result === undefined || unknown !== undefined) continue;
    const key = triedKey(actions);
    if (trials.has(key)) {
      refuse(reading, at, written, say('case-file.tried-twice', { action: showValue(key) }), [
        say('case-file.each-action-once'),
      ]);
      continue;
    }
    if (result === 'undecided') warn(reading, [...path, key], say('case-file.tried-undecided'));
    trials.set(key, { actions: [...new Set(actions)].sort(), result });
  }
  return [...trials.values()];
}

function sayUnknown(action: string, known: ReadonlySet<string>): string {
  if (action === NOT_CHOSEN) return say('case-file.no-action-chosen');
  const meant = nearestWord(action, [...known]);
  const shown = { action: showValue(action) };
  return meant === undefined
    ? say('case-file.no-action', shown)
    : say('case-file.no-action-meant', { ...shown, meant });
}
