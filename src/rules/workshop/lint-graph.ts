import { buildCausalGraph, type CausalGraph } from '../diagnosis/causal-graph.js';
import { singleCauseReach } from '../diagnosis/single-cause-reach.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { TooComplexError } from '../network/errors.js';
import type { Observation } from '../network/network.js';
import type { Draft } from './finding.js';

/** Parents a node may have before the keeper is asked. */
export const MOST_PARENTS = 10;
/**
 * Treewidth with every symptom seen above which answers get slow. Measured: at 24 a dozen observations give a width of
 * 6 to 13, which takes milliseconds.
 */
export const MOST_WIDTH = 26;
/** Causes that should compete for a symptom. */
const LEAST_CAUSES = 3;
/** A cause that alone brings a symptom about less often than this does not compete for it. */
const LEAST_REACH = 0.05;

/** Nodes nothing leads to or that lead nowhere, crowded nodes, and a network too dense to compute. */
export function lintGraph(book: RuleBook, graph: CausalGraph): Draft[] {
  return [...lintNodes(book, graph), ...lintCauses(book, graph), ...lintWidth(graph)];
}

/** The causal graph of a book with usual values of what the graph does not decide. */
export function graphOf(book: RuleBook): CausalGraph {
  return buildCausalGraph(book, 0.6, 1);
}

/** File and field of a node. */
export function nodePlace(node: string, book: RuleBook): Pick<Draft, 'file' | 'path'> {
  const [head = '', state] = node.split(':');
  if (state === undefined)
    return { file: `${book.causes.has(head) ? 'causes' : 'symptoms'}/${head}.yaml`, path: [] };
  return book.mechanisms.has(head)
    ? { file: `mechanisms/${head}.yaml`, path: ['states', state] }
    : { file: `checks/${head}.yaml`, path: ['outcomes', state] };
}

function lintNodes(book: RuleBook, graph: CausalGraph): Draft[] {
  const drafts: Draft[] = [];
  const parents = new Map<string, number>();
  for (const link of graph.links) parents.set(link.child, (parents.get(link.child) ?? 0) + 1);
  const reached = reachedFromCauses(graph);
  for (const [node, kind] of graph.kinds) {
    const place = nodePlace(node, book);
    const count = parents.get(node) ?? 0;
    if (kind !== 'cause' && !reached.has(node))
      drafts.push({
        ...place,
        code: 'no-parent',
        message: `no cause leads to ${kind} "${node}"`,
        hint: 'Link it from the cause or mechanism that brings it about, or take it out.',
      });
    if (count > MOST_PARENTS)
      drafts.push({
        ...place,
        code: 'in-degree',
        message: `${count} links lead to "${node}"; more than ${MOST_PARENTS} make the network slow and the node vague`,
        hint: 'Put a mechanism between, or drop the weakest links.',
      });
  }
  for (const check of book.checks.values())
    for (const [outcome, body] of Object.entries(check.outcomes))
      if (body.means === 'deviation' && !graph.kinds.has(`${check.id}:${outcome}`))
        drafts.push({
          file: `checks/${check.id}.yaml`,
          path: ['outcomes', outcome],
          code: 'unused-outcome',
          message: `nothing leads to the deviation "${check.id}:${outcome}", so finding it says nothing`,
          hint: 'Link it from a cause or mechanism, or mark it "open".',
        });
  return drafts;
}

function reachedFromCauses(graph: CausalGraph): Set<string> {
  const waiting = [...graph.kinds].filter(([, kind]) => kind === 'cause').map(([node]) => node);
  const reached = new Set(waiting);
  for (const node of waiting)
    for (const link of graph.linksFrom.get(node) ?? [])
      if (!reached.has(link.child)) {
        reached.add(link.child);
        waiting.push(link.child);
      }
  return reached;
}

function lintCauses(book: RuleBook, graph: CausalGraph): Draft[] {
  const reach = singleCauseReach(graph, []);
  const causes = [...book.causes.keys()];
  const drafts: Draft[] = [];
  for (const id of causes)
    if ((graph.linksFrom.get(id) ?? []).length === 0 && (book.causes.get(id)?.rules ?? []).length === 0)
      drafts.push({
        file: `causes/${id}.yaml`,
        path: ['leads-to'],
        code: 'no-effect',
        message: `cause "${id}" leads to nothing and has no rules, so no observation bears on it`,
        hint: 'Say what it brings about.',
      });
  for (const id of book.symptoms.keys()) {
    const competing = causes.filter((cause) => reach(cause, id) >= LEAST_REACH);
    if (competing.length < LEAST_CAUSES)
      drafts.push({
        file: `symptoms/${id}.yaml`,
        path: [],
        code: 'few-causes',
        message: `only ${competing.length === 0 ? 'no cause' : competing.join(' and ')} explains symptom "${id}"`,
        hint: `A symptom with fewer than ${LEAST_CAUSES} causes names its cause before anything is weighed.`,
      });
  }
  return drafts;
}

function lintWidth(graph: CausalGraph): Draft[] {
  const { width, cells } = measureWidth(graph);
  return width <= MOST_WIDTH
    ? []
    : [
        {
          file: 'mechanisms',
          path: [],
          code: 'width',
          message: `with every symptom seen the network has width ${width} (${cells} table cells); the limit is ${MOST_WIDTH}`,
          hint: 'Drop weak links between crowded mechanisms.',
        },
      ];
}

/** Width of the network with every symptom slightly there, from the elimination order alone: nothing is computed. */
export function measureWidth(graph: CausalGraph): { readonly width: number; readonly cells: number } {
  const seen = new Map<string, Observation>();
  for (const [node, kind] of graph.kinds) if (kind === 'symptom') seen.set(node, 'slight');
  try {
    const { width, cells } = graph.network.query(seen, { maxCells: 1 });
    return { width, cells };
  } catch (error) {
    if (!(error instanceof TooComplexError)) throw error;
    return { width: error.width, cells: error.cells };
  }
}
