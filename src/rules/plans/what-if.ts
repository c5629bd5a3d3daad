import { QUANTITIES, type QuantityInfo } from '../../spinning/quantities.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { simulate } from '../../spinning/simulation.js';
import { summariseChange, summariseColumn } from '../../spinning/summary.js';
import { resolveSetup } from '../case/resolve-setup.js';
import { setupField } from '../case/setup-fields.js';
import type { CaseInput, SetupPath } from '../case/types.js';
import { MARGIN_WORDS, type MarginId, marginColumn, USUAL_VARIANT } from '../diagnosis/margins.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { setupDifferences } from './setup-differences.js';
import type { Ranged } from './types.js';

/** A quantity before and after, with the change on the same draws. */
export interface MovedQuantity extends Pick<QuantityInfo, 'id' | 'label' | 'unit' | 'meaning' | 'standing'> {
  readonly before: Ranged;
  readonly after: Ranged;
  readonly change: Ranged;
}

/** A margin before and after with the chance that nothing is left. */
export interface MovedMargin {
  readonly id: string;
  readonly label: string;
  readonly meaning: string;
  readonly before: Ranged;
  readonly after: Ranged;
  readonly shortBefore: number;
  readonly shortAfter: number;
}

/** What would be if some settings were others. */
export interface WhatIf {
  readonly before: SpinningSetup;
  readonly after: SpinningSetup;
  readonly changed: readonly { readonly label: string; readonly from: string; readonly to: string }[];
  /** The case with the changed settings, for a diagnosis of it. */
  readonly case: CaseInput;
  readonly quantities: readonly MovedQuantity[];
  readonly margins: readonly MovedMargin[];
  /** Chance that twist, tension, fibres and heat all leave room. */
  readonly runsBefore: number;
  readonly runsAfter: number;
}

const DRAWS = 256;
const RUN_MARGINS = ['twist', 'tension', 'fibres', 'heat'] as const satisfies readonly MarginId[];

/**
 * Computes what a setup would do with some settings changed, beside what it does now, on the same draws.
 *
 * @param changes new values in the model's units; what is not named stays as it is, with its doubt
 * @throws RangeError for an unknown fibre or end use
 */
export function whatIf(knowledge: Knowledge, input: CaseInput, changes: Partial<SpinningSetup>): WhatIf {
  const fibres = knowledge.parameters.fibres;
  const resolved = resolveSetup(input.given, { endUses: knowledge.endUses, fibres });
  const { endUse, uncertain, usual } = resolved;
  const change = (setup: SpinningSetup): SpinningSetup => ({ ...setup, ...changes });
  const simulation = simulate(uncertain, knowledge.parameters, {
    draws: DRAWS,
    variants: { [USUAL_VARIANT]: () => usual, changed: change },
  });
  const changedColumns = simulation.variants.changed ?? simulation.base;
  const after = change(uncertain.central);
  const range = (column: Float64Array): Ranged => {
    const { median, low, high } = summariseColumn(column);
    return { value: median, low, high };
  };
  const runs = (variant?: string) => {
    const columns = RUN_MARGINS.map((margin) => marginColumn(simulation, endUse, margin, variant));
    let good = 0;
    for (let i = 0; i < simulation.draws; i++) if (columns.every((column) => (column[i] ?? 0) >= 0)) good++;
    return good / simulation.draws;
  };
  return {
    before: uncertain.central,
    after,
    changed: setupDifferences(uncertain.central, after).map(({ label, first, second }) => ({
      label,
      from: first,
      to: second,
    })),
    case: changeCase(input, changes),
    quantities: QUANTITIES.map((info) => {
      const moved = summariseChange(simulation, info.field, 'changed');
      return {
        id: info.id,
        label: info.label,
        unit: info.unit,
        meaning: info.meaning,
        standing: info.standing,
        before: range(simulation.base[info.field]),
        after: range(changedColumns[info.field]),
        change: { value: moved.median, low: moved.low, high: moved.high },
      };
    }),
    margins: (Object.keys(MARGIN_WORDS) as MarginId[]).map((id) => {
      const before = marginColumn(simulation, endUse, id);
      const then = marginColumn(simulation, endUse, id, 'changed');
      return {
        id,
        ...MARGIN_WORDS[id],
        before: range(before),
        after: range(then),
        shortBefore: summariseColumn(before).negative,
        shortAfter: summariseColumn(then).negative,
      };
    }),
    runsBefore: runs(),
    runsAfter: runs('changed'),
  };
}

/**
 * The case with settings changed. What was typed for them is dropped, so that they are written in their own units.
 */
export function changeCase(input: CaseInput, changes: Partial<SpinningSetup>): CaseInput {
  const typed = Object.fromEntries(
    Object.entries(input.given.typed).filter(([path]) => {
      const field = setupField(path as SetupPath);
      return field === undefined ? !(path === 'fibre' && 'fibres' in changes) : !(field.key in changes);
    }),
  ) as CaseInput['given']['typed'];
  return { ...input, given: { ...input.given, values: { ...input.given.values, ...changes }, typed } };
}
