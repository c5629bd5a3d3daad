import { say } from '../../language/say.js';
import type { CaseInput } from '../case/types.js';
import { buildCausalGraph, type CausalGraph, type GraphLink } from '../diagnosis/causal-graph.js';
import { collectConditions } from '../diagnosis/condition-book.js';
import { type Inference, infer, questionsToSpare } from '../diagnosis/infer.js';
import { type PreparedCase, prepareCase, type Reasoner } from '../diagnosis/prepare.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { Cause, Rule } from '../knowledge/schema.js';
import { STRENGTHS, type StrengthName, WEIGHTS, type WeightName } from '../knowledge/vocabulary.js';

/** A number of the knowledge base moved by one step, and what that does to a case. */
export interface Sensitivity {
  readonly kind: 'base-rate' | 'link' | 'rule';
  /** Path of the file below the knowledge base, and the number in words. */
  readonly file: string;
  readonly what: string;
  readonly from: string;
  readonly to: string;
  /** Probabilities of the leading causes before and after. */
  readonly changes: readonly { readonly cause: string; readonly before: number; readonly after: number }[];
  /** Largest of those changes, 0–1. */
  readonly largest: number;
  /** The cause that would then lead, when it is another. */
  readonly leader?: string;
}

/** Which numbers of the knowledge base an answer hangs on. */
export interface SensitivityReport {
  /** Strongest first. */
  readonly sensitivities: readonly Sensitivity[];
  readonly leader: string;
  /** Numbers that were not tried because the work is bounded. */
  readonly leftOut: number;
}

/** Options of {@link findSensitivities}. */
export interface SensitivityOptions {
  /** Leading causes looked at; 3 unless said. */
  readonly causes?: number;
  /** Ids of causes looked at besides the leading ones. */
  readonly also?: readonly string[];
  /** Steps tried at most; 120 unless said, fewer for a case that is dear to compute. */
  readonly steps?: number;
}

/** Factor between neighbouring steps of a base rate: rare, uncommon, common, very common are about so far apart. */
const BASE_STEP = 2;
/** Base rates are not moved beyond this. */
const MOST_BASE = 0.95;

/** A step that can be tried: what it is, and the inference with it taken. */
interface Step {
  readonly kind: Sensitivity['kind'];
  readonly file: string;
  readonly what: string;
  readonly from: string;
  readonly to: string;
  /** For the order in which steps are tried when not all can be. */
  readonly promise: number;
  take(): Inference;
}

/**
 * Moves the numbers an answer may hang on, one at a time and one step up or down: base rates of the leading causes,
 * rules that fired for them, and links on paths from them to what was seen. All else stays as it is.
 *
 * @param knowledge the knowledge base that answers
 * @param input the case
 */
export async function findSensitivities(
  knowledge: Knowledge,
  input: CaseInput,
  options: SensitivityOptions = {},
): Promise<SensitivityReport> {
  const { 'marked-share': marked, 'before-trouble': before } = knowledge.judgements;
  const reasoner: Reasoner = {
    knowledge,
    graph: buildCausalGraph(knowledge.book, marked, before),
    conditions: collectConditions(knowledge.book),
  };
  const prepared = await prepareCase(reasoner, input);
  const base = infer(reasoner, prepared);
  const ranking = ranked(base);
  const also = (options.also ?? []).filter((id) => knowledge.book.causes.has(id));
  const top = [...new Set([...ranking.slice(0, options.causes ?? 3).map(([id]) => id), ...also])];
  const leader = top[0] ?? '';
  const possible = [
    ...top.flatMap((id) => baseSteps(id, reasoner, prepared, base)),
    ...top.flatMap((id) => ruleSteps(id, reasoner, prepared, base)),
    ...linksOnPaths(reasoner.graph, new Set(top), seenNodes(base)).flatMap((link) =>
      linkSteps(link, reasoner, prepared, base),
    ),
  ].sort((a, b) => b.promise - a.promise);
  const most = Math.min(options.steps ?? 120, questionsToSpare(base.posterior));
  const sensitivities = possible.slice(0, most).map((step): Sensitivity => {
    const after = step.take();
    const changes = top.map((cause) => ({
      cause,
      before: probabilityOf(base, cause),
      after: probabilityOf(after, cause),
    }));
    const then = ranked(after)[0]?.[0] ?? '';
    const { kind, file, what, from, to } = step;
    return {
      kind,
      file,
      what,
      from,
      to,
      changes,
      largest: Math.max(...changes.map((one) => Math.abs(one.after - one.before))),
      ...(then === leader ? {} : { leader: then }),
    };
  });
  return {
    sensitivities: sensitivities.sort((a, b) => b.largest - a.largest || a.what.localeCompare(b.what)),
    leader,
    leftOut: Math.max(0, possible.length - most),
  };
}

const probabilityOf = (inference: Inference, cause: string) =>
  inference.posterior.marginals.get(cause) ?? inference.priors.get(cause)?.prior ?? 0;

function ranked(inference: Inference): (readonly [string, number])[] {
  return [...inference.priors.keys()]
    .map((id) => [id, probabilityOf(inference, id)] as const)
    .sort((a, b) => b[1] - a[1] || a[0].localeCompare(b[0]));
}

