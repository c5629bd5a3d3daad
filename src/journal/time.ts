import { z } from 'zod';

/**
 * An instant as the journal keeps it: ISO 8601 in UTC with milliseconds, so that texts sort as times do on every engine.
 * Any offset is accepted and turned into UTC.
 */
export const instantSchema = z.iso
  .datetime({ offset: true })
  .transform((text) => new Date(text).toISOString())
  .describe('a time with its offset, for example 2026-03-02T06:15:00Z');

/** The present instant as the journal keeps it. */
export const presentInstant = (): string => new Date().toISOString();

/** The UTC day of an instant: `2026-03-02`. */
export const dayOf = (instant: string): string => instant.slice(0, 10);

/** Minutes from one instant to a later one (negative when it is earlier). */
export const minutesBetween = (from: string, until: string): number =>
  (Date.parse(until) - Date.parse(from)) / 60_000;

/** The instant so many days before another one. */
export const daysBefore = (instant: string, days: number): string =>
  new Date(Date.parse(instant) - days * 86_400_000).toISOString();

/** The first instant of the UTC day that begins at or after an instant. */
export function nextDayStart(instant: string): string {
  const start = `${dayOf(instant)}T00:00:00.000Z`;
  return instant === start ? start : new Date(Date.parse(start) + 86_400_000).toISOString();
}

/** The first instant of the UTC day an instant lies in. */
export const dayStart = (instant: string): string => `${dayOf(instant)}T00:00:00.000Z`;
