import type { Observation, Posterior, StrengthOverride } from '../network/network.js';
import { type EvidenceItem, gatherEvidence } from './evidence.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { type CausePrior, weighCauses } from './priors.js';

/** The posterior of a case with all that led to it. */
export interface Inference {
  readonly priors: ReadonlyMap<string, CausePrior>;
  readonly items: readonly EvidenceItem[];
  readonly posterior: Posterior;
  readonly milliseconds: number;
  /** Posterior of the same case with other network evidence. */
  ask(items: readonly EvidenceItem[]): Posterior;
}

/** Enters the case into the belief network: priors as weighed, links as the setup leaves them, evidence as seen. */
export function infer(reasoner: Reasoner, prepared: PreparedCase): Inference {
  const { graph, knowledge } = reasoner;
  const { items, measured } = gatherEvidence(
    prepared.input,
    knowledge.book,
    graph,
    knowledge.judgements['measurement-most'],
  );
  const priors = weighCauses(reasoner, prepared, measured);
  const leaks = new Map([...priors.values()].map((cause) => [cause.id, cause.prior]));
  const measuredNodes = new Set(measured.map((node) => node.node));
  // Chance explains an impression, not a count: what chance does to a count is in its likelihood ratio already.
  const chanceLinks = graph.links
    .filter(
      (link) => measuredNodes.has(link.child) && knowledge.book.causes.get(link.parent)?.family === 'chance',
    )
    .map((link): StrengthOverride => ({ parent: link.parent, child: link.child, strength: 0, marked: 0 }));
  const strengths = [...prepared.cutLinks, ...chanceLinks];
  const ask = (some: readonly EvidenceItem[]) =>
    graph.network.query(new Map<string, Observation>(some.flatMap((item) => item.nodes)), {
      leaks,
      strengths,
      beyondLimit: 'sample',
    });
  const started = performance.now();
  const posterior = ask(items);
  return { priors, items, posterior, milliseconds: performance.now() - started, ask };
}
