import { summariseColumn } from '../../spinning/summary.js';
import { setupFacts } from '../case/facts.js';
import type { CaseInput, FactValue } from '../case/types.js';
import { evaluateConditions } from '../conditions/evaluate.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { StrengthOverride } from '../network/network.js';
import type { CausalGraph } from './causal-graph.js';
import { computedFacts } from './computed-facts.js';
import { type ComputedSetup, computeSetup } from './computed-setup.js';
import type { ConditionBook } from './condition-book.js';
import { type MarginId, marginColumn } from './margins.js';

/** What is fixed for a knowledge base: built once, used for every case. */
export interface Reasoner {
  readonly knowledge: Knowledge;
  readonly graph: CausalGraph;
  readonly conditions: ConditionBook;
}

/** A case made ready: the setup completed and computed, all conditions judged. */
export interface PreparedCase extends ComputedSetup {
  readonly input: CaseInput;
  /** Names of the conditions that hold (see `condition-book`). */
  readonly holds: ReadonlySet<string>;
  /** Links that the setup takes out of the network. */
  readonly cutLinks: readonly StrengthOverride[];
}

/** Completes and computes the setup and judges every condition of the knowledge base on it. */
export async function prepareCase(reasoner: Reasoner, input: CaseInput): Promise<PreparedCase> {
  const { knowledge, graph } = reasoner;
  const computed = computeSetup(knowledge, input.given, input.before);
  const holds = await judgeConditions(reasoner, computed, input);
  const cutLinks = graph.links
    .filter((link) => {
      const { name } = link;
      return (
        (link.statement['only-if'] !== undefined && !holds.has(`only-if:${name}`)) ||
        (link.statement.unless !== undefined && holds.has(`unless:${name}`))
      );
    })
    .map((link) => ({ parent: link.parent, child: link.child, strength: 0, marked: 0 }));
  return { ...computed, input, holds, cutLinks };
}

type Facts = Map<string, FactValue | (() => FactValue | undefined)>;

/** What the setup says by itself, before anything is seen. */
interface SetupJudged {
  readonly facts: Facts;
  /** Names of the conditions that hold on these facts alone. */
  readonly holds: ReadonlySet<string>;
}

const judged = new WeakMap<ComputedSetup, Promise<SetupJudged>>();

/**
 * Names of the conditions that hold. Most name facts of the setup alone and are judged once for it; with what was seen
 * only those are judged again that name something that was.
 */
async function judgeConditions(
  reasoner: Reasoner,
  computed: ComputedSetup,
  input: CaseInput,
): Promise<ReadonlySet<string>> {
  const { conditions } = reasoner;
  const ofSetup = judged.get(computed) ?? judgeSetup(reasoner, computed, input);
  judged.set(computed, ofSetup);
  ofSetup.catch(() => judged.delete(computed));
  const { facts, holds } = await ofSetup;
  const seen = factsSeen(input);
  const again = [...new Set(seen.flatMap(([fact]) => conditions.naming.get(fact) ?? []))];
  if (again.length === 0) return holds;
  const now = await evaluateConditions(again, new Map([...facts, ...seen]));
  const all = new Set(holds);
  for (const { id } of again)
    if (now.has(id)) all.add(id);
    else all.delete(id);
  return all;
}

async function judgeSetup(
  { knowledge, conditions }: Reasoner,
  { resolved, simulation }: ComputedSetup,
  { given, before }: CaseInput,
): Promise<SetupJudged> {
  const facts: Facts = new Map<string, FactValue | (() => FactValue | undefined)>([
    ...Object.entries(setupFacts(given, before, resolved, knowledge.parameters.fibres)),
    ...computedFacts(simulation, given),
    ...conditions.margins.map((margin): [string, () => number] => [
      `chance.${margin}`,
      () => summariseColumn(marginColumn(simulation, resolved.endUse, margin as MarginId)).negative,
    ]),
  ]);
  return { facts, holds: await evaluateConditions(conditions.all, facts) };
}

/** What the case says besides its setup. */
function factsSeen(input: CaseInput): [string, FactValue][] {
  const given = (name: string, values: readonly string[]): [string, FactValue][] =>
    values.length === 0 ? [] : [[name, values]];
  return [
    ...Object.entries(input.observations).map(([id, level]): [string, FactValue] => [
      `observed.${id}`,
      level,
    ]),
    ...Object.entries(input.findings).map(([id, outcomes]): [string, FactValue] => [`found.${id}`, outcomes]),
    ...given('where', input.scope),
    ...given('began', input.onset),
    ...given('changed', input.changed),
  ];
}
