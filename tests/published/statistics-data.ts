import { readFileSync } from 'node:fs';
import { expect } from 'vitest';

/** A check of the statistics against something outside the project; `standing` tells how far to trust the figure. */
interface StatisticsCheck {
  readonly id: string;
  readonly source: string;
  readonly standing: 'published' | 'from memory' | 'computed independently';
  // biome-ignore lint/suspicious/noExplicitAny: each record has its own shape, used by one test
  readonly inputs: any;
  // biome-ignore lint/suspicious/noExplicitAny: as above
  readonly expected: any;
  readonly tolerance: { readonly abs?: number; readonly rel?: number };
}

const checks: readonly StatisticsCheck[] = JSON.parse(
  readFileSync(new URL('./data/statistics-checks.json', import.meta.url), 'utf8'),
);

/** The record with this id. */
export function getCheck(id: string): StatisticsCheck {
  const check = checks.find((candidate) => candidate.id === id);
  if (check === undefined) throw new Error(`no record ${id}`);
  return check;
}

/** Title of a test: what is checked, by which source, of which standing. */
export function title(id: string): string {
  const { source, standing } = getCheck(id);
  return `${id} [${source}; ${standing}]`;
}

/** Holds a value against the record's figure within the record's tolerance. */
export function agree(check: StatisticsCheck, actual: number, expected: number): void {
  const allowed = check.tolerance.abs ?? (check.tolerance.rel ?? 0) * Math.abs(expected);
  expect(actual, `${check.id}: ${actual} against ${expected}`).toSatisfy(
    (value: number) => Math.abs(value - expected) <= allowed,
  );
}

/** Ids of the records of the data file. */
export function listChecks(): string[] {
  return checks.map((check) => check.id);
}
