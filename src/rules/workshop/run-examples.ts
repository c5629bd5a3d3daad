import { readCaseObject } from '../case/case-file.js';
import type { Diagnostician } from '../diagnostician.js';
import type { Cause } from '../knowledge/schema.js';
import { type Expectation, meets, type Ranked, rankOf } from './expectation.js';

/** How one example of a cause came out. */
export interface ExampleResult {
  readonly cause: string;
  readonly name: string;
  readonly expect: Expectation;
  readonly passed: boolean;
  /** Place of the cause, 1 for the first; 0 when the case could not be read. */
  readonly rank: number;
  readonly probability: number;
  /** The leading causes, at most four. */
  readonly leading: readonly Ranked[];
  /** Why the case could not be read; empty otherwise. */
  readonly unreadable: readonly string[];
}

const SHOWN = 4;

/**
 * Runs the examples that stand beside the causes through the engine.
 *
 * @param diagnostician the engine with the knowledge base whose examples are run
 * @param only ids of the causes to run; all when left out
 * @returns one result an example, in the order of the causes; an example that cannot be read has failed
 */
export async function runExamples(
  diagnostician: Diagnostician,
  only?: readonly string[],
): Promise<ExampleResult[]> {
  const results: ExampleResult[] = [];
  for (const cause of diagnostician.knowledge.book.causes.values()) {
    if (only !== undefined && !only.includes(cause.id)) continue;
    for (const example of cause.examples ?? []) {
      const base = { cause: cause.id, name: example.name, expect: example.expect };
      const reading = readCaseObject(example.given, diagnostician.vocabulary, { partial: true });
      if (!reading.ok) {
        const unreadable = reading.problems.map((problem) => `${problem.field}: ${problem.message}`);
        results.push({ ...base, passed: false, rank: 0, probability: 0, leading: [], unreadable });
        continue;
      }
      const { causes } = await diagnostician.rank(reading.case);
      const rank = rankOf(causes, cause.id);
      results.push({
        ...base,
        passed: meets(example.expect, causes, cause.id),
        rank,
        probability: causes[rank - 1]?.probability ?? 0,
        leading: causes.slice(0, SHOWN).map(({ id, probability }) => ({ id, probability })),
        unreadable: [],
      });
    }
  }
  return results;
}

/**
 * Faults of the tables of examples themselves: a name used twice, a case written twice, a cause without an example
 * that finds it, or without one that leaves it out.
 */
export function findTableFaults(causes: Iterable<Cause>): string[] {
  const faults: string[] = [];
  const names = new Map<string, string>();
  for (const cause of causes) {
    const examples = cause.examples ?? [];
    const given = new Map<string, string>();
    for (const example of examples) {
      const name = example.name.toLowerCase();
      const holder = names.get(name);
      if (holder !== undefined)
        faults.push(`${cause.id}: the name "${example.name}" is used by ${holder} too`);
      names.set(name, cause.id);
      const text = JSON.stringify(example.given);
      const twin = given.get(text);
      if (twin !== undefined) faults.push(`${cause.id}: "${example.name}" is the same case as "${twin}"`);
      given.set(text, example.name);
    }
    if (!examples.some((one) => one.expect === 'first' || one.expect === 'first-three'))
      faults.push(`${cause.id}: no example that finds it (first or first-three)`);
    if (!examples.some((one) => one.expect === 'below-2-percent'))
      faults.push(`${cause.id}: no example that leaves it out (below-2-percent)`);
  }
  return faults;
}
