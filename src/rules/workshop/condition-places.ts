import type { EndUse } from '../knowledge/end-use-schema.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Condition, Link } from '../knowledge/schema.js';

/** A condition and where it stands. */
export interface ConditionPlace {
  readonly file: string;
  readonly path: readonly PropertyKey[];
  /** The statement it belongs to, in words: `rule "past-life"`. */
  readonly owner: string;
  readonly condition: Condition;
  /** Whether it may ask no more than that a fact is known: a link or check can be needless once something is known. */
  readonly mayAskIfKnown?: true;
}

/** Every condition of the knowledge base. */
export function conditionPlaces(book: RuleBook, endUses: ReadonlyMap<string, EndUse>): ConditionPlace[] {
  const places: ConditionPlace[] = [];
  const add = (
    file: string,
    path: readonly PropertyKey[],
    owner: string,
    condition: Condition | undefined,
    more: { mayAskIfKnown?: true } = {},
  ) => {
    if (condition !== undefined) places.push({ file, path, owner, condition, ...more });
  };
  const known = { mayAskIfKnown: true } as const;
  const addLinks = (file: string, path: readonly PropertyKey[], links: readonly Link[]) => {
    links.forEach((link, i) => {
      add(file, [...path, i, 'only-if'], `only-if of the link to "${link.to}"`, link['only-if'], known);
      add(file, [...path, i, 'unless'], `unless of the link to "${link.to}"`, link.unless, known);
    });
  };
  for (const [id, cause] of book.causes) {
    const file = `causes/${id}.yaml`;
    cause['ruled-out']?.forEach((out, i) => {
      add(file, ['ruled-out', i, 'when'], `exclusion ${i + 1}`, out.when);
    });
    addLinks(file, ['leads-to'], cause['leads-to']);
    cause.rules?.forEach((rule, i) => {
      add(file, ['rules', i, 'when'], `rule "${rule.id}"`, rule.when);
    });
  }
  for (const [id, mechanism] of book.mechanisms)
    for (const [state, body] of Object.entries(mechanism.states))
      addLinks(`mechanisms/${id}.yaml`, ['states', state, 'leads-to'], body['leads-to']);
  for (const [id, check] of book.checks)
    add(
      `checks/${id}.yaml`,
      ['not-when'],
      'condition under which the check makes no sense',
      check['not-when'],
      known,
    );
  for (const [id, action] of book.actions)
    action['not-when']?.forEach((no, i) => {
      add(`actions/${id}.yaml`, ['not-when', i, 'when'], `exclusion ${i + 1}`, no.when);
    });
  for (const [id, caution] of book.cautions)
    add('cautions.yaml', [id, 'when'], `condition of "${id}"`, caution.when);
  for (const [id, endUse] of endUses)
    endUse.forbids?.forEach((forbidden, i) => {
      add(`end-uses/${id}.yaml`, ['forbids', i, 'when'], `forbidden setup ${i + 1}`, forbidden.when);
    });
  return places;
}
