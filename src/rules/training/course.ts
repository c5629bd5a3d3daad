/**
 * A course: cases and lessons that a trainer picks for a group, and what the group made of them. Arithmetic only;
 * nothing is kept here.
 */

/** A part of a course. */
export type CourseItem =
  | { readonly kind: 'case'; readonly code: string }
  | { readonly kind: 'lesson'; readonly lesson: string };

export interface Course {
  readonly id: string;
  readonly title: string;
  readonly group: string;
  readonly items: readonly CourseItem[];
}

/** What one trainee did on one case, as far as a course counts it. */
export interface AttemptRecord {
  readonly trainee: string;
  readonly code: string;
  /** When it was closed, ISO 8601. */
  readonly at: string;
  readonly truth: readonly string[];
  /** Causes put forward, surest first, with confidence 0–1. */
  readonly proposed: readonly { readonly cause: string; readonly confidence: number }[];
  readonly minutes: number;
  readonly bestMinutes: number;
  readonly brier: number;
  readonly unsafe: number;
  readonly passed: boolean;
}

/** What stands in a confusion table where nothing was put forward. */
export const NOTHING = '';

/** How often one cause was put first while another one was at work. */
export interface ConfusionTable {
  /** Causes that were at work, most often first. */
  readonly truths: readonly string[];
  /** Causes that were put first, most often first; {@link NOTHING} for none. */
  readonly proposed: readonly string[];
  count(truth: string, proposed: string): number;
  /** Pairs taken for one another, most often first: true cause, what it was taken for. */
  readonly mixUps: readonly { readonly truth: string; readonly taken: string; readonly count: number }[];
}

/**
 * Which causes a group mixes up. With two faults at work, each counts once: as found when it is among as many first
 * proposals as there are faults, else as taken for the first proposal that was not at work.
 */
export function confusionTable(attempts: readonly AttemptRecord[]): ConfusionTable {
  const counts = new Map<string, Map<string, number>>();
  for (const attempt of attempts) {
    const first = attempt.proposed.slice(0, attempt.truth.length).map((one) => one.cause);
    const wrong = first.find((cause) => !attempt.truth.includes(cause)) ?? NOTHING;
    for (const truth of attempt.truth) {
      const taken = first.includes(truth) ? truth : wrong;
      const row = counts.get(truth) ?? new Map<string, number>();
      row.set(taken, (row.get(taken) ?? 0) + 1);
      counts.set(truth, row);
    }
  }
  const count = (truth: string, proposed: string) => counts.get(truth)?.get(proposed) ?? 0;
  const rowTotal = (truth: string) => sum([...(counts.get(truth)?.values() ?? [])]);
  const columns = new Set([...counts.values()].flatMap((row) => [...row.keys()]));
  const columnTotal = (proposed: string) => sum([...counts.keys()].map((truth) => count(truth, proposed)));
  const byTotal = (total: (id: string) => number) => (a: string, b: string) =>
    total(b) - total(a) || a.localeCompare(b);
  return {
    truths: [...counts.keys()].sort(byTotal(rowTotal)),
    proposed: [...columns].sort(byTotal(columnTotal)),
    count,
    mixUps: [...counts]
      .flatMap(([truth, row]) => [...row].map(([taken, n]) => ({ truth, taken, count: n })))
      .filter((pair) => pair.taken !== pair.truth && pair.taken !== NOTHING)
      .sort((a, b) => b.count - a.count || a.truth.localeCompare(b.truth) || a.taken.localeCompare(b.taken)),
  };
}

/** How one trainee stands in a course. */
export interface Progress {
  readonly trainee: string;
  /** Cases of the course closed at least once. */
  readonly done: number;
  readonly passed: number;
  readonly cases: number;
  /** Minutes over the best policy's, as a ratio: the median of the last attempt at each case. */
  readonly minutesRatio: number;
  /** Mean Brier score of the last attempt at each case. */
  readonly brier: number;
  readonly unsafe: number;
}

/** Progress of every trainee, by name. Of several attempts at a case the last counts. */
export function courseProgress(course: Course, attempts: readonly AttemptRecord[]): Progress[] {
  const codes = course.items.flatMap((item) => (item.kind === 'case' ? [item.code] : []));
  const trainees = [...new Set(attempts.map((attempt) => attempt.trainee))].sort((a, b) =>
    a.localeCompare(b),
  );
  return trainees.map((trainee) => {
    const last = codes.flatMap((code) => {
      const own = attempts.filter((one) => one.trainee === trainee && one.code === code);
      return own.sort((a, b) => a.at.localeCompare(b.at)).slice(-1);
    });
    return {
      trainee,
      done: last.length,
      passed: last.filter((one) => one.passed).length,
      cases: codes.length,
      minutesRatio: median(last.map((one) => one.minutes / Math.max(1, one.bestMinutes))),
      brier: last.length === 0 ? 0 : sum(last.map((one) => one.brier)) / last.length,
      unsafe: sum(last.map((one) => one.unsafe)),
    };
  });
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : (upper + (sorted[middle - 1] ?? upper)) / 2;
}
