import type { NamedCount } from '../many-rates.js';
import { scanLogLikelihoodRatio } from '../neighbour-scan.js';
import { createRandom, DEFAULT_SEED } from '../random.js';
import type { BadSection } from './types.js';

/** How the scan is done. */
export interface PermutedScanOptions {
  /** Chance of a false alarm over the whole scan. */
  readonly alpha: number;
  readonly replications: number;
  readonly seed?: number;
  /** Indexes of single bad positions, taken as ordinary ones: they would hide a run elsewhere. */
  readonly single?: ReadonlySet<number>;
}

/** A run must still be high, at this p, with its worst position left out, or it is no run but one position. Judgement. */
const SECTION_PROOF = 0.01;
const LONGEST = 24;

/**
 * Runs of neighbours that break together: the counts are dealt out anew over the positions, with their hours, and the strongest
 * run of 2 to 24 looked for each time, so that what is tested is the neighbourhood alone, however much the positions differ.
 * Permutation test of Kulldorff's 1997 scan statistic; its cost does not depend on the number of breaks. 4 or more positions.
 */
export function scanByPermutation(
  positions: readonly NamedCount[],
  options: PermutedScanOptions,
): BadSection[] {
  const random = createRandom(options.seed ?? DEFAULT_SEED);
  const n = positions.length;
  const hours = Float64Array.from(positions, (position) => position.rotorHours);
  const counts = Float64Array.from(positions, (position) => position.count);
  if (options.single !== undefined && options.single.size > 0) {
    const rates = positions.map((one) => one.count / one.rotorHours).sort((a, b) => a - b);
    const middle = rates[Math.floor(n / 2)] ?? 0;
    for (const index of options.single) counts[index] = Math.round(middle * (hours[index] ?? 0));
  }
  const total = counts.reduce((sum, one) => sum + one, 0);
  if (total === 0) return [];
  const scan = createScan(hours, total);

  const runs = scan
    .all(counts, hours)
    .sort((a, b) => b.value - a.value || a.length - b.length || a.start - b.start);
  if (runs.length === 0) return [];
  const shuffledCounts = counts.slice();
  const shuffledHours = hours.slice();
  const largest = new Float64Array(options.replications);
  for (let r = 0; r < options.replications; r++) {
    for (let i = n - 1; i > 0; i--) {
      const j = Math.floor(random() * (i + 1));
      swap(shuffledCounts, i, j);
      swap(shuffledHours, i, j);
    }
    largest[r] = scan.largest(shuffledCounts, shuffledHours);
  }
  const pOf = (value: number) =>
    (1 + largest.reduce((sum, other) => sum + (other >= value - 1e-9 ? 1 : 0), 0)) /
    (options.replications + 1);

  const sections: BadSection[] = [];
  const taken = new Set<number>();
  for (const run of runs) {
    const members = Array.from({ length: run.length }, (_, i) => run.start + i);
    if (members.some((index) => taken.has(index))) continue;
    const p = pOf(run.value);
    if (p > options.alpha) break;
    for (const index of members) taken.add(index);
    if (!isMoreThanOne(members, counts, hours, random)) continue;
    sections.push(describeSection(members, positions, p));
  }
  return sections;
}

/** Puts a run of positions (by their indexes) into figures. */
export function describeSection(
  members: readonly number[],
  positions: readonly NamedCount[],
  p: number,
): BadSection {
  const inside = members.map((index) => positions[index] as NamedCount);
  const sum = (list: readonly NamedCount[], key: 'count' | 'rotorHours') =>
    list.reduce((all, one) => all + one[key], 0);
  const count = sum(inside, 'count');
  const span = sum(inside, 'rotorHours');
  const total = sum(positions, 'count');
  const hours = sum(positions, 'rotorHours');
  const ids = inside.map((one) => one.id);
  return {
    first: ids[0] ?? '',
    last: ids.at(-1) ?? '',
    ids,
    count,
    expected: (total * span) / hours,
    ratioToRest: count / span / ((total - count) / (hours - span)),
    p,
  };
}

interface Run {
  readonly start: number;
  readonly length: number;
  readonly value: number;
}

/** Scores runs of neighbours. With equal hours only the highest count of each length needs a logarithm. */
function createScan(hours: Float64Array, total: number) {
  const n = hours.length;
  const longest = Math.min(LONGEST, Math.floor(n / 2));
  const allHours = hours.reduce((sum, one) => sum + one, 0);
  const each = hours[0] ?? 1;
  const alike = hours.every((one) => Math.abs(one - each) < 1e-9 * each);
  const top = new Float64Array(longest + 1);
  const score = (count: number, span: number) =>
    scanLogLikelihoodRatio(count, (total * span) / allHours, total);
  return {
    all(counts: Float64Array, spans: Float64Array): Run[] {
      const runs: Run[] = [];
      for (let start = 0; start < n; start++) {
        let count = counts[start] ?? 0;
        let span = spans[start] ?? 0;
        for (let i = start + 1; i < Math.min(n, start + longest); i++) {
          count += counts[i] ?? 0;
          span += spans[i] ?? 0;
          const value = score(count, span);
          if (value > 0) runs.push({ start, length: i - start + 1, value });
        }
      }
      return runs;
    },
    largest(counts: Float64Array, spans: Float64Array): number {
      let largest = 0;
      if (alike) top.fill(0);
      for (let start = 0; start < n; start++) {
        let count = counts[start] as number;
        let span = spans[start] as number;
        const end = Math.min(n, start + longest);
        for (let i = start + 1; i < end; i++) {
          count += counts[i] as number;
          if (alike) {
            if (count > (top[i - start + 1] as number)) top[i - start + 1] = count;
          } else {
            span += spans[i] as number;
            if (count * allHours > total * span) largest = Math.max(largest, score(count, span));
          }
        }
      }
      if (alike)
        for (let length = 2; length <= longest; length++)
          largest = Math.max(largest, score(top[length] ?? 0, length * each));
      return largest;
    },
  };
}

function swap(list: Float64Array, i: number, j: number): void {
  const held = list[i] as number;
  list[i] = list[j] as number;
  list[j] = held;
}

/** Whether the members without their worst are higher than as many positions picked at random. */
function isMoreThanOne(
  members: readonly number[],
  counts: Float64Array,
  hours: Float64Array,
  random: () => number,
): boolean {
  const rate = (index: number) => (counts[index] ?? 0) / (hours[index] ?? 1);
  const others = [...members].sort((a, b) => rate(b) - rate(a)).slice(1);
  const mean = (list: readonly number[]) => list.reduce((sum, index) => sum + rate(index), 0) / list.length;
  const observed = mean(others);
  const worst = members.find((index) => !others.includes(index));
  const pool = Array.from(counts, (_, index) => index).filter((index) => index !== worst);
  const draws = 999;
  let asHigh = 0;
  for (let r = 0; r < draws; r++) {
    let sum = 0;
    for (let i = 0; i < others.length; i++) {
      const j = i + Math.floor(random() * (pool.length - i));
      const held = pool[i] as number;
      pool[i] = pool[j] as number;
      pool[j] = held;
      sum += rate(pool[i] as number);
    }
    if (sum / others.length >= observed - 1e-12) asHigh++;
  }
  return (1 + asHigh) / (draws + 1) <= SECTION_PROOF;
}
