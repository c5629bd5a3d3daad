import { requireFraction, requireMembers, requireWhole } from './checks.js';
import { StatisticsError } from './errors.js';
import { pool, requireExposure } from './exposure.js';
import type { NamedCount } from './many-rates.js';
import { accumulate, createRandom, DEFAULT_SEED, scatterEvents } from './random.js';

/** How the positions lie: in a line, in a ring, or in sections that a run of neighbours may not cross. */
export type PositionLayout = 'line' | 'ring' | 'sections';

/** How a scan is done. */
export interface ScanOptions {
  readonly layout?: PositionLayout;
  /** Positions per section, for the layout `sections`; the last section may be shorter. */
  readonly sectionSize?: number;
  /** Longest run of neighbours looked at; default half the positions, at most 24 (or the section size). */
  readonly maxWindow?: number;
  /** Monte-Carlo repetitions, default 999. */
  readonly replications?: number;
  readonly seed?: number;
  /** Chance of a false alarm over the whole scan, default 0.05. */
  readonly alpha?: number;
}

/** A run of neighbouring positions. */
export interface NeighbourRun {
  /** Index of its first position in the list given. */
  readonly start: number;
  readonly length: number;
  readonly ids: readonly string[];
  readonly count: number;
  readonly expected: number;
  /** Its rate over the rate of all positions outside it. */
  readonly ratioToRest: number;
  readonly logLikelihoodRatio: number;
  /** Monte-Carlo p of a run this strong anywhere, in any length looked at. */
  readonly p: number;
}

/** Result of a neighbour scan. */
export interface NeighbourScan {
  /** The strongest run; undefined when no run has more than expected. */
  readonly best: NeighbourRun | undefined;
  /** All runs below alpha that do not overlap a stronger one. */
  readonly clusters: readonly NeighbourRun[];
  /** Windows looked at; one test covers them all. */
  readonly windows: number;
}

/**
 * Kulldorff's log likelihood ratio of a window with `count` events where `expected` of the `total` would lie if all had one
 * rate; 0 when the count is not above the expectation. Published: Kulldorff 1997.
 */
export function scanLogLikelihoodRatio(count: number, expected: number, total: number): number {
  if (count <= expected) return 0;
  const outside = total - count;
  return (
    count * Math.log(count / expected) + (outside > 0 ? outside * Math.log(outside / (total - expected)) : 0)
  );
}

/**
 * Looks for a run of neighbouring positions that breaks too much (a fault of shared parts: drive, duct, section), over all
 * windows of 2 to maxWindow positions. The p-value is by Monte Carlo given the total number of events, with a fixed seed, and
 * covers all windows at once. Supposes independent events. 4 or more positions.
 */
export function scanNeighbours(positions: readonly NamedCount[], options: ScanOptions = {}): NeighbourScan {
  requireMembers('positions', positions, 4);
  positions.forEach((position, index) => {
    requireExposure(`positions[${index}]`, position);
  });
  const replications = requireWhole('replications', options.replications ?? 999, 19, 99_999);
  const alpha = requireFraction('alpha', options.alpha ?? 0.05);
  const windows = listWindows(positions, options);
  const all = pool(positions);
  const counts = Int32Array.from(positions, (position) => position.count);
  const score = createScorer(windows, positions.length, all.count);
  const observed = score.each(counts);

  const random = createRandom(options.seed ?? DEFAULT_SEED);
  const cumulative = accumulate(positions.map((position) => position.rotorHours));
  const drawn = new Int32Array(positions.length);
  const largest: number[] = [];
  for (let i = 0; i < replications; i++) {
    largest.push(score.largest(scatterEvents(all.count, cumulative, random, drawn)));
  }
  largest.sort((a, b) => a - b);
  const pOf = (value: number) =>
    (1 + largest.filter((other) => other >= value - 1e-9).length) / (replications + 1);

  const order = windows
    .map((window, index) => ({ window, value: observed[index] ?? 0 }))
    .filter((entry) => entry.value > 0)
    .sort(
      (a, b) => b.value - a.value || a.window.length - b.window.length || a.window.start - b.window.start,
    );
  const describe = (window: Window, value: number): NeighbourRun => {
    const members = membersOf(window, positions);
    const { count, rotorHours } = pool(members);
    return {
      start: window.start,
      length: window.length,
      ids: members.map((member) => member.id),
      count,
      expected: window.share * all.count,
      ratioToRest: count / rotorHours / ((all.count - count) / (all.rotorHours - rotorHours)),
      logLikelihoodRatio: value,
      p: pOf(value),
    };
  };
  const clusters: NeighbourRun[] = [];
  const taken = new Set<string>();
  for (const { window, value } of order) {
    if (pOf(value) > alpha) break;
    const run = describe(window, value);
    if (run.ids.some((id) => taken.has(id))) continue;
    for (const id of run.ids) taken.add(id);
    clusters.push(run);
  }
  const first = order[0];
  return { best: first && describe(first.window, first.value), clusters, windows: windows.length };
}

