import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  dayIn,
  daysOf,
  endOfDay,
  knowsTimeZone,
  monthsEarlier,
  offsetMinutes,
  readWallClock,
  startOfDay,
  startOfNextDay,
  steadyStretches,
  timeZones,
  wallClock,
} from '../../src/journal/zone/mill-time.js';

/** Whole, half and quarter hours, both hemispheres, a half-hour summer time, midnight skipped, no summer time. */
const ZONES = [
  'UTC',
  'Europe/Istanbul',
  'Europe/Berlin',
  'Asia/Kolkata',
  'Asia/Kathmandu',
  'America/Sao_Paulo',
  'America/New_York',
  'Australia/Lord_Howe',
  'America/Santiago',
  'Asia/Tashkent',
  'Africa/Casablanca',
] as const;
const zones = fc.constantFrom(...ZONES);
const instants = fc
  .integer({ min: Date.UTC(2015, 0, 1), max: Date.UTC(2034, 11, 31) })
  .map((millis) => new Date(millis).toISOString());
const HOUR = 3_600_000;
const hours = (from: string, until: string) => (Date.parse(until) - Date.parse(from)) / HOUR;
const settings = { numRuns: 120 } as const;

describe('days of the mill', () => {
  it('hold every instant once: each begins where the one before ends', () => {
    fc.assert(
      fc.property(instants, zones, (instant, zone) => {
        const start = startOfDay(instant, zone);
        const next = startOfNextDay(instant, zone);
        expect(start <= instant && instant < next).toBe(true);
        expect(startOfDay(start, zone)).toBe(start);
        expect(startOfDay(next, zone)).toBe(next);
        expect(dayIn(start, zone)).toBe(dayIn(instant, zone));
        expect(dayIn(next, zone) > dayIn(instant, zone)).toBe(true);
        expect(dayIn(endOfDay(instant, zone), zone)).toBe(dayIn(instant, zone));
        expect([22.5, 23, 23.5, 24, 24.5, 25]).toContain(hours(start, next));
      }),
      settings,
    );
  });

  it('have 23 hours when clocks are put forward and 25 when they are put back', () => {
    const length = (day: string, zone: string) => {
      const noon = `${day}T12:00:00Z`;
      return hours(startOfDay(noon, zone), startOfNextDay(noon, zone));
    };
    expect(length('2026-03-29', 'Europe/Berlin')).toBe(23);
    expect(length('2026-10-25', 'Europe/Berlin')).toBe(25);
    expect(length('2026-10-24', 'Europe/Berlin')).toBe(24);
    expect(length('2026-03-29', 'Asia/Kolkata')).toBe(24);
    // Clocks went forward at midnight: the day began at one.
    expect(startOfDay('2018-11-04T12:00:00Z', 'America/Sao_Paulo')).toBe('2018-11-04T03:00:00.000Z');
  });

  it('cover a period without gaps', () => {
    fc.assert(
      fc.property(instants, fc.integer({ min: 1, max: 40 * 24 * 60 }), zones, (from, minutes, zone) => {
        const until = new Date(Date.parse(from) + minutes * 60_000).toISOString();
        const days = daysOf({ from, until }, zone);
        expect(days[0]?.from).toBe(startOfDay(from, zone));
        for (const [n, day] of days.entries()) {
          if (n > 0) expect(day.from).toBe(days[n - 1]?.until);
          expect(dayIn(day.from, zone)).toBe(day.day);
        }
        const last = days.at(-1);
        expect(last !== undefined && last.from < until && until <= last.until).toBe(true);
      }),
      settings,
    );
    const at = '2026-03-02T00:00:00.000Z';
    expect(daysOf({ from: at, until: at }, 'UTC')).toEqual([]);
  });
});

