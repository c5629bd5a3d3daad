import type { NamedCondition } from '../conditions/evaluate.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { type Condition, type Link, MARGINS } from '../knowledge/schema.js';

/** Every condition of the knowledge base under a name, to be judged in one run. */
export interface ConditionBook {
  readonly all: readonly NamedCondition[];
  readonly margins: readonly string[];
  /** Conditions that name a fact, by the fact. */
  readonly naming: ReadonlyMap<string, readonly NamedCondition[]>;
}

/**
 * Names: `rule:<cause>:<rule>`, `ruled-out:<cause>:<n>`, `only-if:<parent>><child>`, `unless:<parent>><child>`,
 * `caution:<id>`, `check:<id>` (makes no sense), `action:<id>:<n>` (not to be done).
 */
export function collectConditions(book: RuleBook): ConditionBook {
  const all: NamedCondition[] = [];
  const add = (id: string, when: Condition | undefined) => {
    if (when !== undefined) all.push({ id, when });
  };
  const addLinks = (parent: string, links: readonly Link[]) => {
    for (const link of links) {
      add(`only-if:${parent}>${link.to}`, link['only-if']);
      add(`unless:${parent}>${link.to}`, link.unless);
    }
  };
  for (const cause of book.causes.values()) {
    for (const rule of cause.rules ?? []) add(`rule:${cause.id}:${rule.id}`, rule.when);
    cause['ruled-out']?.forEach((out, n) => {
      add(`ruled-out:${cause.id}:${n}`, out.when);
    });
    addLinks(cause.id, cause['leads-to']);
  }
  for (const mechanism of book.mechanisms.values())
    for (const [state, body] of Object.entries(mechanism.states))
      addLinks(`${mechanism.id}:${state}`, body['leads-to']);
  for (const [id, caution] of book.cautions) add(`caution:${id}`, caution.when);
  for (const [id, check] of book.checks) add(`check:${id}`, check['not-when']);
  for (const [id, action] of book.actions)
    action['not-when']?.forEach((no, n) => {
      add(`action:${id}:${n}`, no.when);
    });
  const naming = new Map<string, NamedCondition[]>();
  for (const condition of all)
    for (const fact of new Set(factsIn(condition.when)))
      naming.set(fact, [...(naming.get(fact) ?? []), condition]);
  return { all, margins: MARGINS, naming };
}

function factsIn(condition: Condition): string[] {
  if ('all' in condition) return condition.all.flatMap(factsIn);
  if ('any' in condition) return condition.any.flatMap(factsIn);
  return [condition.fact];
}
