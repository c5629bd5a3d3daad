import { logCountProbability } from '../count-likelihood.js';
import { worseNodes } from '../evidence.js';
import { POSITION_PRIOR } from '../rise-evidence.js';

/**
 * Breaks to be expected in the same time again at a position that was picked for being bad, if nothing is done: the mean of
 * what it would make if it is really bad (the count drawn towards {@link POSITION_PRIOR}, a threefold rate) and what the others
 * make, weighed by the chance that it is innocent.
 * @param usual breaks that the others make in that time, 0 or more
 * @param innocent chance that the pick is a false alarm, 0–1
 * Standing: exact integration of a stated model; the prior is judgement.
 */
export function expectNext(count: number, usual: number, innocent: number): number {
  if (!(usual > 0)) return count;
  const nodes = worseNodes(
    Math.log(POSITION_PRIOR.typicalRatio),
    POSITION_PRIOR.logSpread,
    1 / Math.sqrt(count + 1),
  );
  const logs = nodes.map((node) => node.logWeight + logCountProbability(count, usual * Math.exp(node.at), 1));
  const most = logs.reduce((top, one) => Math.max(top, one), Number.NEGATIVE_INFINITY);
  let weight = 0;
  let sum = 0;
  nodes.forEach((node, index) => {
    const own = Math.exp((logs[index] ?? most) - most);
    weight += own;
    sum += own * usual * Math.exp(node.at);
  });
  return (1 - innocent) * (sum / weight) + innocent * usual;
}
