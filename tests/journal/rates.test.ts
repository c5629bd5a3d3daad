import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import {
  type BreakEvent,
  countBreaksByHour,
  countByFrame,
  countFrameDays,
  dayIn,
  type Journal,
  type RunInput,
  recordBreaks,
  recordRuns,
  setMillZone,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill } from './fixtures.js';

const event = (at: string, frame = 'frame-1', position = 1): BreakEvent => ({ frame, position, at });
const run = (
  from: string,
  until: string,
  rotorHours: number,
  breaks?: number,
  frame = 'frame-1',
): RunInput => ({
  frame,
  from,
  until,
  rotorHours,
  ...(breaks === undefined ? {} : { breaks }),
});

/** Hand-counted: a frame of 8 positions, counted by the panel at first and reporting single breaks from 12 March on. */
const RUNS: readonly RunInput[] = [
  // Night shift over midnight, 8 h of 8 positions at 75 %.
  run('2026-03-10T22:00:00Z', '2026-03-11T06:00:00Z', 48, 6),
  run('2026-03-11T06:00:00Z', '2026-03-11T14:00:00Z', 60, 3),
  // Nobody counted, and no event was reported yet: not a shift without breaks.
  run('2026-03-11T14:00:00Z', '2026-03-11T22:00:00Z', 60),
  run('2026-03-12T06:00:00Z', '2026-03-12T14:00:00Z', 64),
  run('2026-03-12T14:00:00Z', '2026-03-12T22:00:00Z', 40),
  // No break in this one; events came before and after.
  run('2026-03-12T22:00:00Z', '2026-03-13T06:00:00Z', 32),
  run('2026-03-13T06:00:00Z', '2026-03-13T14:00:00Z', 64),
  // Reporting had been switched off.
  run('2026-03-14T06:00:00Z', '2026-03-14T14:00:00Z', 64),
  run('2026-03-12T06:00:00Z', '2026-03-12T14:00:00Z', 64, undefined, 'frame-2'),
];
const EVENTS: readonly BreakEvent[] = [
  event('2026-03-12T07:00:00Z'),
  event('2026-03-12T13:59:59.999Z'),
  event('2026-03-12T14:00:00Z'),
  event('2026-03-12T20:10:00Z'),
  event('2026-03-13T06:05:00Z'),
  event('2026-03-13T13:00:00Z'),
  // While no run is known: there are no hours to hold it against.
  event('2026-03-13T18:00:00Z'),
];

