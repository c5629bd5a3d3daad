import { requireMembers, requirePositive, requireWithin } from './checks.js';
import { poissonLogPmf } from './distributions.js';
import { StatisticsError } from './errors.js';
import { type CountOverHours, requireExposure } from './exposure.js';

/**
 * Poisson CUSUM: S ← max(0, S + count − k·exposure), alarm when S ≥ h (the convention of Lucas 1985; programs that alarm at
 * S > h need h one grid step lower). k and h are kept on a common grid so that the run lengths are exact.
 */
export interface CusumPlan {
  /** Events allowed per period (mean of the in-control and the out-of-control level, in the logarithmic sense). */
  readonly reference: number;
  /** Alarm when the sum reaches this. */
  readonly limit: number;
  /** Where the sum starts: 0, or half the limit with a head start. */
  readonly start: number;
  /** Steps per whole event: reference, limit and start are multiples of 1/grid. */
  readonly grid: number;
  /** Mean number of periods to a false alarm. */
  readonly falseAlarmPeriods: number;
  /** Mean number of periods to the alarm when the level has really risen. */
  readonly detectionPeriods: number;
}

/** Reference value k = (raised - norm) / ln(raised / norm), both in events per period, different from each other. Published: Lucas 1985. */
export function cusumReference(norm: number, raised: number): number {
  requirePositive('norm', norm);
  requirePositive('raised', raised);
  if (norm === raised) throw new StatisticsError('raised', raised, 'a level different from the norm');
  return (raised - norm) / Math.log(raised / norm);
}

/**
 * Mean number of periods until S ≥ limit for Poisson counts of the given mean per period, exactly, by the Markov chain of
 * Brook & Evans 1972. reference, limit and start must lie on the grid 1/grid.
 */
export function cusumRunLength(
  mean: number,
  plan: Pick<CusumPlan, 'reference' | 'limit'> & { readonly start?: number; readonly grid?: number },
): number {
  requirePositive('mean', mean);
  const grid = plan.grid ?? 1;
  const k = onGrid('reference', plan.reference, grid);
  const states = onGrid('limit', plan.limit, grid);
  const start = onGrid('start', plan.start ?? 0, grid);
  requireWithin('start', start, 0, states - 1);
  requireWithin('limit × grid', states, 1, 1000);

  // Row i: from S = i to S = j < limit; counts that lead to 0 or below are pooled into state 0.
  const probabilities = Array.from({ length: Math.ceil((states + k) / grid) + 1 }, (_, x) =>
    Math.exp(poissonLogPmf(x, mean)),
  );
  const matrix: Float64Array[] = [];
  for (let i = 0; i < states; i++) {
    const row = new Float64Array(states + 1);
    row[i] = 1;
    row[states] = 1;
    for (let x = 0; i + grid * x - k < states; x++) {
      const j = Math.max(0, i + grid * x - k);
      row[j] = (row[j] ?? 0) - (probabilities[x] ?? 0);
    }
    matrix.push(row);
  }
  return solve(matrix)[start] ?? Number.NaN;
}

/** What a CUSUM is designed for; all levels in events per period of usual length. */
export interface CusumDesign {
  readonly norm: number;
  /** The level to be caught quickly; above the norm. */
  readonly raised: number;
  /** Wanted mean number of periods between false alarms. */
  readonly falseAlarmPeriods: number;
  /** Start at half the limit (fast initial response): quicker after a repair that may not have worked. */
  readonly headStart?: boolean;
}

