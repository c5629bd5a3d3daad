import { findLeastTwist } from '../../spinning/least-twist.js';
import { computeState } from '../../spinning/model.js';
import { centralParameters, type ParameterTable } from '../../spinning/parameters.js';
import type { FibreShare, SpinningSetup } from '../../spinning/setup.js';
import { certainSetup, simulate } from '../../spinning/simulation.js';
import type { QuantityField } from '../../spinning/state.js';
import { resolveSetup } from '../case/resolve-setup.js';
import type { Knowledge } from '../knowledge/knowledge.js';

/** What the spinning model says of a quantity between two setups. */
export interface ModelSign {
  readonly sign: -1 | 0 | 1;
  /** Median change, percent of the value before (of 1 for margins, which pass through 0). */
  readonly changePercent: number;
  /** Largest or smallest somewhere between, not at an end. */
  readonly peakBetween: boolean;
}

/** Draws of the model's parameters; they must agree on the sign in at least this share. */
const DRAWS = 64;
const AGREEING = 0.8;
/** A smaller change is none, percent. */
const LEAST_CHANGE = 0.1;
/** Setups between the two ends at which a peak is looked for. */
const STEPS = 12;

/** Fibres named in records, in the product's terms; the first pattern that fits. Shares are by half where none is said. */
const FIBRES: readonly (readonly [RegExp, readonly FibreShare[]])[] = [
  [/polyester.*viscose.*elast/i, mix('polyester', 'viscose')],
  [/^polyester,|^polyester and|^100% polyester|^polyester$|man-made/i, [{ fibre: 'polyester', share: 1 }]],
  [/polyester.*cotton|cotton.*polyester/i, mix('polyester', 'cotton')],
  [/viscose.*cotton|cotton.*viscose/i, mix('viscose', 'cotton')],
  [/viscose/i, [{ fibre: 'viscose', share: 1 }]],
  [/acrylic/i, [{ fibre: 'acrylic', share: 1 }]],
];

function mix(first: string, second: string): FibreShare[] {
  return [first, second].map((fibre) => ({ fibre, share: 0.5 }));
}

/** Count taken where a record gives none, tex. */
const USUAL_TEX = 30;

/** The usual setup for the fibre and count of a record; a fibre the product does not know is taken for cotton. */
export function referenceSetup(
  knowledge: Knowledge,
  fibre: string,
  countTex: number | null | undefined,
): SpinningSetup {
  const fibres = FIBRES.find(([pattern]) => pattern.test(fibre))?.[1] ?? [{ fibre: 'cotton', share: 1 }];
  const recycledShare = /100% recycled|cotton waste/i.test(fibre) ? 1 : /recycled/i.test(fibre) ? 0.5 : 0;
  return resolveSetup(
    {
      values: { fibres, countTex: countTex ?? USUAL_TEX, recycledShare },
      endUse: knowledge.endUses.has('weft') ? 'weft' : ([...knowledge.endUses.keys()][0] ?? ''),
      typed: {},
    },
    { endUses: knowledge.endUses, fibres: knowledge.parameters.fibres },
  ).uncertain.central;
}

/** Sign of a quantity from one setup to another, over draws of the parameters. */
export function modelSign(
  field: QuantityField,
  from: SpinningSetup,
  to: SpinningSetup,
  table: ParameterTable,
): ModelSign {
  const { base, variants } = simulate(certainSetup(from), table, {
    draws: DRAWS,
    variants: { to: () => to },
  });
  const before = base[field];
  const after = variants.to?.[field] ?? before;
  const scale = field.endsWith('Margin') ? () => 1 : (i: number) => Math.abs(before[i] ?? 1) || 1;
  const changes = Array.from(before, (value, i) => (100 * ((after[i] ?? value) - value)) / scale(i)).sort(
    (a, b) => a - b,
  );
  const up = changes.filter((change) => change > LEAST_CHANGE).length / changes.length;
  const down = changes.filter((change) => change < -LEAST_CHANGE).length / changes.length;
  const parameters = centralParameters(table);
  return {
    sign: up >= AGREEING ? 1 : down >= AGREEING ? -1 : 0,
    changePercent: changes[Math.floor(changes.length / 2)] ?? 0,
    peakBetween: peaks(from, to, (setup) => computeState(setup, parameters)[field]),
  };
}

/** Multiplier (alpha-e) counted where no twist will do: the end of the search. */
const NO_TWIST_DOES = 8;

/** The same for what is found by search, by the central parameters. */
export function searchedSign(
  search: 'least-twist' | 'speed-of-least-twist',
  from: SpinningSetup,
  to: SpinningSetup,
  table: ParameterTable,
): ModelSign {
  const parameters = centralParameters(table);
  const least = (setup: SpinningSetup) => findLeastTwist(setup, parameters) ?? NO_TWIST_DOES;
  const value = search === 'least-twist' ? least : (setup: SpinningSetup) => bestSpeed(setup, least);
  const before = value(from);
  const after = value(to);
  const changePercent = (100 * (after - before)) / before;
  return {
    sign: Math.abs(changePercent) < LEAST_CHANGE ? 0 : changePercent > 0 ? 1 : -1,
    changePercent,
    peakBetween: peaks(from, to, value),
  };
}

/** Rotor speeds tried, as shares of the setup's own. */
const SPEEDS = Array.from({ length: 29 }, (_, i) => 0.3 + 0.05 * i);

/** The rotor speed at which the least twist is lowest, rpm. */
function bestSpeed(setup: SpinningSetup, least: (setup: SpinningSetup) => number): number {
  const tried = SPEEDS.map((share) => ({ ...setup, rotorSpeedRpm: setup.rotorSpeedRpm * share }));
  const best = tried.reduce((a, b) => (least(b) < least(a) ? b : a));
  return best.rotorSpeedRpm;
}

/** Whether a value on the way between two setups lies clearly beyond both ends. */
function peaks(from: SpinningSetup, to: SpinningSetup, value: (setup: SpinningSetup) => number): boolean {
  const values = Array.from({ length: STEPS + 1 }, (_, i) => value(between(from, to, i / STEPS)));
  const inner = values.slice(1, -1);
  const ends = [values[0] ?? 0, values[STEPS] ?? 0];
  const span = 0.01 * Math.max(...ends.map(Math.abs), 1e-9);
  return Math.max(...inner) > Math.max(...ends) + span || Math.min(...inner) < Math.min(...ends) - span;
}

/** The setup so far on the way; words change at the half. */
function between(from: SpinningSetup, to: SpinningSetup, share: number): SpinningSetup {
  return Object.fromEntries(
    Object.entries(from).map(([key, value]) => {
      const target = to[key as keyof SpinningSetup];
      if (typeof value === 'number' && typeof target === 'number')
        return [key, value + share * (target - value)];
      return [key, share < 0.5 ? value : target];
    }),
  ) as unknown as SpinningSetup;
}
