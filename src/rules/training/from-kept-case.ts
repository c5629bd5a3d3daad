import { stringify } from 'yaml';
import { PART_EXCHANGE } from './part-exchange.js';
import { ANSWER_KEY } from './trainer-case.js';

/** Fields of a case file that say what was the matter and not whose frame it was. */
const KEPT_FIELDS = ['setup', 'before', 'observations', 'scope', 'onset', 'changed', 'measurements'] as const;

/** A practice case made from a kept one, as the text of a case file, and what a trainer has to know of it. */
export interface MadeCase {
  readonly text: string;
  /** Checks that were made on the real frame; their answers are fixed. */
  readonly fixed: readonly string[];
  /** What was left out of the real case. */
  readonly leftOut: readonly string[];
}

/**
 * Makes a practice case from a kept case, without anything that says whose it was: of the case file only settings,
 * signs, place, beginning, changes and measurements stay; titles, notes, names, lots, customers, positions and times
 * are not in it. What was found on the real frame becomes the fixed answers of its key, so that it has to be asked for;
 * what nobody looked at follows from the network given the cause.
 *
 * @param input the case as it was told to the bench, in the shape of a case file
 * @param found the checks made on it, check → outcomes
 * @param causes what it turned out to be
 * @param title given by the trainer
 */
export function makeFromKept(
  input: Readonly<Record<string, unknown>>,
  found: Readonly<Record<string, unknown>>,
  causes: readonly string[],
  title: string,
): MadeCase {
  const kept = KEPT_FIELDS.flatMap((field) => {
    const value = input[field];
    return value === undefined || value === null ? [] : [[field, value] as const];
  });
  const answers: Record<string, string> = {};
  const leftOut: string[] = [];
  for (const [check, outcome] of Object.entries(found)) {
    const one = Array.isArray(outcome) ? outcome[0] : outcome;
    if (check === PART_EXCHANGE) leftOut.push('parts tried in place of others');
    else if (typeof one === 'string') answers[check] = one;
    if (Array.isArray(outcome) && outcome.length > 1) leftOut.push(`further answers of ${check}`);
  }
  if (input.tried !== undefined) leftOut.push('actions that were tried');
  return {
    text: stringify(
      {
        title,
        ...Object.fromEntries(kept),
        [ANSWER_KEY]: {
          causes: [...causes],
          ...(Object.keys(answers).length === 0 ? {} : { answers }),
          notes: 'Made from a closed case. Answers that are not fixed here follow from the network.',
        },
      },
      { lineWidth: 100, aliasDuplicateObjects: false },
    ),
    fixed: Object.keys(answers),
    leftOut,
  };
}
