import { say } from '../../language/say.js';
import { StatisticsError } from '../errors.js';
import type { NamedCount } from '../many-rates.js';
import { compareNatural } from '../tables/natural-order.js';
import type { CountTable, PeriodTotal } from '../tables/types.js';
import { sayAbout, yes } from './plain-words.js';
import type { AnalysisOptions } from './types.js';

/** Positions of one frame with their hours, in order along the frame. */
export interface PreparedFrame {
  readonly frame: string;
  readonly positions: readonly NamedCount[];
  /** Hours of each position in each clock hour of the span (0 where it stood); for logs only. */
  readonly running: Float64Array | undefined;
}

/** The table with hours put to its counts. */
export interface Prepared {
  readonly frames: readonly PreparedFrame[];
  /** Frames as wholes, also where no positions are named. */
  readonly totals: readonly NamedCount[];
  readonly hoursKnown: boolean;
  /** First clock hour of a log, in hours since 1970, and how many there are. */
  readonly firstHour: number;
  readonly hourCount: number;
  readonly assumed: readonly string[];
}

/** A stretch of a log without any break on a frame counts as standing when so many breaks were to be expected in it. Judgement. */
const STANDSTILL = 12;
/** Most clock hours of a log that are laid out one by one: 23 years. */
const MOST_HOURS = 200_000;
const MOST_POSITIONS = 5000;

/** Puts hours to the counts of a table and lists what had to be assumed for it. */
export function prepareTable(table: CountTable, options: AnalysisOptions): Prepared {
  const assumed: string[] = [];
  if (table.kind === 'totals') return prepareTotals(table, options, assumed);
  return table.kind === 'events'
    ? prepareEvents(table, options, assumed)
    : preparePositions(table, options, assumed);
}

const none = { firstHour: 0, hourCount: 0 };

function preparePositions(table: CountTable, options: AnalysisOptions, assumed: string[]): Prepared {
  const given = options.hoursPerPosition;
  const stated = table.positions.some((position) => position.hours !== undefined);
  const hoursKnown = given !== undefined || stated;
  if (!hoursKnown) assumed.push(say('count-assumed.same-unknown'));
  else if (given !== undefined) assumed.push(say('count-assumed.same-stated', { hours: sayAbout(given) }));
  const frames = byFrame(table).map(([frame, positions]) => ({
    frame,
    running: undefined,
    positions: positions
      .map((position) => ({
        id: position.position,
        count: position.count,
        rotorHours: given ?? position.hours ?? 1,
      }))
      .filter((position) => position.rotorHours > 0),
  }));
  return { frames, totals: frames.map(totalOf), hoursKnown, ...none, assumed };
}

function prepareEvents(table: CountTable, options: AnalysisOptions, assumed: string[]): Prepared {
  const timed = table.hours.length > 0 && table.timeOfDay;
  const firstHour = timed ? (table.hours[0]?.hour ?? 0) : 0;
  const hourCount = timed ? (table.hours.at(-1)?.hour ?? 0) - firstHour + 1 : 0;
  if (hourCount > MOST_HOURS)
    throw new StatisticsError(
      'time',
      say('count-assumed.log-years', { n: Math.round(hourCount / 8766) }),
      say('count-assumed.log-allowed'),
    );
  const share = options.runningShare ?? 1;
  const named = byFrame(table);
  const names =
    named.length > 0 ? named.map(([frame]) => frame) : [...new Set(table.hours.map((one) => one.frame))];
  const largest = Math.max(
    0,
    ...table.positions.map((one) => (/^\d{1,4}$/.test(one.position) ? Number(one.position) : 0)),
  );
  const numbered =
    table.positions.length > 0 && table.positions.every((one) => /^\d{1,4}$/.test(one.position));
  const size = options.positionsPerFrame;
  if (table.positions.length > 0 && size === undefined) {
    assumed.push(
      numbered ? say('count-assumed.log-numbered', { last: largest }) : say('count-assumed.log-named'),
    );
  }
  if (timed && options.hoursPerPosition === undefined)
    assumed.push(
      say('count-assumed.log-ran', {
        part: yes(share < 1),
        share: sayAbout(100 * share),
        hours: String(hourCount),
      }),
    );
  const hoursKnown = options.hoursPerPosition !== undefined || timed;
  if (!hoursKnown) assumed.push(say('count-assumed.same-unknown'));

  const hourly = new Map(names.map((name) => [name, new Float64Array(hourCount)]));
  for (const { frame, hour, count } of table.hours) {
    const row = hourly.get(frame);
    if (row !== undefined && timed) row[hour - firstHour] = (row[hour - firstHour] ?? 0) + count;
  }
  let stood = 0;
  const frames = names.map((frame): PreparedFrame => {
    const running = timed ? runningHours(hourly.get(frame) ?? new Float64Array(0)) : undefined;
    const ran = running?.reduce((sum, one) => sum + one, 0) ?? 0;
    stood += hourCount - ran;
    const hours = options.hoursPerPosition ?? (timed ? ran * share : 1);
    if (running !== undefined && ran > 0)
      for (let i = 0; i < running.length; i++) running[i] = ((running[i] ?? 0) * hours) / ran;
    const listed = named.find(([name]) => name === frame)?.[1] ?? [];
    const positions = fillUp(listed, numbered, size ?? (numbered ? largest : listed.length)).map((one) => ({
      ...one,
      rotorHours: hours,
    }));
    return { frame, positions, running };
  });
  if (stood > 0) assumed.push(say('count-assumed.standstill', { hours: String(Math.round(stood)) }));
  const totals = frames.map((frame) => {
    if (frame.positions.length > 0) return totalOf(frame);
    const count = hourly.get(frame.frame)?.reduce((sum, one) => sum + one, 0) ?? 0;
    const ran = frame.running?.reduce((sum, one) => sum + one, 0) ?? 1;
    return { id: frame.frame, count, rotorHours: Math.max(1, ran * (size ?? 1)) };
  });
  if (table.positions.length === 0 && size === undefined) assumed.push(say('count-assumed.no-positions'));
  return {
    frames,
    totals,
    hoursKnown: hoursKnown && (table.positions.length > 0 || size !== undefined),
    firstHour,
    hourCount,
    assumed,
  };
}