interface Window {
  readonly start: number;
  readonly length: number;
  /** Its share of all rotor-hours. */
  readonly share: number;
}

function membersOf(window: Window, positions: readonly NamedCount[]): NamedCount[] {
  const members: NamedCount[] = [];
  for (let i = 0; i < window.length; i++) {
    const member = positions[(window.start + i) % positions.length];
    if (member) members.push(member);
  }
  return members;
}

function listWindows(positions: readonly NamedCount[], options: ScanOptions): Window[] {
  const layout = options.layout ?? 'line';
  const n = positions.length;
  if (layout === 'sections' && options.sectionSize === undefined) {
    throw new StatisticsError(
      'sectionSize',
      undefined,
      'the number of positions per section, for the layout "sections"',
    );
  }
  const sectionSize = requireWhole('sectionSize', options.sectionSize ?? n, 2);
  const usual = layout === 'sections' ? Math.min(sectionSize, n - 1) : Math.min(24, Math.floor(n / 2));
  const maxWindow = requireWhole('maxWindow', options.maxWindow ?? usual, 2, n - 1);
  const hours = positions.map((position) => position.rotorHours);
  const sums = [0, ...accumulate([...hours, ...hours])];
  const total = sums[n] ?? 0;
  const windows: Window[] = [];
  for (let start = 0; start < n; start++) {
    const room =
      layout === 'ring' ? n - 1 : layout === 'sections' ? sectionSize - (start % sectionSize) : n - start;
    for (let length = 2; length <= Math.min(maxWindow, room); length++) {
      if (layout !== 'ring' && start + length > n) break;
      windows.push({ start, length, share: ((sums[start + length] ?? 0) - (sums[start] ?? 0)) / total });
    }
  }
  return windows;
}

/** Scores all windows fast: running sums for counts, tables for the logarithms. */
function createScorer(windows: readonly Window[], positions: number, total: number) {
  const starts = Int32Array.from(windows, (window) => window.start);
  const ends = Int32Array.from(windows, (window) => window.start + window.length);
  const expected = Float64Array.from(windows, (window) => window.share * total);
  const logInside = expected.map((value) => Math.log(value));
  const logOutside = expected.map((value) => Math.log(total - value));
  const timesLog = Float64Array.from({ length: total + 1 }, (_, i) => (i === 0 ? 0 : i * Math.log(i)));
  const sums = new Int32Array(2 * positions + 1);
  const scores = new Float64Array(windows.length);
  const each = (counts: Int32Array): Float64Array => {
    for (let i = 0; i < 2 * positions; i++) sums[i + 1] = (sums[i] ?? 0) + (counts[i % positions] ?? 0);
    for (let w = 0; w < scores.length; w++) {
      const count = (sums[ends[w] ?? 0] ?? 0) - (sums[starts[w] ?? 0] ?? 0);
      const outside = total - count;
      scores[w] =
        count <= (expected[w] ?? 0)
          ? 0
          : (timesLog[count] ?? 0) -
            count * (logInside[w] ?? 0) +
            (timesLog[outside] ?? 0) -
            outside * (logOutside[w] ?? 0);
    }
    return scores.slice();
  };
  const largest = (counts: Int32Array): number => {
    let top = 0;
    for (const value of each(counts)) if (value > top) top = value;
    return top;
  };
  return { each, largest };
}