/** Finds the smallest limit whose false-alarm interval, started at 0, is at least the wanted one, and states what it then really is. */
export function designCusum(design: CusumDesign): CusumPlan {
  const ideal = cusumReference(design.norm, design.raised);
  if (design.raised < design.norm) {
    throw new StatisticsError('raised', design.raised, `a level above the norm ${design.norm}`);
  }
  const wanted = requireWithin('falseAlarmPeriods', design.falseAlarmPeriods, 2, 1e6);
  const grid = GRIDS.find((steps) => {
    const rounded = Math.round(ideal * steps);
    return rounded >= 1 && Math.abs(rounded / steps - ideal) <= 0.03 * ideal;
  });
  if (grid === undefined) {
    throw new StatisticsError(
      'norm',
      design.norm,
      'at least about 0.02 events per period: take longer periods',
    );
  }
  const reference = Math.round(ideal * grid) / grid;
  const runLength = (steps: number, mean: number, start = 0) =>
    cusumRunLength(mean, { reference, limit: steps / grid, start, grid });
  let high = grid;
  while (runLength(high, design.norm) < wanted) {
    high *= 2;
    if (high > 1000) {
      throw new StatisticsError(
        'raised',
        design.raised,
        'a level farther from the norm, or a shorter false-alarm interval',
      );
    }
  }
  let low = high / 2;
  if (high === grid) low = 0;
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (runLength(middle, design.norm) >= wanted) high = middle;
    else low = middle;
  }
  const startSteps = design.headStart ? Math.floor(high / 2) : 0;
  return {
    reference,
    limit: high / grid,
    start: startSteps / grid,
    grid,
    falseAlarmPeriods: runLength(high, design.norm, startSteps / grid),
    detectionPeriods: runLength(high, design.raised, startSteps / grid),
  };
}

/** Grids tried for the reference value, coarsest first; 3 % rounding of k is accepted. */
const GRIDS = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 30, 40];

/** One point of a CUSUM chart. */
export interface CusumPoint {
  readonly sum: number;
  readonly alarm: boolean;
  /** First period (index) of the run that led here: where the rise probably began. */
  readonly since: number;
}

/**
 * Runs a CUSUM over periods of unequal length: the reference is scaled by the period's rotor-hours over `usualHours`, for which
 * the plan was made. The stated false-alarm interval holds for periods near the usual length. After an alarm the sum goes on;
 * reset it by starting a new run.
 */
export function runCusum(
  periods: readonly CountOverHours[],
  plan: Pick<CusumPlan, 'reference' | 'limit' | 'start'>,
  usualHours: number,
): CusumPoint[] {
  requireMembers('periods', periods, 1);
  requirePositive('usualHours', usualHours);
  let sum = plan.start;
  let since = 0;
  return periods.map((period, index) => {
    requireExposure(`periods[${index}]`, period);
    if (sum === 0) since = index;
    sum = Math.max(0, sum + period.count - (plan.reference * period.rotorHours) / usualHours);
    return { sum, alarm: sum >= plan.limit - 1e-9, since };
  });
}

function onGrid(field: string, value: number, grid: number): number {
  requireWithin(field, value, 0, Number.POSITIVE_INFINITY);
  const steps = Math.round(value * grid);
  if (Math.abs(steps / grid - value) > 1e-9)
    throw new StatisticsError(field, value, `a multiple of 1/${grid}`);
  return steps;
}

/** Gaussian elimination with the right-hand side in the last column; the matrix is diagonally dominant, so no pivoting is needed. */
function solve(matrix: Float64Array[]): number[] {
  const n = matrix.length;
  for (let column = 0; column < n; column++) {
    const pivotRow = matrix[column] as Float64Array;
    const pivot = pivotRow[column] as number;
    for (let r = column + 1; r < n; r++) {
      const row = matrix[r] as Float64Array;
      const factor = (row[column] as number) / pivot;
      if (factor === 0) continue;
      for (let c = column; c <= n; c++) row[c] = (row[c] as number) - factor * (pivotRow[c] as number);
    }
  }
  const solution = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    const row = matrix[r] as Float64Array;
    let value = row[n] as number;
    for (let c = r + 1; c < n; c++) value -= (row[c] as number) * (solution[c] as number);
    solution[r] = value / (row[r] as number);
  }
  return solution;
}
