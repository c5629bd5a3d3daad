import { say } from '../../language/say.js';
import { compareNatural } from './natural-order.js';
import type { RowFacts } from './row-reader.js';
import type { CountTable, HourCount, PeriodTotal, PositionTime, PositionTotal, TableKind } from './types.js';

const HOUR = 3_600_000;
/** Events at one position this close together are probably one trouble: a piecing that failed again. Judgement. */
const REPEAT_WITHIN = 30 * 60_000;

/** Limits that keep the memory bounded whatever the table holds. */
export const TABLE_LIMITS = {
  positions: 100_000,
  periods: 200_000,
  hours: 200_000,
  /** Cells of positions in time; beyond it the blocks become coarser, and in the end are given up. */
  positionTimes: 200_000,
  reasons: 1000,
} as const;

const BLOCKS = [1, 8, 24] as const;
/** More than the hours until the year 2100, so that position and block make one number. */
const SPAN = 2 ** 21;

interface Place {
  readonly frame: string;
  readonly position: string;
  count: number;
  hours: number;
  lastSeen: number;
}

/** Adds rows up as they come; memory grows with the positions and hours in the table, not with its rows. */
export interface Accumulator {
  /** Adds a row. @returns why the table cannot be what it is taken for, or undefined */
  add(facts: RowFacts): string | undefined;
  finish(notes: readonly string[]): CountTable;
}

