import { type KeysOf, say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import type { Simulation } from '../../spinning/simulation.js';
import type { QuantityField } from '../../spinning/state.js';
import { summariseChange, summariseColumn } from '../../spinning/summary.js';
import type { EndUse, Limited } from '../knowledge/end-use-schema.js';
import { limitOf, USUAL_VARIANT } from './margins.js';
import type { SideEffect } from './types.js';

/** Qualities of which a change of setting is computed. */
const QUALITIES: readonly {
  on: KeysOf<'quality'>;
  field: QuantityField;
  worse: 'up' | 'down';
  limited?: Limited;
  standing: 'physics' | 'judgement';
}[] = [
  {
    on: 'output',
    field: 'outputGPerRotorH',
    worse: 'down',
    limited: 'output',
    standing: 'physics',
  },
  {
    on: 'tension',
    field: 'tensionStrengthRatio',
    worse: 'up',
    standing: 'judgement',
  },
  {
    on: 'tenacity',
    field: 'yarnTenacityCnPerTex',
    worse: 'down',
    limited: 'tenacity',
    standing: 'judgement',
  },
  {
    on: 'hairiness',
    field: 'hairinessIndex',
    worse: 'up',
    limited: 'hairiness',
    standing: 'judgement',
  },
  {
    on: 'hand',
    field: 'softnessIndex',
    worse: 'down',
    limited: 'softness',
    standing: 'judgement',
  },
  { on: 'fly', field: 'flyIndex', worse: 'up', limited: 'fly', standing: 'judgement' },
];

/** Changes smaller than this count as none, percent. */
const NEGLIGIBLE = 0.5;

/**
 * What a change of setting does to the qualities of the yarn: percent of the present value with its 90 % interval,
 * the same draws before and after, held against what the end use accepts compared with its usual setup.
 */
export function computeSideEffects(simulation: Simulation, variant: string, endUse: EndUse): SideEffect[] {
  return QUALITIES.map(({ on, field, worse, limited, standing }) => {
    const label = say(`quality.${on}`);
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
          ? say('reasoning.hardly', { what: label })
          : say(size > 0 ? 'reasoning.up' : 'reasoning.down', {
              what: label,
              size: Math.abs(size).toFixed(0),
            }),
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
  const above = against > most;
  return say(against > 0 ? 'reasoning.beyond-above' : 'reasoning.beyond-below', {
    what: label,
    size: Math.abs(against).toFixed(0),
    use: inSentence(endUse.label),
    bound: above
      ? say('reasoning.at-most-more', { percent: most })
      : say('reasoning.at-most-less', { percent: -least }),
    because,
  });
}
