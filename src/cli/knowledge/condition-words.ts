import type { Condition } from '../../rules/knowledge/schema.js';

/** A condition in words: `setup.tube.hours at least 9000 and (…)`. */
export function sayCondition(condition: Condition): string {
  if ('all' in condition) return condition.all.map(inBrackets).join(' and ');
  if ('any' in condition) return condition.any.map(inBrackets).join(' or ');
  const { fact, operator, value } = condition;
  return `${fact} ${operator.replaceAll('-', ' ')} ${Array.isArray(value) ? value.join(', ') : value}`;
}

const inBrackets = (condition: Condition) =>
  'fact' in condition ? sayCondition(condition) : `(${sayCondition(condition)})`;
