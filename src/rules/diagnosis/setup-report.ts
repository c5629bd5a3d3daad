import { QUANTITIES } from '../../spinning/quantities.js';
import type { Simulation } from '../../spinning/simulation.js';
import { summarise } from '../../spinning/summary.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { summariseMargins } from './margins.js';
import { onceASetup } from './once-a-setup.js';
import type { PreparedCase } from './prepare.js';
import type { CautionText, ComputedQuantity, SetupReport } from './types.js';

/** The computed state of a prepared case: every quantity with its 90 % interval, the margins, what was assumed. */
export function reportSetup(prepared: PreparedCase, book: RuleBook): SetupReport {
  const { resolved, simulation, input } = prepared;
  return {
    computed: onceASetup(resolved, 'computed quantities', () => summariseQuantities(simulation)),
    margins: onceASetup(resolved, 'margins', () => summariseMargins(simulation, resolved.endUse)),
    assumed: resolved.assumed,
    warnings: [...input.warnings, ...resolved.warnings],
    cautions: raisedCautions(prepared, book),
  };
}

function summariseQuantities(simulation: Simulation): Readonly<Record<string, ComputedQuantity>> {
  const summaries = summarise(simulation.base);
  return Object.fromEntries(
    QUANTITIES.map(({ id, field, label, unit, standing, meaning }): [string, ComputedQuantity] => {
      const { median, low, high } = summaries[field];
      return [id, { label, value: median, low, high, unit, standing, meaning }];
    }),
  );
}

/** Cautions that the case raises by itself. */
export function raisedCautions(prepared: PreparedCase, book: RuleBook): CautionText[] {
  return [...book.cautions]
    .filter(([id]) => prepared.holds.has(`caution:${id}`))
    .map(([id, caution]) => ({ id, text: caution.text }));
}
