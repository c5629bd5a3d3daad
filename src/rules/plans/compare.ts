import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { computeState } from '../../spinning/model.js';
import { centralParameters, type Standing } from '../../spinning/parameters.js';
import { QUANTITIES, type QuantityInfo } from '../../spinning/quantities.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { type Simulation, simulate } from '../../spinning/simulation.js';
import type { ComputedState } from '../../spinning/state.js';
import { summariseColumn } from '../../spinning/summary.js';
import { type ResolvedSetup, resolveSetup } from '../case/resolve-setup.js';
import type { CaseInput } from '../case/types.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { joinWords } from '../words.js';
import { type SettingDifference, setupDifferences } from './setup-differences.js';
import { shapleyShares } from './shapley.js';
import type { Ranged } from './types.js';

/** A setup to be held against others. */
export interface ComparedSetup {
  readonly name: string;
  readonly case: CaseInput;
}

/** What one differing setting does to a quantity. */
export interface Driver {
  readonly id: string;
  readonly label: string;
  /** Part of the difference at the central values that this setting accounts for. */
  readonly part: number;
}

/** A quantity of one setup against the first one. */
export interface QuantityDifference {
  /** Against the first setup, the same draws; 0 for the first itself. */
  readonly difference: Ranged;
  /** Percent of the first, where that is not 0. */
  readonly percent: number | undefined;
  /** Whether nine draws in ten agree on which is greater. */
  readonly sure: boolean;
  /** Settings behind it, the greatest part first. */
  readonly drivers: readonly Driver[];
  readonly words: string;
}

/** One row of the table. */
export interface ComparedQuantity {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly meaning: string;
  readonly standing: Standing;
  readonly worse?: 'low' | 'high' | 'both';
  /** One for each setup. */
  readonly values: readonly Ranged[];
  /** One for each setup after the first. */
  readonly against: readonly QuantityDifference[];
}

/** Setups side by side. */
export interface Comparison {
  readonly names: readonly string[];
  readonly setups: readonly SpinningSetup[];
  readonly states: readonly ComputedState[];
  /** Settings in which each setup after the first differs from it. */
  readonly differing: readonly (readonly Omit<SettingDifference, 'swap'>[])[];
  readonly quantities: readonly ComparedQuantity[];
  /** For each setup after the first: the differences that matter, in sentences. */
  readonly summary: readonly (readonly string[])[];
  /** How the differences were shared out, for each setup after the first. */
  readonly method: readonly string[];
  readonly assumed: readonly (readonly string[])[];
}

const DRAWS = 256;
/** Up to so many differing settings all orders are gone through. */
const MOST_SHARED = 5;
/** Parts below this share of the difference are not named. */
const NAMED_FROM = 0.15;

/** Quantities that are spoken of in the summary, in this order. */
const TOLD = [
  'stability-margin',
  'twist-margin',
  'tension-margin',
  'heat-margin',
  'take-up-tension',
  'false-twist',
  'binding-in-length',
  'wrapper-share',
  'output',
  'tenacity',
  'hairiness',
  'softness',
  'fly',
  'nozzle-life',
];

/**
 * Holds two or three setups against each other: every computed quantity with its interval, the differences from the
 * first with theirs on the same draws, and which settings drive them.
 *
 * With up to five differing settings a difference is shared out by going through all orders of swapping them (the
 * parts add up to it); with more, each setting is swapped by itself and what their acting together adds is left over.
 * Parts are reckoned at the central values. Standing: as the quantities'.
 *
 * @param setups 2 or 3
 * @throws RangeError for another number of setups, or an unknown fibre or end use
 */
export function compareSetups(knowledge: Knowledge, setups: readonly ComparedSetup[]): Comparison {
  if (setups.length < 2 || setups.length > 3)
    throw new RangeError(`setups: ${setups.length} given; give two or three to compare`);
  const fibres = knowledge.parameters.fibres;
  const resolved = setups.map((one) => resolveSetup(one.case.given, { endUses: knowledge.endUses, fibres }));
  const simulations = resolved.map((one) => simulate(one.uncertain, knowledge.parameters, { draws: DRAWS }));
  const parameters = centralParameters(knowledge.parameters);
  const [base] = resolved;
  if (base === undefined) throw new RangeError('setups: none given');
  const others = resolved
    .slice(1)
    .map((one) => sharing(base, one, (setup) => computeState(setup, parameters)));
  const quantities = QUANTITIES.map((info) => compareQuantity(info, simulations, others, setups));
  return {
    names: setups.map((one) => one.name),
    setups: resolved.map((one) => one.uncertain.central),
    states: simulations.map((one) => one.central),
    differing: others.map((one) => one.differences.map(({ swap: _swap, ...rest }) => rest)),
    quantities,
    summary: others.map((one, i) => summarise(quantities, i, setups, one.differences)),
    method: others.map((one) => one.method),
    assumed: resolved.map((one) =>
      one.assumed.map((assumption) => `${assumption.label}: ${assumption.value}`),
    ),
  };
}

interface Sharing {
  readonly differences: readonly SettingDifference[];
  readonly method: string;
  /** Parts of the difference in a quantity, one for each differing setting. */
  readonly partsOf: (field: keyof ComputedState) => readonly number[];
}

