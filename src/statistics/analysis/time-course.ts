import { findChangePoint } from '../change-point.js';
import { binomialAtLeast, chiSquareAtLeast, normalQuantile } from '../distributions.js';
import { pool } from '../exposure.js';
import { scanLogLikelihoodRatio, scanNeighbours } from '../neighbour-scan.js';
import { judgeOnset } from '../onset.js';
import type { CountTable } from '../tables/types.js';
import { testPeriodTrend } from '../trend.js';
import { sayDay, sayMoment } from './clock-labels.js';
import { type Prepared, periodHours } from './prepare.js';
import type { AnalysisOptions, Period, TimeCourse } from './types.js';

/** Fewer periods or breaks than these say nothing of a course. Judgement. */
const LEAST_PERIODS = 6;
const LEAST_BREAKS = 10;
/** Lengths of a period in hours, longest first, and how many of them are wanted at least. */
const LENGTHS = [168, 24, 8, 4, 2, 1];
const WANTED_PERIODS = 14;
/** Breaks in all above which the repetitions of the tests are cut. */
const DRAWS = 1e6;
/** Breaks kept for the tests; more are scaled down, as they would cost time and tell nothing that is worth knowing. */
const ENOUGH_BREAKS = 5000;
const ALPHA = 0.05;
/** Largest p of step, drift or spell at which its onset is stated: the 5 % shared by the three. */
const EACH = ALPHA / 3;

/** A position to be followed. */
export interface Focus {
  readonly frame: string;
  readonly id: string;
}

/**
 * The course of the breaks in time, of the focus positions or, without a focus, of all. Steps, drifts and spells are
 * tested; where neighbouring periods scatter more than chance the counts are divided by that scatter first.
 * Undefined when the table has too few periods or breaks.
 */
export function followTime(
  table: CountTable,
  prepared: Prepared,
  options: AnalysisOptions,
  focus: readonly Focus[],
): TimeCourse | undefined {
  const laid = layPeriods(table, prepared, options, focus);
  if (laid === undefined || !isEnough(laid.periods)) return undefined;
  return judgeCourse(laid.periods, laid.unit, focus.length > 0, options);
}

const isEnough = (periods: readonly Period[]) =>
  periods.length >= LEAST_PERIODS && periods.reduce((sum, one) => sum + one.count, 0) >= LEAST_BREAKS;

function judgeCourse(
  periods: readonly Period[],
  unit: string,
  onlyFlagged: boolean,
  options: AnalysisOptions,
): TimeCourse {
  const phi = localScatter(periods);
  const total = periods.reduce((sum, one) => sum + one.count, 0);
  const shrink = Math.max(phi, 1, total / ENOUGH_BREAKS);
  const scaled = periods.map((one) => ({
    id: one.label,
    count: Math.round(one.count / shrink),
    rotorHours: one.rotorHours,
  }));
  const left = scaled.reduce((sum, one) => sum + one.count, 0);
  const none: TimeCourse = {
    periods,
    unit,
    onlyFlagged,
    onset: undefined,
    improving: false,
    step: undefined,
    trend: undefined,
    spell: undefined,
    phi,
    p: 1,
  };
  if (left < 3) return none;
  const replications = Math.max(199, Math.min(999, Math.floor(DRAWS / Math.max(1, total / shrink))));
  const seeded = options.seed === undefined ? {} : { seed: options.seed };
  const step = findChangePoint(scaled, { replications, ...seeded });
  const trend = testPeriodTrend(scaled);
  const stepUp = step.ratePer1000After > step.ratePer1000Before;
  const onset = judgeOnset(scaled, { replications, alpha: EACH, ...seeded });
  const spell = findSpell(scaled, replications, options.seed);

  const stepP = step.p;
  const driftP = Math.min(trend.pWorsening, trend.pImproving) * 2;
  const p = Math.min(1, 3 * Math.min(stepP, driftP, spell?.p ?? 1));
  const improving =
    (stepP <= EACH && !stepUp) || (trend.pImproving * 2 <= EACH && !(stepP <= EACH && stepUp));
  const isSpell =
    spell !== undefined && spell.p <= EACH && spell.value > (stepUp ? step.logLikelihoodRatio : 0) + 2;
  const rates = {
    ratePer1000Before: step.ratePer1000Before * shrink,
    ratePer1000After: step.ratePer1000After * shrink,
  };
  const base = { ...none, step: { ...step, ...rates }, trend, spell, p };
  if (isSpell) return { ...base, onset: 'once' };
  if (onset.onset === 'sudden' || onset.onset === 'creeping') return { ...base, onset: onset.onset };
  return { ...base, improving };
}