const seenNodes = (inference: Inference) =>
  new Set(inference.items.flatMap((item) => item.nodes.map(([node]) => node)));

function baseSteps(id: string, reasoner: Reasoner, prepared: PreparedCase, base: Inference): Step[] {
  const cause = reasoner.knowledge.book.causes.get(id);
  if (cause === undefined) return [];
  const now = cause.prior.base;
  return [now / BASE_STEP, Math.min(MOST_BASE, now * BASE_STEP)].map((to) => ({
    kind: 'base-rate',
    file: `causes/${id}.yaml`,
    what: say('sensitivity.base-rate-of', { cause: cause.label }),
    from: share(now),
    to: share(to),
    // Base rates of the leading causes are always tried.
    promise: 2 + probabilityOf(base, id),
    take: () => infer(withCause(reasoner, { ...cause, prior: { ...cause.prior, base: to } }), prepared),
  }));
}

function ruleSteps(id: string, reasoner: Reasoner, prepared: PreparedCase, base: Inference): Step[] {
  const cause = reasoner.knowledge.book.causes.get(id);
  const rules = cause?.rules ?? [];
  if (cause === undefined) return [];
  return rules
    .filter((rule) => prepared.holds.has(`rule:${id}:${rule.id}`))
    .flatMap((rule) => {
      const direction = rule.for === undefined ? 'against' : 'for';
      const now = rule.for ?? rule.against ?? 'slightly';
      return neighbours(Object.keys(WEIGHTS) as WeightName[], now).map(
        (to): Step => ({
          kind: 'rule',
          file: `causes/${id}.yaml`,
          what: say(`sensitivity.rule-${direction}`, { rule: rule.id, cause: cause.label }),
          from: now,
          to: to ?? 'no weight',
          promise: 1 + probabilityOf(base, id),
          take: () =>
            infer(
              withCause(reasoner, {
                ...cause,
                rules: rules.flatMap((one) => (one === rule ? reweighed(rule, direction, to) : [one])),
              }),
              prepared,
            ),
        }),
      );
    });
}

function reweighed(rule: Rule, direction: 'for' | 'against', weight: WeightName | undefined): Rule[] {
  return weight === undefined ? [] : [{ ...rule, [direction]: weight }];
}

function linkSteps(link: GraphLink, reasoner: Reasoner, prepared: PreparedCase, base: Inference): Step[] {
  const { parent, child } = link;
  if (prepared.cutLinks.some((cut) => cut.parent === parent && cut.child === child)) return [];
  const { graph, knowledge } = reasoner;
  const now = link.statement.strength;
  const label = (node: string) => graph.labels.get(node) ?? node;
  return neighbours(Object.keys(STRENGTHS) as StrengthName[], now).map((to): Step => {
    const strength = to === undefined ? 0 : STRENGTHS[to];
    const marked = strength * (link.statement.marked ?? knowledge.judgements['marked-share']);
    return {
      kind: 'link',
      file: knowledge.book.causes.has(parent)
        ? `causes/${parent}.yaml`
        : `mechanisms/${parent.split(':')[0]}.yaml`,
      what: say('sensitivity.link', { from: label(parent), to: label(child) }),
      from: now,
      to: to ?? 'no link',
      promise: base.posterior.marginals.get(parent) ?? 0,
      take: () =>
        infer(reasoner, {
          ...prepared,
          cutLinks: [...prepared.cutLinks, { parent, child, strength, marked }],
        }),
    };
  });
}

/** The names one step below and above on a scale; below the lowest stands nothing (undefined). */
function neighbours<N extends string>(scale: readonly N[], now: N): (N | undefined)[] {
  const at = scale.indexOf(now);
  const above = scale[at + 1];
  return [scale[at - 1], ...(above === undefined ? [] : [above])];
}

/** Links that lie on a path from one of the causes to something that was seen. */
function linksOnPaths(
  graph: CausalGraph,
  causes: ReadonlySet<string>,
  seen: ReadonlySet<string>,
): GraphLink[] {
  const below = new Set<string>();
  const spread = [...causes];
  for (const node of spread)
    for (const link of graph.linksFrom.get(node) ?? [])
      if (!below.has(link.child)) {
        below.add(link.child);
        spread.push(link.child);
      }
  const leads = new Map<string, boolean>();
  const leadsToSeen = (node: string): boolean => {
    let known = leads.get(node);
    if (known === undefined) {
      known = seen.has(node) || (graph.linksFrom.get(node) ?? []).some((link) => leadsToSeen(link.child));
      leads.set(node, known);
    }
    return known;
  };
  return graph.links.filter(
    (link) => (causes.has(link.parent) || below.has(link.parent)) && leadsToSeen(link.child),
  );
}

/** The reasoner with one cause written otherwise; links and conditions stay as they are. */
function withCause(reasoner: Reasoner, cause: Cause): Reasoner {
  const { knowledge } = reasoner;
  const causes = new Map(knowledge.book.causes).set(cause.id, cause);
  return { ...reasoner, knowledge: { ...knowledge, book: { ...knowledge.book, causes } } };
}

const share = (value: number) => String(Number(value.toPrecision(3)));
