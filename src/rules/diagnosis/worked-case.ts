import type { CaseInput } from '../case/types.js';
import { type FewKept, keepFew } from '../keep-few.js';
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
 * the people who are between the two, and no more than that, since each takes some hundred kilobytes.
 */
const KEPT = 12;
const kept = new WeakMap<Reasoner, FewKept<Promise<WorkedCase>>>();

/** Lets a case go that nobody needs in this form any more: the sooner, the less its memory costs to sweep. */
export function letGo(reasoner: Reasoner, input: CaseInput): void {
  kept.get(reasoner)?.drop(JSON.stringify(input));
}

/** Works a case out as far as its ranking, or takes it from the last ones. The same case always gets the same answer. */
export function workOut(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const cases = kept.get(reasoner) ?? keepFew<Promise<WorkedCase>>(KEPT);
  kept.set(reasoner, cases);
  const key = JSON.stringify(input);
  const known = cases.get(key);
  if (known !== undefined) return known;
  const worked = workOutAnew(reasoner, input);
  cases.put(key, worked);
  worked.catch(() => cases.drop(key));
  return worked;
}

async function workOutAnew(reasoner: Reasoner, input: CaseInput): Promise<WorkedCase> {
  const prepared = await prepareCase(reasoner, input);
  const inference = infer(reasoner, prepared);
  return { prepared, inference, ranking: buildRanking(reasoner, prepared, inference) };
}
