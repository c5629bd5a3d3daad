import { setupFacts } from '../case/facts.js';
import { applyChanges } from '../case/setup-change.js';
import { evaluateConditions } from '../conditions/evaluate.js';
import { onceASetup } from './once-a-setup.js';
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
  // Why an action is forbidden, or undefined, by its id.
  const known = onceASetup(resolved, 'forbidden actions', () => new Map<string, string | undefined>());
  let now: ReadonlySet<string> | undefined;
  for (const id of actionIds) {
    const change = knowledge.book.actions.get(id)?.change;
    if (change === undefined) continue;
    if (!known.has(id)) {
      now ??= await judge(central);
      const before = now;
      const then = await judge(applyChanges(central, resolved.usual, change).setup);
      known.set(id, forbids.find((_, n) => then.has(`${n}`) && !before.has(`${n}`))?.because);
    }
    const because = known.get(id);
    if (because !== undefined) found.set(id, because);
  }
  return found;
}