describeOnBothEngines('breaks against running hours', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await setMillZone(journal, 'UTC', by());
    await addSmallMill(journal);
    await recordRuns(journal, 'runs', RUNS, by());
    await recordBreaks(journal, 'breaks', EVENTS, by());
  });
  const rate = async (from: string, until: string) =>
    (await countByFrame(journal, { from, until })).find((one) => one.frame === 'frame-1');

  it('takes of the hours only those in which breaks were noticed', async () => {
    expect(await rate('2026-03-01T00:00:00Z', '2026-04-01T00:00:00Z')).toEqual({
      frame: 'frame-1',
      count: 6 + 3 + 6,
      rotorHours: 48 + 60 + 64 + 40 + 32 + 64,
      source: 'both',
    });
    expect(await rate('2026-03-12T00:00:00Z', '2026-03-14T00:00:00Z')).toEqual({
      frame: 'frame-1',
      count: 6,
      rotorHours: 200,
      source: 'events',
    });
    expect(await rate('2026-03-10T00:00:00Z', '2026-03-12T00:00:00Z')).toMatchObject({
      count: 9,
      rotorHours: 108,
      source: 'counts',
    });
    expect(await rate('2026-03-14T00:00:00Z', '2026-03-15T00:00:00Z')).toBeUndefined();
    // The other frame never reported a break and never counted any.
    expect(
      await countByFrame(journal, { from: '2026-03-12T00:00:00Z', until: '2026-03-13T00:00:00Z' }),
    ).toHaveLength(1);
  });

  it('cuts runs and events at the same instant', async () => {
    // A quarter of the run from 06:00 to 14:00, half of the one from 14:00 to 22:00.
    expect(await rate('2026-03-12T12:00:00Z', '2026-03-12T18:00:00Z')).toMatchObject({
      count: 2,
      rotorHours: 16 + 20,
    });
    expect(await rate('2026-03-12T13:59:59.999Z', '2026-03-12T14:00:00Z')).toMatchObject({ count: 1 });
  });

  it('by day: a count stays with its hours, and events with theirs', async () => {
    const days = await countFrameDays(journal, 'frame-1', {
      from: '2026-03-10T00:00:00Z',
      until: '2026-03-15T00:00:00Z',
    });
    expect(days.map(({ day, rateBreaks, rateRotorHours }) => [day, rateBreaks, rateRotorHours])).toEqual([
      ['2026-03-10', 6, 48],
      ['2026-03-11', 3, 60],
      ['2026-03-12', 4, 64 + 40 + 8],
      ['2026-03-13', 2, 24 + 64],
      ['2026-03-14', 0, 0],
    ]);
    expect(days.map(({ events, rotorHours }) => [events, rotorHours])).toEqual([
      [0, 12],
      [0, 36 + 60 + 60],
      [4, 64 + 40 + 8],
      [3, 24 + 64],
      [0, 64],
    ]);
  });

  it('by the days of the mill, which may have 23 or 25 hours', async () => {
    const inner = await on.newJournal();
    await addSmallMill(inner);
    await setMillZone(inner, 'Europe/Berlin', by());
    const start = Date.parse('2026-10-23T22:00:00Z');
    const instant = (hours: number) => new Date(start + hours * 3_600_000).toISOString();
    // One break each half hour, 8 positions running throughout: the rate is the same every day.
    await recordRuns(
      inner,
      'runs',
      Array.from({ length: 9 }, (_, n) => run(instant(n * 8), instant(n * 8 + 8), 64)),
      by(),
    );
    await recordBreaks(
      inner,
      'breaks',
      Array.from({ length: 144 }, (_, n) => event(instant(n / 2))),
      by(),
    );
    const days = await countFrameDays(inner, 'frame-1', { from: instant(0), until: instant(70) });
    expect(days.slice(0, 3)).toMatchObject([
      { day: '2026-10-24', rateBreaks: 48, rateRotorHours: 192 },
      { day: '2026-10-25', rateBreaks: 50, rateRotorHours: 200 },
      { day: '2026-10-26', rateBreaks: 46, rateRotorHours: 184 },
    ]);
    expect(days.every((day) => Math.abs(day.rateBreaks / day.rateRotorHours - 1 / 4) < 1e-12)).toBe(true);
    const hours = await countBreaksByHour(inner, 'frame-1', { from: instant(0), until: instant(72) });
    expect(hours).toHaveLength(72);
    expect(hours.every((hour) => hour.breaks === 2)).toBe(true);
  });

  it('counts each break on its day, in any zone', async () => {
    const inner = await on.newJournal();
    await addSmallMill(inner);
    const random = fc.sample(
      fc.integer({ min: Date.parse('2026-03-20T00:00:00Z'), max: Date.parse('2026-04-10T00:00:00Z') - 1 }),
      { numRuns: 400, seed: 7 },
    );
    const events = [...new Set(random)].map((at) => event(new Date(at).toISOString()));
    await recordBreaks(inner, 'breaks', events, by());
    for (const zone of ['Asia/Kathmandu', 'Australia/Lord_Howe', 'America/New_York', 'Europe/Berlin']) {
      await setMillZone(inner, zone, by());
      const expected = new Map<string, number>();
      for (const { at } of events) expected.set(dayIn(at, zone), (expected.get(dayIn(at, zone)) ?? 0) + 1);
      const period = { from: '2026-03-20T00:00:00Z', until: '2026-04-10T00:00:00Z' };
      const days = await countFrameDays(inner, 'frame-1', period);
      expect(new Map(days.map((day) => [day.day, day.events])), zone).toEqual(
        new Map([...expected].sort(([a], [b]) => (a < b ? -1 : 1))),
      );
      const hours = await countBreaksByHour(inner, 'frame-1', period);
      expect(
        hours.reduce((sum, hour) => sum + hour.breaks, 0),
        zone,
      ).toBe(events.length);
    }
  });
});
