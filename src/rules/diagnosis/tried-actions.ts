import { type SetupVariant, type Simulation, simulate } from '../../spinning/simulation.js';
import { changedSetup } from '../case/setup-change.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Action } from '../knowledge/schema.js';
import { DRAWS, JUDGED } from './computed-setup.js';
import { marginColumn, shortfallShare } from './margins.js';
import { onceASetup } from './once-a-setup.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { computeSideEffects } from './side-effects.js';
import type { SideEffect } from './types.js';

/** What an action's change of the setup brings about, by the model. */
export interface TriedAction {
  /** By cause, the chance, 0–1, that the action removes it: the expert's, corrected by the model where it can tell. */
  readonly cures: ReadonlyMap<string, number>;
  readonly effects: readonly SideEffect[];
}

/** Below this share of draws with a negative margin the model has no shortfall to go by. */
const LEAST_SHORT = 0.05;

/**
 * Tries the actions that change the setup on the model, on the draws of the case. What they bring about does not depend
 * on the signs: each is tried once a setup, and only what came of it is kept.
 *
 * @returns by action; those that change no setting are not in it
 */
export function tryActions(
  { knowledge }: Reasoner,
  { resolved, simulation }: PreparedCase,
  wanted: ReadonlySet<string>,
): ReadonlyMap<string, TriedAction> {
  const tried = onceASetup(resolved, 'tried actions', () => new Map<string, TriedAction>());
  const missing = [...knowledge.book.actions.values()].filter(
    (action) => action.change !== undefined && wanted.has(action.id) && !tried.has(action.id),
  );
  if (missing.length === 0) return tried;
  const variants = Object.fromEntries(
    missing.map(({ id, change = [] }): [string, SetupVariant] => [
      id,
      (setup) => changedSetup(setup, resolved.usual, change),
    ]),
  );
  const changed = simulate(resolved.uncertain, knowledge.parameters, {
    draws: DRAWS,
    variants,
    variantFields: JUDGED,
  });
  const both: Simulation = { ...simulation, variants: { ...simulation.variants, ...changed.variants } };
  for (const action of missing)
    tried.set(action.id, {
      cures: correctCures(action, knowledge.book, both, resolved.endUse, knowledge.judgements),
      effects: computeSideEffects(both, action.id, resolved.endUse),
    });
  return tried;
}

function correctCures(
  action: Action,
  book: RuleBook,
  simulation: Simulation,
  endUse: PreparedCase['resolved']['endUse'],
  judgements: Reasoner['knowledge']['judgements'],
): ReadonlyMap<string, number> {
  const credibility = judgements['model-credibility'];
  return new Map(
    [...statedCures(book, action.id)].map(([id, stated]) => {
      const model = book.causes.get(id)?.prior.model;
      if (model === undefined) return [id, stated];
      const before = marginColumn(simulation, endUse, model.margin);
      const after = marginColumn(simulation, endUse, model.margin, action.id);
      const short = before.filter((value) => value < 0).length / before.length;
      const removed = short < LEAST_SHORT ? stated : Math.min(1, shortfallShare(before, after) / short);
      return [id, credibility * removed + (1 - credibility) * stated];
    }),
  );
}

const statedByBook = new WeakMap<RuleBook, ReadonlyMap<string, ReadonlyMap<string, number>>>();

/** By cause, the chance that an action removes it as the knowledge base states it. */
export function statedCures(book: RuleBook, action: string): ReadonlyMap<string, number> {
  const known = statedByBook.get(book) ?? collectCures(book);
  statedByBook.set(book, known);
  return known.get(action) ?? new Map();
}

function collectCures(book: RuleBook): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const stated = new Map<string, Map<string, number>>();
  for (const cause of book.causes.values())
    for (const { do: action, cures } of cause.actions) {
      const ofAction = stated.get(action) ?? new Map<string, number>();
      stated.set(action, ofAction);
      if (!ofAction.has(cause.id)) ofAction.set(cause.id, cures);
    }
  return stated;
}
