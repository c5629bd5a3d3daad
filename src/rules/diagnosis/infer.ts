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

/** Table cells that the questions behind ledgers and unexplained signs may cost together. */
const CELLS_TO_SPEND = 6_000_000;
/** What an estimate by sampling is counted as. */
const CELLS_OF_AN_ESTIMATE = 2_000_000;
/** How much dearer a run without negative numbers is than its cells say: the first run is repeated on larger tables. */
const REPEATED_RUN = 12;

/** How many further questions of the case's size may be asked: fewer for a case that is dear to compute, never below 3. */
export function questionsToSpare(posterior: Posterior): number {
  const repeated = posterior.method === 'non-negative' ? REPEATED_RUN : 1;
  const cells = posterior.exact ? Math.max(posterior.cells * repeated, 1) : CELLS_OF_AN_ESTIMATE;
  return Math.max(3, Math.floor(CELLS_TO_SPEND / cells));
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
  const query = (some: readonly EvidenceItem[]) =>
    graph.network.query(new Map<string, Observation>(some.flatMap((item) => item.nodes)), {
      leaks,
      strengths,
      beyondLimit: 'sample',
    });
  const started = performance.now();
  const posterior = query(items);
  const nodes = items.flatMap((item) => item.nodes.map(([node]) => node));
  const apart = new Set(nodes).size === nodes.length;
  const queryPart = (some: ReadonlySet<EvidenceItem>): Posterior =>
    posterior.without(items.flatMap((item) => (some.has(item) ? [] : item.nodes.map(([node]) => node))));
  // A ledger's last step but one and the sign without which the last is asked are the same question.
  const answered = new Map<string, Posterior>();
  const ask = (some: readonly EvidenceItem[]): Posterior => {
    const places = some.map((item) => items.indexOf(item));
    // Where two items speak of one node the later one counts, and taking it back would not bring the other forth.
    if (places.includes(-1) || !apart) return query(some);
    const key = places.join();
    const known = answered.get(key) ?? queryPart(new Set(some));
    answered.set(key, known);
    return known;
  };
  return { priors, items, posterior, milliseconds: performance.now() - started, ask };
}
