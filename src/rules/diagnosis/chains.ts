import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { CausalGraph, GraphLink } from './causal-graph.js';
import { applyRatio } from './decibans.js';
import { groundOf } from './ground.js';
import type { Inference } from './infer.js';
import type { PreparedCase } from './prepare.js';
import { linkNames } from './single-cause-reach.js';
import type { Chain, ChainStep } from './types.js';

/** Chains shown for one cause. */
const MOST_CHAINS = 4;
const LONGEST = 8;

/**
 * Finds the strongest lines from a cause through mechanisms to what was seen. A chain weighs the product of its link
 * strengths and of the probabilities of the mechanisms between; one chain is kept for each sign seen.
 *
 * @returns the chains of a cause
 */
export function chainFinder(
  inference: Inference,
  prepared: PreparedCase,
  graph: CausalGraph,
  book: RuleBook,
): (causeId: string) => Chain[] {
  const seen = new Set(
    inference.items
      .flatMap((item) =>
        item.nodes.filter(
          ([, state]) =>
            state === true ||
            state === 'slight' ||
            state === 'marked' ||
            (Array.isArray(state) && Math.max(...state) > 1),
        ),
      )
      .map(([node]) => node),
  );
  const cut = linkNames(prepared.cutLinks);
  const { marginals } = inference.posterior;
  return (causeId) => {
    const best: Found = new Map();
    walk({ graph, marginals, seen, cut, best }, causeId, [], 1);
    return [...best.values()]
      .sort((a, b) => b.weight - a.weight)
      .slice(0, MOST_CHAINS)
      .map(({ weight, path }) => toChain(causeId, weight, path, inference, graph, book));
  };
}

/** The strongest way found to each sign. */
type Found = Map<string, { readonly weight: number; readonly path: readonly GraphLink[] }>;

/** What a walk through the graph looks at, and what it has found. */
interface Walk {
  readonly graph: CausalGraph;
  readonly marginals: ReadonlyMap<string, number>;
  readonly seen: ReadonlySet<string>;
  readonly cut: ReadonlySet<string>;
  readonly best: Found;
}

/** Goes on from a node along all links that still weigh something. */
function walk(of: Walk, node: string, path: readonly GraphLink[], weight: number): void {
  if (path.length > 0 && of.seen.has(node)) {
    const known = of.best.get(node);
    if (known === undefined || weight > known.weight) of.best.set(node, { weight, path });
  }
  if (path.length >= LONGEST) return;
  for (const link of of.graph.linksFrom.get(node) ?? []) {
    const through = of.graph.kinds.get(link.child) === 'mechanism' ? (of.marginals.get(link.child) ?? 0) : 1;
    const next = weight * link.strength * through;
    if (next > 1e-4 && !of.cut.has(link.name)) walk(of, link.child, [...path, link], next);
  }
}

function toChain(
  causeId: string,
  weight: number,
  path: readonly GraphLink[],
  inference: Inference,
  graph: CausalGraph,
  book: RuleBook,
): Chain {
  const setting = book.causes.get(causeId)?.prior.model;
  const prior = inference.priors.get(causeId);
  const setup = prior?.weights.find((one) => one.kind === 'setup');
  const steps: ChainStep[] = [];
  if (setting !== undefined && setup !== undefined)
    steps.push({
      node: `setting:${setting['but-for']}`,
      kind: 'setting',
      label: setup.label,
      probability: 1,
    });
  steps.push({
    node: causeId,
    kind: 'cause',
    label: graph.labels.get(causeId) ?? causeId,
    probability: inference.posterior.marginals.get(causeId) ?? 0,
    ...(setting !== undefined && setup?.because !== undefined
      ? {
          link: {
            value: applyRatio(prior?.base ?? 0, setup.ratio),
            why: setup.because,
            ground: { standing: 'judgement' as const },
          },
        }
      : {}),
  });
  for (const link of path) {
    const kind = graph.kinds.get(link.child) ?? 'mechanism';
    steps.push({
      node: link.child,
      kind,
      label: graph.labels.get(link.child) ?? link.child,
      probability: kind === 'mechanism' ? (inference.posterior.marginals.get(link.child) ?? 0) : 1,
      link: {
        strength: link.statement.strength,
        value: link.strength,
        why: link.statement.why,
        ground: groundOf(book, link.statement.basis),
      },
    });
  }
  return { steps, weight, words: steps.map((step) => step.label).join(' → ') };
}
