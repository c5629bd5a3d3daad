import type { Simulation } from '../../spinning/simulation.js';
import type { QuantityField } from '../../spinning/state.js';
import { summariseChange, summariseColumn } from '../../spinning/summary.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import { limitOf, USUAL_VARIANT } from './margins.js';
import type { SideEffect } from './types.js';

/** Qualities of which a change of setting is computed. */
const QUALITIES: readonly {
  on: string;
  label: string;
  field: QuantityField;
  worse: 'up' | 'down';
  limited?: Limited;
  standing: 'physics' | 'judgement';
}[] = [
  {
    on: 'output',
    label: 'Output',
    field: 'outputGPerRotorH',
    worse: 'down',
    limited: 'output',
    standing: 'physics',
  },
  {
    on: 'tension',
    label: 'Draw-off tension, share of strength',
    field: 'tensionStrengthRatio',
    worse: 'up',
    standing: 'judgement',
  },
  {
    on: 'tenacity',
    label: 'Tenacity',
    field: 'yarnTenacityCnPerTex',
    worse: 'down',
    limited: 'tenacity',
    standing: 'judgement',
  },
  {
    on: 'hairiness',
    label: 'Hairiness',
    field: 'hairinessIndex',
    worse: 'up',
    limited: 'hairiness',
    standing: 'judgement',
  },
  {
    on: 'hand',
    label: 'Softness of hand',
    field: 'softnessIndex',
    worse: 'down',
    limited: 'softness',
    standing: 'judgement',
  },
  { on: 'fly', label: 'Fly', field: 'flyIndex', worse: 'up', limited: 'fly', standing: 'judgement' },
];

/** Changes smaller than this count as none, percent. */
const NEGLIGIBLE = 0.5;

/**
 * What a change of setting does to the qualities of the yarn: percent of the present value with its 90 % interval,
 * the same draws before and after, held against what the end use accepts compared with its usual setup.
 */
export function computeSideEffects(simulation: Simulation, variant: string, endUse: EndUse): SideEffect[] {
  return QUALITIES.map(({ on, label, field, worse, limited, standing }) => {
    const change = summariseChange(simulation, field, variant, true);
    const size = change.median;
    const direction =
      Math.abs(size) < NEGLIGIBLE ? 'same' : size > 0 === (worse === 'up') ? 'worse' : 'better';
    const beyond =
      direction === 'worse' && limited !== undefined
        ? beyondLimit(simulation, variant, field, label, endUse, limited)
        : undefined;
    return {
      on,
      label,
      direction,
      changePercent: size,
      low: change.low,
      high: change.high,
      ...(beyond === undefined ? {} : { beyondLimit: beyond }),
      words:
        direction === 'same'
          ? `${label} hardly changes`
          : `${label} ${size > 0 ? 'up' : 'down'} ${Math.abs(size).toFixed(0)} %`,
      ground: { standing },
    };
  });
}

function beyondLimit(
  simulation: Simulation,
  variant: string,
  field: QuantityField,
  label: string,
  endUse: EndUse,
  limited: Limited,
): string | undefined {
  const after = simulation.variants[variant]?.[field];
  const usual = simulation.variants[USUAL_VARIANT]?.[field];
  if (after === undefined || usual === undefined) return undefined;
  const against = summariseColumn(
    after.map((value, i) => 100 * (value / (usual[i] ?? Number.NaN) - 1)),
  ).median;
  const { least, most, because } = limitOf(endUse, limited);
  if (against <= most && against >= least) return undefined;
  const bound = against > most ? `at most ${most} % more` : `at most ${-least} % less`;
  return `${label} would stand ${Math.abs(against).toFixed(0)} % ${against > 0 ? 'above' : 'below'} the usual; ${endUse.label.toLowerCase()} accepts ${bound}. ${because}`;
}
