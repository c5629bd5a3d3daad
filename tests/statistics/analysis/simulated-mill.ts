import { createRandom } from '../../../src/statistics/random.js';
import type { CountTable } from '../../../src/statistics/tables/index.js';

/** A source of simulated counts; the same seed gives the same mill. */
export function simulate(seed: number) {
  const random = createRandom(seed);
  const poisson = (mean: number): number => {
    let count = 0;
    let term = Math.exp(-mean);
    let sum = term;
    const target = random();
    while (target > sum && count < 10_000) {
      count++;
      term *= mean / count;
      sum += term;
    }
    return count;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  /** Gamma with mean 1 (Marsaglia and Tsang 2000), shape above 1. */
  const gamma = (shape: number): number => {
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal();
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return (d * v) / shape;
    }
  };
  return { random, poisson, gamma };
}

const EMPTY: CountTable = {
  kind: 'positions',
  positions: [],
  periods: [],
  hours: [],
  positionTimes: undefined,
  reasons: [],
  from: undefined,
  to: undefined,
  timeOfDay: false,
  repeats: undefined,
  rows: 0,
  breaks: 0,
  notes: [],
};

/** Counts per position; `mean` gives the expected breaks of position i (from 0) of frame k. */
export function positionTable(
  seed: number,
  frames: number,
  size: number,
  mean: (i: number, k: number, gamma: (shape: number) => number) => number,
  hours: number | 'unknown' = 24,
): CountTable {
  const { poisson, gamma } = simulate(seed);
  const positions = Array.from({ length: frames * size }, (_, at) => {
    const k = Math.floor(at / size);
    const i = at % size;
    return {
      frame: String(k + 1),
      position: String(i + 1),
      count: poisson(mean(i, k, gamma)),
      hours: hours === 'unknown' ? undefined : hours,
    };
  });
  return {
    ...EMPTY,
    positions,
    rows: positions.length,
    breaks: positions.reduce((sum, one) => sum + one.count, 0),
  };
}

const FIRST_HOUR = Date.UTC(2026, 10, 2) / 3_600_000;

/** An event log of one frame; `rate` gives the expected breaks of position i in hour h from the start. */
export function logTable(
  seed: number,
  size: number,
  days: number,
  rate: (h: number, i: number, gamma: (shape: number) => number) => number,
): CountTable {
  const { poisson, gamma } = simulate(seed);
  const counts = new Array<number>(size).fill(0);
  const hours = new Map<number, number>();
  const cells: { frame: string; position: string; hour: number; count: number }[] = [];
  for (let h = 0; h < 24 * days; h++)
    for (let i = 0; i < size; i++) {
      const count = poisson(rate(h, i, gamma));
      if (count === 0) continue;
      const hour = FIRST_HOUR + h;
      counts[i] = (counts[i] ?? 0) + count;
      hours.set(hour, (hours.get(hour) ?? 0) + count);
      cells.push({ frame: '3', position: String(i + 1), hour, count });
    }
  const breaks = counts.reduce((sum, one) => sum + one, 0);
  return {
    ...EMPTY,
    kind: 'events',
    positions: counts
      .map((count, i) => ({ frame: '3', position: String(i + 1), count, hours: undefined }))
      .filter((one) => one.count > 0),
    hours: [...hours].map(([hour, count]) => ({ frame: '3', hour, count })),
    positionTimes: { blockHours: 1, cells },
    from: FIRST_HOUR * 3_600_000,
    to: (FIRST_HOUR + 24 * days) * 3_600_000,
    timeOfDay: true,
    rows: breaks,
    breaks,
  };
}

/** Totals of three shifts a day; `mean` gives the expected breaks of shift s (0–2) on day d. */
export function shiftTable(seed: number, days: number, mean: (d: number, s: number) => number): CountTable {
  const { poisson } = simulate(seed);
  const periods = Array.from({ length: 3 * days }, (_, at) => {
    const d = Math.floor(at / 3);
    return {
      frame: '',
      shift: 'ABC'[at % 3] ?? '',
      start: (FIRST_HOUR + 24 * d) * 3_600_000,
      count: poisson(mean(d, at % 3)),
      rotorHours: 1920,
      runHours: undefined,
    };
  });
  return {
    ...EMPTY,
    kind: 'totals',
    periods,
    from: periods[0]?.start,
    to: periods.at(-1)?.start,
    rows: periods.length,
    breaks: periods.reduce((sum, one) => sum + one.count, 0),
  };
}
