import type { RuleBook } from '../../../rules/knowledge/knowledge-base.js';
import type { Link } from '../../../rules/knowledge/schema.js';
import { STRENGTHS } from '../../../rules/knowledge/vocabulary.js';
import { entryHref } from './kinds.js';

/** A node of the causal graph, as pages name it: a cause, `mechanism:state`, a symptom or `check:outcome`. */
export interface NodeName {
  readonly kind: 'cause' | 'mechanism' | 'symptom' | 'finding';
  readonly label: string;
  readonly href: string;
}

export interface MappedLink {
  readonly from: string;
  readonly to: string;
  /** Chance that the one alone brings the other about. */
  readonly value: number;
  readonly link: Link;
}

/** All links of a rule book, to be followed either way. */
export interface LinkMap {
  readonly from: (node: string) => readonly MappedLink[];
  readonly to: (node: string) => readonly MappedLink[];
  readonly name: (node: string) => NodeName;
}

export function mapLinks(book: RuleBook): LinkMap {
  const links: MappedLink[] = [];
  const collect = (from: string, statements: readonly Link[] = []) => {
    for (const link of statements) links.push({ from, to: link.to, value: STRENGTHS[link.strength], link });
  };
  for (const cause of book.causes.values()) collect(cause.id, cause['leads-to']);
  for (const mechanism of book.mechanisms.values())
    for (const [state, body] of Object.entries(mechanism.states))
      collect(`${mechanism.id}:${state}`, body['leads-to']);
  for (const symptom of book.symptoms.values()) collect(symptom.id, symptom['leads-to']);
  links.sort((a, b) => b.value - a.value);
  return {
    from: (node) => links.filter((link) => link.from === node),
    to: (node) => links.filter((link) => link.to === node),
    name: (node) => nameNode(node, book),
  };
}

function nameNode(node: string, book: RuleBook): NodeName {
  const [head = '', tail] = node.split(':');
  if (tail === undefined) {
    const cause = book.causes.get(head);
    if (cause !== undefined) return { kind: 'cause', label: cause.label, href: entryHref('causes', head) };
    const label = book.symptoms.get(head)?.label ?? head;
    return { kind: 'symptom', label, href: entryHref('symptoms', head) };
  }
  const mechanism = book.mechanisms.get(head);
  if (mechanism !== undefined) {
    const label = mechanism.states[tail]?.label ?? mechanism.label;
    return { kind: 'mechanism', label, href: entryHref('mechanisms', head) };
  }
  const check = book.checks.get(head);
  const label = check === undefined ? node : `${check.label}: ${check.outcomes[tail]?.label ?? tail}`;
  return { kind: 'finding', label, href: entryHref('checks', head) };
}
