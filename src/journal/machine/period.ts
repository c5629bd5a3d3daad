import { readInstant } from '../input.js';
import { dayStart, nextDayStart } from '../time.js';

/** A stretch of time: from (included) to until (excluded), ISO 8601. */
export interface Period {
  readonly from: string;
  readonly until: string;
}

/** A period as the journal keeps times. @throws JournalInputError naming the end that is no time */
export const readPeriod = ({ from, until }: Period): Period => ({
  from: readInstant('period.from', from),
  until: readInstant('period.until', until),
});

/** Hours of a period that lie in another. */
export function hoursWithin(one: Period, other: Period): number {
  const from = Math.max(Date.parse(one.from), Date.parse(other.from));
  const until = Math.min(Date.parse(one.until), Date.parse(other.until));
  return Math.max(0, until - from) / 3_600_000;
}

/** Periods that touch or overlap as one, oldest first. */
export function mergePeriods(periods: readonly Period[]): Period[] {
  const merged: Period[] = [];
  for (const period of [...periods].sort((a, b) => (a.from < b.from ? -1 : 1))) {
    const last = merged.at(-1);
    if (last === undefined || period.from > last.until) merged.push(period);
    else if (period.until > last.until) merged[merged.length - 1] = { from: last.from, until: period.until };
  }
  return merged;
}

/** What of a period lies in another; undefined when nothing does. */
export function cutPeriod(one: Period, other: Period): Period | undefined {
  let { from, until } = one;
  if (other.from > from) from = other.from;
  if (other.until < until) until = other.until;
  return from < until ? { from, until } : undefined;
}

/** The whole UTC days within a period, if any, and what is left at its ends. */
export function wholeDays({ from, until }: Period): {
  readonly whole: Period | undefined;
  readonly edges: readonly Period[];
} {
  const first = nextDayStart(from);
  const end = dayStart(until);
  if (first >= end) return { whole: undefined, edges: from < until ? [{ from, until }] : [] };
  const edges = [
    { from, until: first },
    { from: end, until },
  ];
  return { whole: { from: first, until: end }, edges: edges.filter((edge) => edge.from < edge.until) };
}
