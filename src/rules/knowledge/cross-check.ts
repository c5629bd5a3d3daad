import type { KnowledgeProblem } from './errors.js';
import { isKnownFact } from './facts.js';
import type { RuleBook } from './knowledge-base.js';
import type { Basis, Condition, Link } from './schema.js';

/** Everything wrong between files: ids that lead nowhere, cycles, facts no rule can ever see. */
export function crossCheck(book: RuleBook): KnowledgeProblem[] {
  const problems: KnowledgeProblem[] = [];
  const say = (file: string, field: string, message: string) =>
    problems.push({ file, line: undefined, field, message });

  const checkBasis = (file: string, field: string, basis: Basis) => {
    if (basis.source === undefined) return;
    const source = book.sources.get(basis.source);
    if (source === undefined) say(file, field, `source "${basis.source}" is not in sources/`);
    else if (basis.standing === 'published' && source.seen !== 'read')
      say(file, field, `source "${basis.source}" was not read, so it cannot be cited as published`);
  };
  const checkCondition = (file: string, field: string, condition: Condition | undefined): void => {
    if (condition === undefined) return;
    if ('all' in condition) for (const part of condition.all) checkCondition(file, field, part);
    else if ('any' in condition) for (const part of condition.any) checkCondition(file, field, part);
    else if (!isKnownFact(condition.fact, book))
      say(file, field, `"${condition.fact}" is not a fact that rules can see`);
  };
  const checkLinks = (file: string, field: string, links: readonly Link[]) => {
    const seen = new Set<string>();
    links.forEach((link, index) => {
      const at = `${field}.${index}`;
      const fault = targetFault(book, link.to);
      if (fault !== undefined) say(file, `${at}.to`, fault);
      if (seen.has(link.to)) say(file, `${at}.to`, `"${link.to}" is linked twice`);
      seen.add(link.to);
      checkBasis(file, `${at}.basis`, link.basis);
      checkCondition(file, `${at}.only-if`, link['only-if']);
      checkCondition(file, `${at}.unless`, link.unless);
    });
  };
  const checkIds = (
    file: string,
    field: string,
    ids: Iterable<string>,
    known: ReadonlyMap<string, unknown>,
    what: string,
  ) => {
    for (const id of ids) if (!known.has(id)) say(file, field, `${what} "${id}" does not exist`);
  };

  for (const [id, cause] of book.causes) {
    const file = `causes/${id}.yaml`;
    checkBasis(file, 'prior.basis', cause.prior.basis);
    checkLinks(file, 'leads-to', cause['leads-to']);
    cause['ruled-out']?.forEach((out, i) => {
      checkCondition(file, `ruled-out.${i}.when`, out.when);
      checkBasis(file, `ruled-out.${i}.basis`, out.basis);
    });
    cause.rules?.forEach((rule, i) => {
      checkCondition(file, `rules.${i}.when`, rule.when);
      checkBasis(file, `rules.${i}.basis`, rule.basis);
    });
    checkIds(file, 'checks', cause.checks, book.checks, 'check');
    checkIds(
      file,
      'actions',
      cause.actions.map((a) => a.do),
      book.actions,
      'action',
    );
    checkIds(
      file,
      'look-alikes',
      (cause['look-alikes'] ?? []).map((l) => l.cause),
      book.causes,
      'cause',
    );
    checkIds(file, 'cautions', cause.cautions ?? [], book.cautions, 'caution');
    if (cause.actions.length === 0) say(file, 'actions', 'a cause needs at least one action');
  }
  for (const [id, mechanism] of book.mechanisms) {
    const file = `mechanisms/${id}.yaml`;
    for (const [state, body] of Object.entries(mechanism.states))
      checkLinks(file, `states.${state}.leads-to`, body['leads-to']);
  }
  for (const [id, symptom] of book.symptoms) {
    const file = `symptoms/${id}.yaml`;
    checkBasis(file, 'basis', symptom.basis);
    if (symptom['leak-marked'] > symptom.leak) say(file, 'leak-marked', 'must not be above leak');
  }
  for (const [id, check] of book.checks) {
    const file = `checks/${id}.yaml`;
    checkBasis(file, 'basis', check.basis);
    checkCondition(file, 'not-when', check['not-when']);
    checkIds(file, 'cautions', check.cautions ?? [], book.cautions, 'caution');
    for (const [outcome, body] of Object.entries(check.outcomes)) {
      if (body.means === 'deviation' && body.leak === undefined)
        say(file, `outcomes.${outcome}.leak`, 'a deviation needs a leak');
      if (body.means !== 'deviation' && body.leak !== undefined)
        say(file, `outcomes.${outcome}.leak`, 'only a deviation has a leak');
      for (const other of body.excludes ?? [])
        if (check.outcomes[other]?.means !== 'deviation')
          say(file, `outcomes.${outcome}.excludes`, `"${other}" is not a deviation of this check`);
    }
  }
  for (const [id, action] of book.actions) {
    const file = `actions/${id}.yaml`;
    checkBasis(file, 'basis', action.basis);
    checkIds(file, 'cautions', action.cautions, book.cautions, 'caution');
    action['not-when']?.forEach((no, i) => {
      checkCondition(file, `not-when.${i}.when`, no.when);
    });
  }
  for (const [id, caution] of book.cautions) {
    checkCondition('cautions.yaml', `${id}.when`, caution.when);
    checkBasis('cautions.yaml', `${id}.basis`, caution.basis);
  }
  const cycle = findCycle(book);
  if (cycle !== undefined)
    say(
      `mechanisms/${cycle[0]?.split(':')[0]}.yaml`,
      'leads-to',
      `the links run in a circle: ${cycle.join(' → ')}`,
    );
  return problems;
}

