import { Engine, type RuleProperties } from 'json-rules-engine';
import type { FactValue } from '../case/types.js';
import type { Condition } from '../knowledge/schema.js';
import { ruleOperators } from './operators.js';

/** A condition to be judged, under a name of the caller's. */
export interface NamedCondition {
  readonly id: string;
  readonly when: Condition;
}

/** Facts: known values, and functions for those that are computed only when a rule asks (once a run). */
export type FactSource = ReadonlyMap<string, FactValue | (() => FactValue | undefined)>;

/**
 * Which of the conditions hold. A fresh engine for every run: a shared one loses results when runs overlap. Events
 * carry the id only, because the engine clones them.
 */
export async function evaluateConditions(
  conditions: readonly NamedCondition[],
  facts: FactSource,
): Promise<ReadonlySet<string>> {
  const engine = new Engine([], {
    allowUndefinedFacts: true,
    replaceFactsInEventParams: false,
    // Paths are not allowed by the schema; if one got through it must not reach a path language.
    pathResolver: () => undefined,
  });
  for (const operator of ruleOperators()) engine.addOperator(operator);
  for (const [name, value] of facts) {
    if (typeof value === 'function') engine.addFact(name, () => value());
    else engine.addFact(name, value);
  }
  for (const condition of conditions) engine.addRule(toRule(condition));
  const { events } = await engine.run();
  return new Set(events.map((event) => String(event.params?.id)));
}

function toRule({ id, when }: NamedCondition): RuleProperties {
  const conditions = 'all' in when || 'any' in when ? when : { all: [when] };
  return {
    // The engine makes conditions of its own from these and leaves them alone.
    conditions: conditions as RuleProperties['conditions'],
    event: { type: 'holds', params: { id } },
  };
}
