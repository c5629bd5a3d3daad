import type { CaseInput } from '../case/types.js';
import { type Keeping, keepLast } from '../keep-last.js';
import { type Inference, infer } from './infer.js';
import { type PreparedCase, prepareCase, type Reasoner } from './prepare.js';
import { buildRanking } from './rank.js';
import type { Ranking } from './types.js';

/** A case as far as its posterior and its ranking: what checks and actions start from. */
export interface WorkedCase {
  readonly prepared: PreparedCase;
  readonly inference: Inference;
  readonly ranking: Ranking;
}

/**
 * Cases kept. A page asks for the ranking and a moment later for the checks and actions of the same case: enough for
 * the people who are between the two. Each takes about a megabyte.
 */
const KEPT = 24;
const kept = new WeakMap<Reasoner, Keeping<WorkedCase>>();

/** Works a case out as far as its ranking, or takes it from the last ones. The same case always gets the same answer. */
export function workOut(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const cases = kept.get(reasoner) ?? keepLast<WorkedCase>(KEPT);
  kept.set(reasoner, cases);
  return cases(JSON.stringify(input), () => workOutAnew(reasoner, input));
}

async function workOutAnew(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const prepared = await prepareCase(reasoner, input);
  const inference = infer(reasoner, prepared);
  return { prepared, inference, ranking: buildRanking(reasoner, prepared, inference) };
}