/** A period or a run of them with many breaks and fewer both before and after it, if there is one. */
function findSpell(
  periods: readonly { readonly id: string; readonly count: number; readonly rotorHours: number }[],
  replications: number,
  seed: number | undefined,
): (NonNullable<TimeCourse['spell']> & { readonly value: number }) | undefined {
  const n = periods.length;
  const all = pool(periods);
  const named = periods.map((one, index) => ({ ...one, id: String(index) }));
  const { best } = scanNeighbours(named, {
    maxWindow: Math.max(2, Math.floor(n / 2)),
    replications,
    ...(seed === undefined ? {} : { seed }),
  });
  const candidates =
    best === undefined
      ? []
      : [{ start: best.start, length: best.length, value: best.logLikelihoodRatio, p: best.p }];
  // Single periods, which the scan of runs leaves out; each tried in turn.
  periods.forEach((one, start) => {
    const share = one.rotorHours / all.rotorHours;
    candidates.push({
      start,
      length: 1,
      value: scanLogLikelihoodRatio(one.count, share * all.count, all.count),
      p: Math.min(1, n * binomialAtLeast(one.count, all.count, share)),
    });
  });
  const [top] = candidates.sort((a, b) => b.value - a.value);
  // A run at the end may still be going on, one at the beginning is a fall.
  if (top === undefined || top.value <= 0 || top.start === 0 || top.start + top.length > n - 2)
    return undefined;
  const inside = pool(periods.slice(top.start, top.start + top.length));
  return {
    from: top.start,
    to: top.start + top.length - 1,
    ratio:
      inside.count / inside.rotorHours / ((all.count - inside.count) / (all.rotorHours - inside.rotorHours)),
    p: Math.min(1, 2 * top.p),
    value: top.value,
  };
}

/**
 * Variance over mean from the differences of neighbouring periods, so that a step or a drift does not count: mean of
 * (x₂/h₂ − x₁/h₁)² over its expectation for independent breaks. The two largest of them, and a tenth of the others, are left
 * out (a spell begins and ends with a jump) and made up for by what squared normal deviates would lose. 1 when it is not shown
 * to exceed 1.3 at 5 %, by chi-square on 0.45 degrees of freedom for each difference kept, as neighbouring ones share a count;
 * that factor was set so that simulated sound series are called scattered about once in twenty. Judgement.
 */
export function localScatter(
  periods: readonly { readonly count: number; readonly rotorHours: number }[],
): number {
  const terms: number[] = [];
  for (let i = 1; i < periods.length; i++) {
    const a = periods[i - 1];
    const b = periods[i];
    if (a === undefined || b === undefined || a.count + b.count === 0) continue;
    const rate = (a.count + b.count) / (a.rotorHours + b.rotorHours);
    const variance = rate * (1 / a.rotorHours + 1 / b.rotorHours);
    terms.push((b.count / b.rotorHours - a.count / a.rotorHours) ** 2 / variance);
  }
  const n = terms.length;
  const kept = n - 2 - Math.floor((n - 2) / 10);
  if (kept < 4) return 1;
  terms.sort((a, b) => a - b);
  let sum = 0;
  let usual = 0;
  for (let i = 0; i < kept; i++) {
    sum += terms[i] ?? 0;
    usual += normalQuantile(0.5 + (i + 0.5) / n / 2) ** 2;
  }
  const phi = sum / usual;
  const degrees = kept * 0.45;
  return phi > 1.3 && chiSquareAtLeast(phi * degrees, degrees) < 0.05 ? phi : 1;
}

interface Laid {
  readonly periods: readonly Period[];
  readonly unit: string;
}

function layPeriods(
  table: CountTable,
  prepared: Prepared,
  options: AnalysisOptions,
  focus: readonly Focus[],
): Laid | undefined {
  return table.kind === 'events'
    ? layLog(table, prepared, focus)
    : layTotals(table, prepared, options, focus);
}