function sharing(
  first: ResolvedSetup,
  second: ResolvedSetup,
  stateOf: (setup: SpinningSetup) => ComputedState,
): Sharing {
  const start = first.uncertain.central;
  const differences = setupDifferences(start, second.uncertain.central);
  const states = new Map<number, ComputedState>();
  const stateWith = (mask: number) => {
    let state = states.get(mask);
    if (state === undefined) {
      state = stateOf(
        differences.reduce((setup, one, i) => ((mask & (1 << i)) !== 0 ? one.swap(setup) : setup), start),
      );
      states.set(mask, state);
    }
    return state;
  };
  if (differences.length <= MOST_SHARED)
    return {
      differences,
      method: differences.length === 0 ? say('side-by-side.no-differ') : say('side-by-side.all-orders'),
      partsOf: (field) => shapleyShares(differences.length, (mask) => stateWith(mask)[field]),
    };
  const alone = differences.map((one) => stateOf(one.swap(start)));
  const unchanged = stateOf(start);
  return {
    differences,
    method: say('side-by-side.each-alone', { n: differences.length }),
    partsOf: (field) => alone.map((state) => state[field] - unchanged[field]),
  };
}

function compareQuantity(
  info: QuantityInfo,
  simulations: readonly Simulation[],
  others: readonly Sharing[],
  setups: readonly ComparedSetup[],
): ComparedQuantity {
  const columns = simulations.map((one) => one.base[info.field]);
  const [first] = columns;
  const values = columns.map(rangeOf);
  return {
    id: info.id,
    label: info.label,
    unit: info.unit,
    meaning: info.meaning,
    standing: info.standing,
    ...(info.worse === undefined ? {} : { worse: info.worse }),
    values,
    against: others.map((other, i) => {
      const column = columns[i + 1] ?? new Float64Array(0);
      const difference = rangeOf(column.map((value, draw) => value - (first?.[draw] ?? 0)));
      const from = values[0]?.value ?? 0;
      const drivers = other
        .partsOf(info.field)
        .map((part, d) => ({
          id: other.differences[d]?.id ?? '',
          label: other.differences[d]?.label ?? '',
          part,
        }))
        .filter((driver) => Math.abs(driver.part) > 1e-9)
        .sort((a, b) => Math.abs(b.part) - Math.abs(a.part));
      const sure = difference.low > 0 || difference.high < 0;
      return {
        difference,
        percent: Math.abs(from) < 1e-9 ? undefined : (100 * difference.value) / Math.abs(from),
        sure,
        drivers,
        words: sayDifference(
          info,
          difference,
          sure,
          drivers,
          setups[i + 1]?.name ?? '',
          setups[0]?.name ?? '',
        ),
      };
    }),
  };
}

function rangeOf(column: Float64Array): Ranged {
  const { median, low, high } = summariseColumn(column);
  return { value: median, low, high };
}

const isMargin = (info: { readonly unit: string }) => info.unit === 'margin';

function sayDifference(
  info: QuantityInfo,
  difference: Ranged,
  sure: boolean,
  drivers: readonly Driver[],
  name: string,
  first: string,
): string {
  if (difference.value === 0 && difference.low === 0 && difference.high === 0)
    return say('side-by-side.same', { quantity: info.label, name, first });
  const size = Math.abs(difference.value);
  // A difference of percentages or of an index is one of points.
  const amount = isMargin(info)
    ? say('side-by-side.points', { n: (100 * size).toFixed(0) })
    : info.unit === '%' || info.unit === 'index'
      ? say('side-by-side.points', { n: figure(size) })
      : `${figure(size)} ${info.unit}`;
  const named = drivers
    .filter((driver) => Math.abs(driver.part) >= NAMED_FROM * Math.max(size, 1e-12))
    .slice(0, 3);
  const by = named.map(
    (driver) =>
      `${driver.label} (${driver.part > 0 ? '+' : '−'}${isMargin(info) ? (100 * Math.abs(driver.part)).toFixed(0) : figure(Math.abs(driver.part))})`,
  );
  return say('side-by-side.differs', {
    quantity: info.label,
    amount,
    higher: difference.value > 0 ? 'yes' : 'no',
    name,
    driven: by.length === 0 ? 'no' : 'yes',
    drivers: joinWords(by),
    sure: sure ? 'yes' : 'no',
  });
}

const figure = (value: number) => localDecimal(String(Number(value.toPrecision(2))));

/** Sentences on what matters: margins first, only differences that are more than rounding. */
function summarise(
  quantities: readonly ComparedQuantity[],
  index: number,
  setups: readonly ComparedSetup[],
  differences: readonly SettingDifference[],
): string[] {
  const name = setups[index + 1]?.name ?? '';
  if (differences.length === 0)
    return [say('side-by-side.set-up-as', { name, first: setups[0]?.name ?? '' })];
  const told = TOLD.flatMap((id) => {
    const one = quantities.find((quantity) => quantity.id === id);
    const against = one?.against[index];
    if (one === undefined || against === undefined) return [];
    const size = isMargin(one) ? Math.abs(against.difference.value) : Math.abs(against.percent ?? 0) / 100;
    return size >= 0.02 && one.id !== 'stability-margin' ? [against.words] : [];
  });
  return told.length === 0
    ? [
        say('side-by-side.nothing-matters', {
          name,
          settings: joinWords(differences.map((one) => one.label)),
        }),
      ]
    : told;
}
