import { type Inference, questionsToSpare } from './infer.js';
import type { Reasoner } from './prepare.js';
import type { Ranking } from './types.js';

/** Signs less likely unexplained than this are not named. */
const WORTH_NAMING = 0.25;

/**
 * For every sign seen, the chance that none of the listed causes brought it about: the leak's responsibility,
 * leak · P(everything else seen) / P(everything seen); for a marked sign with the leak to "marked". In a case that is
 * dear to compute only the first signs are asked for.
 */
export function unexplainedSigns(
  { graph, knowledge }: Reasoner,
  inference: Inference,
): Ranking['unexplained'] {
  const seen = inference.items.filter(
    (item) =>
      item.kind === 'observation' && item.nodes.some(([, state]) => state === 'slight' || state === 'marked'),
  );
  return seen
    .slice(0, questionsToSpare(inference.posterior))
    .map((item) => {
      const symptom = knowledge.book.symptoms.get(item.id);
      const marked = item.nodes.some(([, state]) => state === 'marked');
      const leak = (marked ? symptom?.['leak-marked'] : symptom?.leak) ?? 0;
      const without = inference.ask(inference.items.filter((other) => other !== item));
      const probability = Math.min(1, leak * Math.exp(without.logEvidence - inference.posterior.logEvidence));
      return { symptom: item.id, label: graph.labels.get(item.id) ?? item.id, probability };
    })
    .filter((sign) => sign.probability > WORTH_NAMING)
    .sort((a, b) => b.probability - a.probability);
}