function layLog(table: CountTable, prepared: Prepared, focus: readonly Focus[]): Laid | undefined {
  const { firstHour, hourCount } = prepared;
  if (hourCount === 0) return undefined;
  const cells = table.positionTimes;
  if (focus.length > 0 && cells === undefined) return undefined;
  const least = focus.length > 0 ? (cells?.blockHours ?? 1) : 1;
  const usable = LENGTHS.filter((length) => length >= least);
  const length = usable.find((one) => hourCount / one >= WANTED_PERIODS) ?? usable.at(-1) ?? 24;

  // Weeks begin where the log does, shorter periods at midnight.
  const origin = length === 168 ? firstHour - (firstHour % 24) : firstHour - (firstHour % length);
  const size = Math.ceil((firstHour + hourCount - origin) / length);
  const counts = new Float64Array(size);
  const exposures = new Float64Array(size);
  const wanted = new Set(focus.map(({ frame, id }) => `${frame}\u0000${id}`));
  for (const { frame, positions, running } of prepared.frames) {
    if (running === undefined) continue;
    const followed =
      focus.length > 0 ? focus.filter((one) => one.frame === frame).length : Math.max(1, positions.length);
    if (followed === 0) continue;
    for (let hour = 0; hour < hourCount; hour++) {
      const at = Math.floor((firstHour + hour - origin) / length);
      exposures[at] = (exposures[at] ?? 0) + followed * (running[hour] ?? 0);
    }
  }
  if (focus.length > 0) {
    for (const cell of cells?.cells ?? []) {
      if (!wanted.has(`${cell.frame}\u0000${cell.position}`)) continue;
      // A coarse block may begin before the log does.
      const at = Math.max(0, Math.floor((cell.hour - origin) / length));
      counts[at] = (counts[at] ?? 0) + cell.count;
    }
  } else {
    for (const { hour, count } of table.hours) {
      const at = Math.floor((hour - origin) / length);
      counts[at] = (counts[at] ?? 0) + count;
    }
  }
  const periods: Period[] = [];
  for (let i = 0; i < size; i++) {
    const rotorHours = exposures[i] ?? 0;
    if (rotorHours <= 0) continue;
    const start = (origin + i * length) * 3_600_000;
    periods.push({
      label: length >= 24 ? sayDay(start) : sayMoment(start),
      start,
      count: counts[i] ?? 0,
      rotorHours,
    });
  }
  return { periods, unit: unitName(length) };
}

const unitName = (length: number) =>
  length === 168 ? 'week' : length === 24 ? 'day' : length === 1 ? 'hour' : `${length} hours`;

function layTotals(
  table: CountTable,
  prepared: Prepared,
  options: AnalysisOptions,
  focus: readonly Focus[],
): Laid | undefined {
  if (table.periods.length === 0 || table.periods.some((period) => period.start === undefined))
    return undefined;
  const merged = new Map<string, { start: number; shift: string; count: number; rotorHours: number }>();
  for (const period of table.periods) {
    const start = period.start ?? 0;
    const key = `${start}\u0000${period.shift}`;
    const sum = merged.get(key) ?? { start, shift: period.shift, count: 0, rotorHours: 0 };
    sum.count += period.count;
    sum.rotorHours += periodHours(period, options) ?? period.runHours ?? 1;
    merged.set(key, sum);
  }
  let list = [...merged.values()].filter((one) => one.rotorHours > 0);
  if (focus.length > 0) {
    const cells = table.positionTimes;
    if (cells === undefined) return undefined;
    const wanted = new Set(focus.map(({ frame, id }) => `${frame}\u0000${id}`));
    const byDay = new Map<number, number>();
    for (const cell of cells.cells)
      if (wanted.has(`${cell.frame}\u0000${cell.position}`))
        byDay.set(Math.floor(cell.hour / 24), (byDay.get(Math.floor(cell.hour / 24)) ?? 0) + cell.count);
    const days = new Map<number, number>();
    for (const one of list) {
      const day = Math.floor(one.start / 86_400_000);
      days.set(day, (days.get(day) ?? 0) + one.rotorHours);
    }
    const allHours = prepared.totals.reduce((sum, one) => sum + one.rotorHours, 0);
    const focusHours = prepared.frames.reduce(
      (sum, { frame, positions }) =>
        sum +
        positions
          .filter((one) => wanted.has(`${frame}\u0000${one.id}`))
          .reduce((s, one) => s + one.rotorHours, 0),
      0,
    );
    // The hours of the day, in the share that these positions have of all hours.
    list = [...days].map(([day, rotorHours]) => ({
      start: day * 86_400_000,
      shift: '',
      count: byDay.get(day) ?? 0,
      rotorHours: (rotorHours * focusHours) / allHours,
    }));
  }
  list.sort((a, b) => a.start - b.start);
  return {
    periods: list.map(({ start, shift, count, rotorHours }) => ({
      label: `${table.timeOfDay && focus.length === 0 ? sayMoment(start) : sayDay(start)}${shift === '' ? '' : ` ${shift}`}`,
      start,
      count,
      rotorHours,
    })),
    unit: list.some((one) => one.shift !== '') ? 'shift' : 'period',
  };
}
