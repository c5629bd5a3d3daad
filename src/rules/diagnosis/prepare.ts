import type { SetupVariant } from '../../spinning/simulation.js';
import { summariseColumn } from '../../spinning/summary.js';
import { setupFacts } from '../case/facts.js';
import type { CaseInput, FactValue } from '../case/types.js';
import { evaluateConditions } from '../conditions/evaluate.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { StrengthOverride } from '../network/network.js';
import type { CausalGraph } from './causal-graph.js';
import { computedFacts } from './computed-facts.js';
import { type ComputedSetup, computeSetup, computeVariants } from './computed-setup.js';
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
  const { knowledge, conditions, graph } = reasoner;
  const computed = computeSetup(knowledge, input.given, input.before);
  const { resolved, simulation } = computed;
  const { fibres } = knowledge.parameters;
  const facts = new Map<string, FactValue | (() => FactValue | undefined)>([
    ...Object.entries(setupFacts(input.given, input.before, resolved, fibres)),
    ...computedFacts(simulation, input.given),
    ...conditions.margins.map((margin): [string, () => number] => [
      `chance.${margin}`,
      () => summariseColumn(marginColumn(simulation, resolved.endUse, margin as MarginId)).negative,
    ]),
    ...Object.entries(input.observations).map(([id, level]): [string, FactValue] => [
      `observed.${id}`,
      level,
    ]),
    ...Object.entries(input.findings).map(([id, outcomes]): [string, FactValue] => [`found.${id}`, outcomes]),
    ...given('where', input.scope),
    ...given('began', input.onset),
    ...given('changed', input.changed),
  ]);
  const holds = await evaluateConditions(conditions.all, facts);
  const cutLinks = graph.links
    .filter((link) => {
      const name = `${link.parent}>${link.child}`;
      return (
        (link.statement['only-if'] !== undefined && !holds.has(`only-if:${name}`)) ||
        (link.statement.unless !== undefined && holds.has(`unless:${name}`))
      );
    })
    .map((link) => ({ parent: link.parent, child: link.child, strength: 0, marked: 0 }));
  return { ...computed, input, holds, cutLinks };
}

/** The case with further setups computed on the same draws. */
export function withVariants(
  reasoner: Reasoner,
  prepared: PreparedCase,
  variants: Readonly<Record<string, SetupVariant>>,
): PreparedCase {
  return { ...prepared, simulation: computeVariants(reasoner.knowledge, prepared, variants) };
}

function given(name: string, values: readonly string[]): [string, FactValue][] {
  return values.length === 0 ? [] : [[name, values]];
}