/** Why a link target does not exist, or undefined when it does. */
function targetFault(book: RuleBook, target: string): string | undefined {
  const [head, state] = target.split(':') as [string, string | undefined];
  if (state === undefined) return book.symptoms.has(head) ? undefined : `"${target}" is not a symptom`;
  const mechanism = book.mechanisms.get(head);
  if (mechanism !== undefined)
    return Object.hasOwn(mechanism.states, state)
      ? undefined
      : `"${head}" has no state "${state}"; it has: ${Object.keys(mechanism.states).join(', ')}`;
  const check = book.checks.get(head);
  if (check === undefined) return `"${target}" is neither a mechanism state nor a check outcome`;
  const outcome = Object.hasOwn(check.outcomes, state) ? check.outcomes[state] : undefined;
  if (outcome === undefined)
    return `check "${head}" has no outcome "${state}"; it has: ${Object.keys(check.outcomes).join(', ')}`;
  return outcome.means === 'deviation'
    ? undefined
    : `outcome "${target}" is not a deviation, so nothing can lead to it`;
}

/** A circle among the mechanism states, if there is one. */
function findCycle(book: RuleBook): string[] | undefined {
  const children = new Map<string, string[]>();
  for (const mechanism of book.mechanisms.values())
    for (const [state, body] of Object.entries(mechanism.states))
      children.set(
        `${mechanism.id}:${state}`,
        body['leads-to'].map((link) => link.to).filter((to) => book.mechanisms.has(to.split(':')[0] ?? '')),
      );
  const done = new Set<string>();
  const path: string[] = [];
  const visit = (node: string): string[] | undefined => {
    const at = path.indexOf(node);
    if (at >= 0) return [...path.slice(at), node];
    if (done.has(node)) return undefined;
    path.push(node);
    for (const child of children.get(node) ?? []) {
      const found = visit(child);
      if (found !== undefined) return found;
    }
    path.pop();
    done.add(node);
    return undefined;
  };
  for (const node of children.keys()) {
    const found = visit(node);
    if (found !== undefined) return found;
  }
  return undefined;
}