/** Starts adding up a table of the given kind. */
export function createAccumulator(
  kind: TableKind,
  has: { readonly position: boolean; readonly rotorHours: boolean; readonly runHours: boolean },
): Accumulator {
  const places = new Map<string, Place>();
  const placeList: Place[] = [];
  const periods = new Map<string, PeriodTotal & { count: number; rotorHours: number; runHours: number }>();
  const frames = new Map<string, number>();
  const frameList: string[] = [];
  const hours = new Map<number, number>();
  const reasons = new Map<string, number>();
  let cells: Map<number, number> | undefined = new Map();
  let block = 0;
  let rows = 0;
  let breaks = 0;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let timeOfDay = false;
  let repeats = 0;
  let rising = true;
  let falling = true;

  const placeOf = (facts: RowFacts): { place: Place; index: number } | undefined => {
    const key = `${facts.frame}\u0000${facts.position}`;
    let place = places.get(key);
    if (place === undefined) {
      if (places.size >= TABLE_LIMITS.positions) return undefined;
      place = {
        frame: facts.frame,
        position: facts.position,
        count: 0,
        hours: 0,
        lastSeen: Number.NaN,
      };
      places.set(key, place);
      indexOf.set(place, placeList.length);
      placeList.push(place);
    }
    return { place, index: indexOf.get(place) ?? 0 };
  };
  const indexOf = new Map<Place, number>();

  const addCell = (index: number, wall: number, count: number) => {
    if (cells === undefined) return;
    const size = BLOCKS[block] ?? 24;
    const start = Math.floor(wall / HOUR / size);
    const key = index * SPAN + start;
    cells.set(key, (cells.get(key) ?? 0) + count);
    if (cells.size <= TABLE_LIMITS.positionTimes) return;
    block++;
    const coarser = BLOCKS[block];
    if (coarser === undefined) {
      cells = undefined;
      return;
    }
    const merged = new Map<number, number>();
    for (const [old, value] of cells) {
      const place = Math.floor(old / SPAN);
      const hour = (old % SPAN) * size;
      const next = place * SPAN + Math.floor(hour / coarser);
      merged.set(next, (merged.get(next) ?? 0) + value);
    }
    cells = merged;
  };

  return {
    add: (facts) => {
      rows++;
      breaks += facts.count;
      const timed = !Number.isNaN(facts.wall);
      if (timed) {
        if (facts.wall < from) from = facts.wall;
        if (facts.wall > to) to = facts.wall;
        timeOfDay ||= facts.hasClock;
      }
      if (has.position) {
        const found = placeOf(facts);
        if (found === undefined)
          return say('table-reading.many-positions', { n: String(TABLE_LIMITS.positions) });
        const { place, index } = found;
        place.count += facts.count;
        place.hours += has.rotorHours ? facts.rotorHours : has.runHours ? facts.runHours : 0;
        if (timed && facts.count > 0) {
          addCell(index, facts.wall, facts.count);
          if (kind === 'events') {
            const since = facts.wall - place.lastSeen;
            if (since < 0) rising = false;
            if (since > 0) falling = false;
            if (Math.abs(since) <= REPEAT_WITHIN) repeats++;
            place.lastSeen = facts.wall;
          }
        }
      }
      if (kind === 'events') {
        if (timed) {
          let frame = frames.get(facts.frame);
          if (frame === undefined) {
            frame = frames.size;
            frames.set(facts.frame, frame);
            frameList.push(facts.frame);
          }
          const key = frame * SPAN + Math.floor(facts.wall / HOUR);
          hours.set(key, (hours.get(key) ?? 0) + 1);
          if (hours.size > TABLE_LIMITS.hours)
            return say('table-reading.many-hours', { n: String(TABLE_LIMITS.hours) });
        }
      } else if (timed || facts.shift !== '') {
        const key = `${facts.frame}\u0000${facts.wall}\u0000${facts.shift}`;
        const period = periods.get(key);
        if (period === undefined) {
          if (periods.size >= TABLE_LIMITS.periods)
            return say('table-reading.many-periods', { n: String(TABLE_LIMITS.periods) });
          periods.set(key, {
            frame: facts.frame,
            shift: facts.shift,
            start: timed ? facts.wall : undefined,
            count: facts.count,
            rotorHours: facts.rotorHours,
            runHours: facts.runHours,
          });
        } else {
          period.count += facts.count;
          period.rotorHours += facts.rotorHours;
          period.runHours += facts.runHours;
        }
      } else if (!has.position) {
        // A total of a frame without a date: one period each.
        const key = `${facts.frame}\u0000`;
        const period = periods.get(key);
        if (period === undefined) {
          if (periods.size >= TABLE_LIMITS.periods)
            return say('table-reading.many-frames', { n: String(TABLE_LIMITS.periods) });
          periods.set(key, {
            frame: facts.frame,
            shift: '',
            start: undefined,
            count: facts.count,
            rotorHours: facts.rotorHours,
            runHours: facts.runHours,
          });
        } else {
          period.count += facts.count;
          period.rotorHours += facts.rotorHours;
          period.runHours += facts.runHours;
        }
      }
      if (facts.reason !== '') {
        const known = reasons.has(facts.reason) || reasons.size < TABLE_LIMITS.reasons;
        const key = known ? facts.reason : 'other';
        reasons.set(key, (reasons.get(key) ?? 0) + facts.count);
      }
      return undefined;
    },
    finish: (notes) => {
      const hasHours = has.rotorHours || has.runHours;
      const positions = placeList
        .map(
          (place): PositionTotal => ({
            frame: place.frame,
            position: place.position,
            count: place.count,
            hours: hasHours ? place.hours : undefined,
          }),
        )
        .sort((a, b) => compareNatural(a.frame, b.frame) || compareNatural(a.position, b.position));
      const size = BLOCKS[block] ?? 24;
      const positionTimes: PositionTime[] = [];
      for (const [key, count] of cells ?? []) {
        const place = placeList[Math.floor(key / SPAN)];
        if (place !== undefined)
          positionTimes.push({
            frame: place.frame,
            position: place.position,
            hour: (key % SPAN) * size,
            count,
          });
      }
      const hourCounts: HourCount[] = [...hours].map(([key, count]) => ({
        frame: frameList[Math.floor(key / SPAN)] ?? '',
        hour: key % SPAN,
        count,
      }));
      const timed = from <= to;
      const ordered = rising || falling;
      return {
        kind,
        positions,
        periods: [...periods.values()]
          .map((period) => ({
            ...period,
            rotorHours: Number.isNaN(period.rotorHours) ? undefined : period.rotorHours,
            runHours: Number.isNaN(period.runHours) ? undefined : period.runHours,
          }))
          .sort(
            (a, b) =>
              (a.start ?? 0) - (b.start ?? 0) ||
              compareNatural(a.shift, b.shift) ||
              compareNatural(a.frame, b.frame),
          ),
        hours: hourCounts.sort((a, b) => a.hour - b.hour || compareNatural(a.frame, b.frame)),
        positionTimes:
          cells === undefined || !timed || !has.position
            ? undefined
            : { blockHours: timeOfDay ? size : 24, cells: positionTimes },
        reasons: [...reasons]
          .map(([reason, count]) => ({ reason, count }))
          .sort((a, b) => b.count - a.count || compareNatural(a.reason, b.reason)),
        from: timed ? from : undefined,
        to: timed ? to : undefined,
        timeOfDay,
        repeats: kind === 'events' && has.position && timed && timeOfDay && ordered ? repeats : undefined,
        rows,
        breaks,
        notes,
      };
    },
  };
}
