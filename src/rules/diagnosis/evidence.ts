import { say } from '../../language/say.js';
import type { CaseInput } from '../case/types.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Check } from '../knowledge/schema.js';
import type { Likelihood, Observation } from '../network/network.js';
import { joinWords, LEVEL_WORDS } from '../words.js';
import type { CausalGraph } from './causal-graph.js';
import { type MeasuredNode, weighMeasurements } from './measurement-evidence.js';

/** One thing known, and what it says of the network's nodes. */
export interface EvidenceItem {
  readonly kind: 'observation' | 'measurement' | 'finding';
  /** Symptom id, property or check id. */
  readonly id: string;
  readonly label: string;
  readonly nodes: readonly (readonly [string, Observation])[];
  readonly because?: string;
}

/**
 * The network evidence of a case, in the order in which the ledger enters it: what was seen (marked first), what was
 * measured, what was found. A measurement replaces the impression of the same symptom.
 */
export function gatherEvidence(
  input: CaseInput,
  book: RuleBook,
  graph: CausalGraph,
  measurementMost: number,
): { items: EvidenceItem[]; measured: readonly MeasuredNode[] } {
  const measured = weighMeasurements(input.measurements, measurementMost).filter((node) =>
    graph.kinds.has(node.node),
  );
  const measuredNodes = new Set(measured.map((node) => node.node));
  const rank = { marked: 0, slight: 1, absent: 2 };
  const observations = Object.entries(input.observations)
    .filter(([symptom]) => graph.kinds.get(symptom) === 'symptom' && !measuredNodes.has(symptom))
    .sort(([, a], [, b]) => rank[a] - rank[b])
    .map(
      ([symptom, level]): EvidenceItem => ({
        kind: 'observation',
        id: symptom,
        label: say('reasoning.is', { what: graph.labels.get(symptom) ?? symptom, how: LEVEL_WORDS[level] }),
        nodes: [[symptom, level]],
      }),
    );
  const measurements = measured.map(
    (node): EvidenceItem => ({
      kind: 'measurement',
      id: node.property,
      label: node.words,
      nodes: [[node.node, measuredLikelihood(node)]],
      because: say('reasoning.counted'),
    }),
  );
  const findings = Object.entries(input.findings).flatMap(([id, outcomes]): EvidenceItem[] => {
    const check = book.checks.get(id);
    if (check === undefined || outcomes.length === 0) return [];
    const labels = outcomes.map((outcome) => check.outcomes[outcome]?.label ?? outcome);
    const nodes = [...findingNodes(check, outcomes)].filter(
      ([node]) => graph.kinds.has(node) && !measuredNodes.has(node),
    );
    return [
      {
        kind: 'finding',
        id,
        label: say('reasoning.is', { what: check.label, how: joinWords(labels) }),
        nodes,
      },
    ];
  });
  return { items: [...observations, ...measurements, ...findings], measured };
}

/** What the outcomes of a check say of its deviation nodes. */
export function findingNodes(check: Check, outcomes: readonly string[]): Map<string, boolean> {
  const nodes = new Map<string, boolean>();
  const deviations = Object.entries(check.outcomes)
    .filter(([, outcome]) => outcome.means === 'deviation')
    .map(([id]) => id);
  for (const id of outcomes) {
    const outcome = check.outcomes[id];
    if (outcome === undefined) continue;
    const excluded = outcome.excludes ?? (outcome.means === 'open' ? [] : deviations);
    for (const other of excluded)
      if (!nodes.has(`${check.id}:${other}`)) nodes.set(`${check.id}:${other}`, false);
  }
  for (const id of outcomes)
    if (check.outcomes[id]?.means === 'deviation') nodes.set(`${check.id}:${id}`, true);
  return nodes;
}

/** Likelihoods of absent, slight, marked (or of false, true) from a measured ratio and size. */
function measuredLikelihood(node: MeasuredNode): Likelihood {
  if (!node.graded) return [1, node.ratio];
  // A doubling or more is what people call marked; a tenth more is slight. Between, both are possible.
  const marked = Math.min(1, Math.max(0.15, (node.size - 1) / 0.8));
  return [1, node.ratio * Math.min(1, 1.3 - marked), node.ratio * marked];
}
