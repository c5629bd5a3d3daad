import type { FibreEntry } from '../../spinning/parameters.js';
import type { FibreId, SpinningSetup } from '../../spinning/setup.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { setupField } from '../case/setup-fields.js';
import type { FactValue, SetupPath } from '../case/types.js';

/**
 * The fact of a complete setup under the name rules use (`setup.…`, `fibre.…`); undefined for other names. Unlike the
 * facts of a case, everything is known here: a planned setup is what will be, not what somebody looked at.
 */
export function factOfSetup(
  setup: SpinningSetup,
  name: string,
  fibres: Readonly<Record<FibreId, FibreEntry>>,
): FactValue | undefined {
  if (name.startsWith('setup.')) {
    const path = name.slice('setup.'.length);
    if (path === 'alpha-e') return fromTurnsPerMetre(setup.twistPerMetre, 'alpha-e', setup.countTex);
    const field = setupField(path as SetupPath);
    if (field === undefined) return undefined;
    const value = setup[field.key];
    return field.type === 'word' ? String(value) : Number(value) / field.scale;
  }
  if (!name.startsWith('fibre.')) return undefined;
  const id = name.slice('fibre.'.length);
  if (id === 'main')
    return setup.fibres.reduce((main, one) => (one.share > main.share ? one : main), {
      fibre: '',
      share: 0,
    }).fibre;
  const counted = (one: { fibre: string }) =>
    id === 'thermoplastic' ? fibres[one.fibre]?.thermoplastic === true : one.fibre === id;
  return 100 * setup.fibres.filter(counted).reduce((sum, one) => sum + one.share, 0);
}