function prepareTotals(table: CountTable, options: AnalysisOptions, assumed: string[]): Prepared {
  const hoursKnown = table.periods.every((period) => periodHours(period, options) !== undefined);
  if (!hoursKnown)
    assumed.push(
      table.periods.some((period) => period.runHours !== undefined)
        ? say('count-assumed.no-positions')
        : say('count-assumed.periods-unknown'),
    );
  const sums = new Map<string, { id: string; count: number; rotorHours: number }>();
  for (const period of table.periods) {
    const sum = sums.get(period.frame) ?? { id: period.frame, count: 0, rotorHours: 0 };
    sum.count += period.count;
    sum.rotorHours += periodHours(period, options) ?? period.runHours ?? 1;
    sums.set(period.frame, sum);
  }
  const totals = [...sums.values()].sort((a, b) => compareNatural(a.id, b.id));
  return { frames: [], totals, hoursKnown, ...none, assumed };
}

/** Rotor-hours of a period; undefined when neither the table nor the options tell them. */
export function periodHours(period: PeriodTotal, options: AnalysisOptions): number | undefined {
  if (period.rotorHours !== undefined) return period.rotorHours;
  if (period.runHours !== undefined && options.positionsPerFrame !== undefined)
    return period.runHours * options.positionsPerFrame;
  return undefined;
}

function byFrame(table: CountTable): [string, CountTable['positions'][number][]][] {
  const groups = new Map<string, CountTable['positions'][number][]>();
  for (const position of table.positions) {
    const group = groups.get(position.frame);
    if (group === undefined) groups.set(position.frame, [position]);
    else group.push(position);
  }
  return [...groups];
}

/** The positions that a log does not list, for they never broke. */
function fillUp(
  listed: readonly { readonly position: string; readonly count: number }[],
  numbered: boolean,
  size: number,
): { id: string; count: number }[] {
  const known = new Map(listed.map((one) => [one.position, one.count]));
  if (listed.length === 0) return [];
  if (numbered) {
    const most = Math.min(MOST_POSITIONS, Math.max(size, ...listed.map((one) => Number(one.position))));
    return Array.from({ length: most }, (_, i) => ({
      id: String(i + 1),
      count: known.get(String(i + 1)) ?? 0,
    })).concat(known.has('0') ? [{ id: '0', count: known.get('0') ?? 0 }] : []);
  }
  const missing = Math.max(0, Math.min(MOST_POSITIONS, size) - listed.length);
  return [
    ...listed.map((one) => ({ id: one.position, count: one.count })),
    ...Array.from({ length: missing }, (_, i) => ({
      id: say('count-assumed.unlisted', { n: i + 1 }),
      count: 0,
    })),
  ];
}

/** 1 for every clock hour in which a frame ran, 0 for long silences. */
function runningHours(counts: Float64Array): Float64Array {
  const total = counts.reduce((sum, one) => sum + one, 0);
  const running = new Float64Array(counts.length).fill(1);
  // Twice: the rate is that of the hours run, which the first pass finds.
  for (let pass = 0; pass < 2; pass++) {
    const ran = running.reduce((sum, one) => sum + one, 0);
    const rate = total / Math.max(1, ran);
    running.fill(1);
    let start = 0;
    for (let i = 0; i <= counts.length; i++) {
      if (i < counts.length && counts[i] === 0) continue;
      if (rate * (i - start) > STANDSTILL) running.fill(0, start, i);
      start = i + 1;
    }
  }
  return running;
}

function totalOf(frame: { readonly frame: string; readonly positions: readonly NamedCount[] }): NamedCount {
  return {
    id: frame.frame,
    count: frame.positions.reduce((sum, one) => sum + one.count, 0),
    rotorHours: frame.positions.reduce((sum, one) => sum + one.rotorHours, 0),
  };
}
