import { setupFacts } from '../case/facts.js';
import { applyChanges } from '../case/setup-change.js';
import { evaluateConditions } from '../conditions/evaluate.js';
import type { PreparedCase, Reasoner } from './prepare.js';

/**
 * Actions after which the setup would be one that the end use does not stand, with the reason. The changed setup is
 * taken as given in full, so that its conditions can be judged; what the end use forbids already now is not held
 * against an action.
 */
export async function findForbidden(
  { knowledge }: Reasoner,
  prepared: PreparedCase,
  actionIds: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const { resolved } = prepared;
  const forbids = resolved.endUse.forbids ?? [];
  const found = new Map<string, string>();
  if (forbids.length === 0) return found;
  const conditions = forbids.map((forbidden, n) => ({ id: `${n}`, when: forbidden.when }));
  const judge = (setup: typeof resolved.usual) =>
    evaluateConditions(
      conditions,
      new Map(
        Object.entries(
          setupFacts(
            { values: setup, endUse: resolved.endUse.id, typed: {} },
            undefined,
            resolved,
            knowledge.parameters.fibres,
          ),
        ),
      ),
    );
  const central = resolved.uncertain.central;
  const now = await judge(central);
  for (const id of actionIds) {
    const change = knowledge.book.actions.get(id)?.change;
    if (change === undefined) continue;
    const then = await judge(applyChanges(central, resolved.usual, change).setup);
    const broken = forbids.find((_, n) => then.has(`${n}`) && !now.has(`${n}`));
    if (broken !== undefined) found.set(id, broken.because);
  }
  return found;
}