describe('the clock on the wall', () => {
  it('is read as it shows: only an hour that is shown twice is taken as the first', () => {
    fc.assert(
      fc.property(instants, zones, (instant, zone) => {
        const minute = new Date(Math.floor(Date.parse(instant) / 60_000) * 60_000).toISOString();
        const read = readWallClock(wallClock(minute, zone), zone);
        expect(read.kind).toBe('instant');
        if (read.kind !== 'instant') return;
        expect(wallClock(read.instant, zone)).toBe(wallClock(minute, zone));
        expect(read.instant <= minute).toBe(true);
        if (read.instant !== minute)
          expect(offsetMinutes(read.instant, zone)).toBeGreaterThan(offsetMinutes(minute, zone));
      }),
      settings,
    );
  });

  it('says what is no time, and what was skipped', () => {
    const read = (text: string, zone = 'Europe/Berlin') => readWallClock(text, zone);
    expect(read('2026-03-29 02:30')).toEqual({ kind: 'skipped' });
    expect(read('2026-03-29 03:00')).toEqual({ kind: 'instant', instant: '2026-03-29T01:00:00.000Z' });
    expect(read('2026-10-25T02:30')).toEqual({ kind: 'instant', instant: '2026-10-25T00:30:00.000Z' });
    expect(read('2026-07-01')).toEqual({ kind: 'instant', instant: '2026-06-30T22:00:00.000Z' });
    expect(read('2018-11-04', 'America/Sao_Paulo')).toEqual({
      kind: 'instant',
      instant: '2018-11-04T03:00:00.000Z',
    });
    expect(read('2026-01-01 05:30', 'Asia/Kolkata')).toEqual({
      kind: 'instant',
      instant: '2026-01-01T00:00:00.000Z',
    });
    for (const text of ['', 'yesterday', '2026-02-30', '2026-13-01', '2026-01-01 24:00', '2026-01-01T10'])
      expect(read(text), text).toEqual({ kind: 'no-time' });
  });

  it('never takes a text for a time that it is not', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 25 }), zones, (text, zone) => {
        expect(readWallClock(text, zone).kind === 'instant').toBe(/^\s*\d{4}-\d\d-\d\d/.test(text));
      }),
      settings,
    );
  });

  it('goes back by months of the calendar', () => {
    expect(monthsEarlier('2026-03-31T10:00:00Z', 1, 'Europe/Berlin')).toBe('2026-02-28T11:00:00.000Z');
    expect(monthsEarlier('2026-05-15T10:00:00Z', 6, 'Asia/Kolkata')).toBe('2025-11-15T10:00:00.000Z');
  });
});

describe('stretches of equal offset', () => {
  it('cover a period, and the offset holds in all of each', () => {
    fc.assert(
      fc.property(instants, fc.integer({ min: 1, max: 500 * 24 }), zones, (from, span, zone) => {
        const until = new Date(Date.parse(from) + span * HOUR).toISOString();
        const stretches = steadyStretches({ from, until }, zone);
        expect(stretches[0]?.from).toBe(from);
        expect(stretches.at(-1)?.until).toBe(until);
        for (const [n, one] of stretches.entries()) {
          if (n > 0) {
            expect(one.from).toBe(stretches[n - 1]?.until);
            expect(one.offsetMinutes).not.toBe(stretches[n - 1]?.offsetMinutes);
          }
          const last = new Date(Date.parse(one.until) - 1).toISOString();
          expect(offsetMinutes(one.from, zone)).toBe(one.offsetMinutes);
          expect(offsetMinutes(last, zone)).toBe(one.offsetMinutes);
        }
      }),
      settings,
    );
  });
});

describe('names of time zones', () => {
  it('are known where they are offered', () => {
    const names = timeZones();
    expect(names.length).toBeGreaterThan(300);
    expect(names[0]).toBe('UTC');
    expect(names.filter((name) => !knowsTimeZone(name))).toEqual([]);
    for (const name of ['', 'Mars/Base', 'Europe/Nowhere', 'utc+3 or so'])
      expect(knowsTimeZone(name)).toBe(false);
  });
});
