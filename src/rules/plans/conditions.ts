import type { FactValue } from '../case/types.js';
import { ruleOperators } from '../conditions/operators.js';
import type { Condition } from '../knowledge/schema.js';

/** The part of an operator that its type declaration leaves out. */
interface Judging {
  evaluate(fact: unknown, value: unknown): boolean;
}

const OPERATORS: ReadonlyMap<string, Judging> = new Map(
  ruleOperators().map((operator) => [operator.name, operator as unknown as Judging]),
);

/**
 * Judges a condition at once, with the same words as the rules: false on what is not known. For conditions that have
 * to be judged on tens of thousands of setups.
 *
 * @param fact value of a fact by name, undefined when not known
 */
export function conditionHolds(condition: Condition, fact: (name: string) => FactValue | undefined): boolean {
  if ('all' in condition) return condition.all.every((one) => conditionHolds(one, fact));
  if ('any' in condition) return condition.any.some((one) => conditionHolds(one, fact));
  return OPERATORS.get(condition.operator)?.evaluate(fact(condition.fact), condition.value) === true;
}
