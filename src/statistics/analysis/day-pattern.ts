import { say } from '../../language/say.js';
import { chiSquareAtLeast } from '../distributions.js';
import type { NamedCount } from '../many-rates.js';
import { scanNeighbours } from '../neighbour-scan.js';
import { compareNatural } from '../tables/natural-order.js';
import type { CountTable } from '../tables/types.js';
import { profileTime } from '../time-profile.js';
import { sayHour } from './clock-labels.js';
import { type Prepared, periodHours } from './prepare.js';
import type { AnalysisOptions, DayPattern } from './types.js';

/** Days below which an hour of the day cannot be told from a particular day. Judgement. */
const LEAST_DAYS = 3;
const LEAST_BREAKS = 24;

/** A count of one slot on one day. */
interface Cell {
  readonly day: number;
  readonly slot: string;
  count: number;
  rotorHours: number;
}

/**
 * Breaks by hour of the day (logs over 3 days and more) or by shift (totals with shifts over 3 days and more). The chi-square is
 * divided by the scatter that is left between days within the slots, so that one bad night does not make a pattern.
 */
export function findDayPattern(
  table: CountTable,
  prepared: Prepared,
  options: AnalysisOptions,
): DayPattern | undefined {
  const cells = table.kind === 'events' ? hourCells(table, prepared) : shiftCells(table, options);
  if (cells === undefined) return undefined;
  const days = new Set(cells.map((cell) => cell.day));
  const by = table.kind === 'events' ? 'hour' : 'shift';
  const slots = sumBySlot(cells, by);
  const total = slots.reduce((sum, slot) => sum + slot.count, 0);
  if (days.size < LEAST_DAYS || slots.length < 2 || total < LEAST_BREAKS) return undefined;
  const profile = profileTime(slots, options.seed === undefined ? {} : { seed: options.seed });
  const phi = interactionScatter(cells);
  const p =
    phi > 1 ? Math.max(profile.p, chiSquareAtLeast(profile.chiSquare / phi, profile.degrees)) : profile.p;
  const worst = by === 'hour' ? worstHours(slots) : worstShift(profile.slots);
  return { by, slots: profile.slots, phi, p, ...worst };
}

function hourCells(table: CountTable, prepared: Prepared): Cell[] | undefined {
  const { firstHour, hourCount } = prepared;
  if (hourCount < 24 * LEAST_DAYS) return undefined;
  const cells = new Map<number, Cell>();
  const exposure = new Float64Array(hourCount);
  for (const { running, positions } of prepared.frames) {
    if (running === undefined) continue;
    for (let i = 0; i < hourCount; i++)
      exposure[i] = (exposure[i] ?? 0) + (running[i] ?? 0) * Math.max(1, positions.length);
  }
  for (let i = 0; i < hourCount; i++) {
    const hour = firstHour + i;
    if ((exposure[i] ?? 0) > 0)
      cells.set(hour, {
        day: Math.floor(hour / 24),
        slot: sayHour(hour % 24),
        count: 0,
        rotorHours: exposure[i] ?? 0,
      });
  }
  for (const { hour, count } of table.hours) {
    const cell = cells.get(hour);
    if (cell !== undefined) cell.count += count;
  }
  return [...cells.values()];
}

function shiftCells(table: CountTable, options: AnalysisOptions): Cell[] | undefined {
  if (table.periods.some((period) => period.shift === '' || period.start === undefined)) return undefined;
  const cells = new Map<string, Cell>();
  for (const period of table.periods) {
    const day = Math.floor((period.start ?? 0) / 86_400_000);
    const hours = periodHours(period, options) ?? period.runHours ?? 1;
    if (hours <= 0) continue;
    const key = `${day}\u0000${period.shift}`;
    const cell = cells.get(key) ?? { day, slot: period.shift, count: 0, rotorHours: 0 };
    cell.count += period.count;
    cell.rotorHours += hours;
    cells.set(key, cell);
  }
  return [...cells.values()];
}

function sumBySlot(cells: readonly Cell[], by: 'hour' | 'shift'): NamedCount[] {
  const sums = new Map<string, { id: string; count: number; rotorHours: number }>();
  for (const cell of cells) {
    const sum = sums.get(cell.slot) ?? { id: cell.slot, count: 0, rotorHours: 0 };
    sum.count += cell.count;
    sum.rotorHours += cell.rotorHours;
    sums.set(cell.slot, sum);
  }
  const slots = [...sums.values()].sort((a, b) => compareNatural(a.id, b.id));
  return by === 'hour' ? slots : slots.slice(0, 24);
}

/** Variance over mean of the day-and-slot counts about (day × slot) expectations; 1 when not shown to exceed 1. */
function interactionScatter(cells: readonly Cell[]): number {
  const total = cells.reduce((sum, cell) => sum + cell.count, 0);
  const hours = cells.reduce((sum, cell) => sum + cell.rotorHours, 0);
  const rates = (key: (cell: Cell) => string | number) => {
    const sums = new Map<string | number, { count: number; hours: number }>();
    for (const cell of cells) {
      const sum = sums.get(key(cell)) ?? { count: 0, hours: 0 };
      sum.count += cell.count;
      sum.hours += cell.rotorHours;
      sums.set(key(cell), sum);
    }
    return sums;
  };
  const days = rates((cell) => cell.day);
  const slots = rates((cell) => cell.slot);
  const level = total / hours;
  let chiSquare = 0;
  let used = 0;
  for (const cell of cells) {
    const day = days.get(cell.day);
    const slot = slots.get(cell.slot);
    if (day === undefined || slot === undefined || day.count === 0 || slot.count === 0) continue;
    const expected = ((day.count / day.hours) * (slot.count / slot.hours) * cell.rotorHours) / level;
    chiSquare += (cell.count - expected) ** 2 / expected;
    used++;
  }
  const degrees = used - days.size - slots.size + 1;
  if (degrees < 3) return 1;
  const phi = chiSquare / degrees;
  return phi > 1.3 && chiSquareAtLeast(chiSquare, degrees) < 0.05 ? phi : 1;
}

function worstHours(slots: readonly NamedCount[]) {
  const { best } =
    slots.length >= 4
      ? scanNeighbours(slots, { layout: 'ring', maxWindow: Math.min(12, slots.length - 1), replications: 19 })
      : { best: undefined };
  const first = Number.parseInt(best?.ids[0] ?? '', 10);
  const last = Number.parseInt(best?.ids.at(-1) ?? '', 10);
  return best === undefined
    ? { worst: '', worstRatio: 1 }
    : {
        worst: say('count-words.between-hours', { from: sayHour(first), to: sayHour(last + 1) }),
        worstRatio: best.ratioToRest,
      };
}

function worstShift(slots: DayPattern['slots']) {
  const [worst] = [...slots].sort((a, b) => b.rate.per1000 - a.rate.per1000);
  return {
    worst: say('count-words.in-shift', { shift: worst?.id ?? '' }),
    worstRatio: worst?.ratioToRest ?? 1,
  };
}
