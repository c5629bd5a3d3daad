import { groupBy } from '../group.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Link as KnowledgeLink } from '../knowledge/schema.js';
import { STRENGTHS } from '../knowledge/vocabulary.js';
import { compile } from '../network/compile.js';
import type { CompiledNetwork, NetworkNode } from '../network/network.js';

/** What a node of the causal graph is. */
export type NodeKind = 'cause' | 'mechanism' | 'symptom' | 'finding';

/** One link with its words and numbers. */
export interface GraphLink {
  /** `parent>child`. */
  readonly name: string;
  readonly parent: string;
  readonly child: string;
  readonly strength: number;
  readonly marked: number;
  readonly statement: KnowledgeLink;
}

/** The rule book as a belief network. Node ids are cause ids, symptom ids, `mechanism:state` and `check:outcome`. */
export interface CausalGraph {
  readonly network: CompiledNetwork;
  readonly links: readonly GraphLink[];
  readonly linksFrom: ReadonlyMap<string, readonly GraphLink[]>;
  readonly kinds: ReadonlyMap<string, NodeKind>;
  readonly labels: ReadonlyMap<string, string>;
}

/**
 * Builds and compiles the network: causes are roots with their base rate, mechanism states and finding outcomes
 * leaky noisy-OR nodes, symptoms graded leaves. A deviating outcome that nothing leads to is left out.
 * @param beforeTrouble factor on the base rates, which are stated for frames in trouble
 * @param markedShare share of the cases a link brings about in which the symptom is marked, where the link does not say
 */
export function buildCausalGraph(book: RuleBook, markedShare: number, beforeTrouble: number): CausalGraph {
  const kinds = new Map<string, NodeKind>();
  const labels = new Map<string, string>();
  const links: GraphLink[] = [];
  const leaks = new Map<string, [number, number]>();

  const addNode = (id: string, kind: NodeKind, label: string, leak: number, leakMarked = 0) => {
    if (kinds.has(id)) throw new Error(`two nodes of the causal graph are called "${id}"`);
    kinds.set(id, kind);
    labels.set(id, label);
    leaks.set(id, [leak, leakMarked]);
  };
  const addLinks = (parent: string, statements: readonly KnowledgeLink[]) => {
    for (const statement of statements) {
      const strength = STRENGTHS[statement.strength];
      links.push({
        name: `${parent}>${statement.to}`,
        parent,
        child: statement.to,
        strength,
        marked: strength * (statement.marked ?? markedShare),
        statement,
      });
    }
  };

  for (const cause of book.causes.values()) {
    addNode(cause.id, 'cause', cause.label, cause.prior.base * beforeTrouble);
    addLinks(cause.id, cause['leads-to']);
  }
  for (const mechanism of book.mechanisms.values())
    for (const [state, body] of Object.entries(mechanism.states)) {
      addNode(`${mechanism.id}:${state}`, 'mechanism', body.label, body.leak);
      addLinks(`${mechanism.id}:${state}`, body['leads-to']);
    }
  for (const symptom of book.symptoms.values())
    addNode(symptom.id, 'symptom', symptom.label, symptom.leak, symptom['leak-marked']);
  const reached = new Set(links.map((link) => link.child));
  for (const check of book.checks.values())
    for (const [outcome, body] of Object.entries(check.outcomes)) {
      const id = `${check.id}:${outcome}`;
      if (body.means === 'deviation' && reached.has(id))
        addNode(id, 'finding', body.label, body.leak ?? 0.05);
    }

  const parents = groupBy(links, (link) => link.child);
  const nodes = [...kinds].map(([id, kind]): NetworkNode => {
    const [leak, leakMarked] = leaks.get(id) ?? [0, 0];
    const incoming = parents.get(id) ?? [];
    return kind === 'symptom'
      ? {
          kind: 'graded',
          id,
          leak,
          leakMarked,
          parents: incoming.map((link) => ({
            id: link.parent,
            strength: link.strength,
            marked: link.marked,
          })),
        }
      : { id, leak, parents: incoming.map((link) => ({ id: link.parent, strength: link.strength })) };
  });
  return {
    network: compile({ nodes }),
    links,
    linksFrom: groupBy(links, (link) => link.parent),
    kinds,
    labels,
  };
}
