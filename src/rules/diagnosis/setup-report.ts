import { QUANTITIES } from '../../spinning/quantities.js';
import { summarise } from '../../spinning/summary.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import { summariseMargins } from './margins.js';
import type { PreparedCase } from './prepare.js';
import type { CautionText, ComputedQuantity, SetupReport } from './types.js';

/** The computed state of a prepared case: every quantity with its 90 % interval, the margins, what was assumed. */
export function reportSetup(prepared: PreparedCase, book: RuleBook): SetupReport {
  const summaries = summarise(prepared.simulation.base);
  const computed: Record<string, ComputedQuantity> = {};
  for (const quantity of QUANTITIES) {
    const summary = summaries[quantity.field];
    computed[quantity.id] = {
      label: quantity.label,
      value: summary.median,
      low: summary.low,
      high: summary.high,
      unit: quantity.unit,
      standing: quantity.standing,
      meaning: quantity.meaning,
    };
  }
  return {
    computed,
    margins: summariseMargins(prepared.simulation, prepared.resolved.endUse),
    assumed: prepared.resolved.assumed,
    warnings: [...prepared.input.warnings, ...prepared.resolved.warnings],
    cautions: raisedCautions(prepared, book),
  };
}

/** Cautions that the case raises by itself. */
export function raisedCautions(prepared: PreparedCase, book: RuleBook): CautionText[] {
  return [...book.cautions]
    .filter(([id]) => prepared.holds.has(`caution:${id}`))
    .map(([id, caution]) => ({ id, text: caution.text }));
}
