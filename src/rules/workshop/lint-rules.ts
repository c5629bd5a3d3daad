import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Cause, Condition, Link, Rule } from '../knowledge/schema.js';
import { canHold, type DomainOf, implies, meetingOf } from './condition-logic.js';
import type { Draft } from './finding.js';

/** Rules of one cause that repeat, contradict or cancel each other, and links whose conditions shut each other out. */
export function lintRules(book: RuleBook, domainOf: DomainOf): Draft[] {
  const drafts: Draft[] = [];
  for (const [id, cause] of book.causes) {
    const file = `causes/${id}.yaml`;
    drafts.push(...lintPairs(file, cause, domainOf), ...lintExclusions(file, cause, domainOf));
    drafts.push(...lintLinks(file, ['leads-to'], cause['leads-to'], domainOf));
  }
  for (const [id, mechanism] of book.mechanisms)
    for (const [state, body] of Object.entries(mechanism.states))
      drafts.push(
        ...lintLinks(`mechanisms/${id}.yaml`, ['states', state, 'leads-to'], body['leads-to'], domainOf),
      );
  return drafts;
}

function lintPairs(file: string, cause: Cause, domainOf: DomainOf): Draft[] {
  const rules = (cause.rules ?? []).filter((rule) => canHold(rule.when, domainOf) === true);
  const at = (rule: Rule): PropertyKey[] => ['rules', cause.rules?.indexOf(rule) ?? 0];
  const drafts: Draft[] = [];
  rules.forEach((first, i) => {
    for (const second of rules.slice(i + 1)) {
      const forward = implies(first.when, second.when, domainOf);
      const back = implies(second.when, first.when, domainOf);
      if (!forward && !back) continue;
      const [narrow, wide] = forward ? [first, second] : [second, first];
      const draft = judgePair(narrow, wide, forward && back, domainOf);
      if (draft !== undefined) drafts.push({ ...draft, file, path: at(narrow) });
    }
  });
  return drafts;
}

const directionOf = (rule: Rule) => (rule.for !== undefined ? 'for' : 'against');
const weightOf = (rule: Rule) => rule.for ?? rule.against;

function judgePair(
  narrow: Rule,
  wide: Rule,
  same: boolean,
  domainOf: DomainOf,
): Pick<Draft, 'code' | 'message' | 'hint'> | undefined {
  const names = `rules "${narrow.id}" and "${wide.id}"`;
  const alike = directionOf(narrow) === directionOf(wide);
  const example = meetingOf(narrow.when, wide.when, domainOf);
  const such = example === undefined ? '' : `, for example with ${example}`;
  if (same)
    return alike
      ? {
          code: 'duplicate-condition',
          message: `${names} hold under the same condition`,
          hint: 'Keep one, with the weight that both together should have.',
        }
      : {
          code: 'contradiction',
          message: `${names} speak for and against under the same condition${such}`,
          hint: 'Decide which way it speaks.',
        };
  if (weightOf(narrow) !== weightOf(wide)) return undefined;
  return alike
    ? {
        code: 'subsumed',
        message: `whenever "${narrow.id}" fires, "${wide.id}" does too, and both weigh ${weightOf(wide)} ${directionOf(wide)}${such}`,
        hint: 'Exclude the narrow case from the wide rule, give the narrow one another weight, or drop it.',
      }
    : {
        code: 'cancelled',
        message: `whenever "${narrow.id}" fires, "${wide.id}" does too and takes its weight away again${such}`,
        hint: 'Exclude the narrow case from the wide rule.',
      };
}

function lintExclusions(file: string, cause: Cause, domainOf: DomainOf): Draft[] {
  const outs = cause['ruled-out'] ?? [];
  const moot = (cause.rules ?? []).flatMap((rule, i): Draft[] =>
    outs.some((out) => implies(rule.when, out.when, domainOf))
      ? [
          {
            code: 'moot',
            file,
            path: ['rules', i],
            message: `rule "${rule.id}" only fires where the cause is ruled out anyway`,
            hint: 'Drop the rule.',
          },
        ]
      : [],
  );
  const repeated = outs.flatMap((out, i): Draft[] =>
    outs.some((other, n) => n !== i && covers(other.when, out.when, n < i, domainOf))
      ? [
          {
            code: 'duplicate-condition',
            file,
            path: ['ruled-out', i],
            message: `exclusion ${i + 1} only holds where another one holds too`,
            hint: 'Keep the wider one.',
          },
        ]
      : [],
  );
  return [...moot, ...repeated];
}

/** Whether `wide` makes `narrow` needless; of two alike the earlier one stays. */
function covers(wide: Condition, narrow: Condition, earlier: boolean, domainOf: DomainOf): boolean {
  return implies(narrow, wide, domainOf) && (earlier || !implies(wide, narrow, domainOf));
}

function lintLinks(
  file: string,
  path: readonly PropertyKey[],
  links: readonly Link[],
  domainOf: DomainOf,
): Draft[] {
  return links.flatMap((link, i): Draft[] =>
    link['only-if'] !== undefined &&
    link.unless !== undefined &&
    implies(link['only-if'], link.unless, domainOf)
      ? [
          {
            code: 'dead-link',
            file,
            path: [...path, i],
            message: `the link to "${link.to}" is dropped whenever it would hold`,
            hint: 'Look at "only-if" and "unless" together.',
          },
        ]
      : [],
  );
}
