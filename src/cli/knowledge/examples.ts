import { readCaseObject } from '../../rules/case/case-file.js';
import type { CaseReading } from '../../rules/case/types.js';
import { vocabularyOf } from '../../rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../rules/diagnostician.js';
import type { CauseResult } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { Cause } from '../../rules/knowledge/schema.js';
import { percent } from '../layout/figures.js';

export type Example = NonNullable<Cause['examples']>[number];

/** How an example of a cause came out. */
export interface ExampleResult {
  readonly cause: string;
  readonly name: string;
  readonly expect: Example['expect'];
  readonly passed: boolean;
  /** Place and probability of the cause, or why the case could not be read. */
  readonly got: string;
  readonly rank?: number;
  readonly probability?: number;
}

/** Below this a cause counts as out of the question. */
const OUT = 0.02;
/** From this on it is called likely, and so no longer undecided. */
const LIKELY = 0.45;

/** The case of an example; fibre and count may be left out. */
export function readExample(example: Example, knowledge: Knowledge): CaseReading {
  return readCaseObject(example.given, vocabularyOf(knowledge), { partial: true });
}

/** Runs one example of a cause. */
export async function runExample(
  cause: Cause,
  example: Example,
  diagnostician: Diagnostician,
): Promise<ExampleResult> {
  const base = { cause: cause.id, name: example.name, expect: example.expect };
  const reading = readExample(example, diagnostician.knowledge);
  if (!reading.ok) {
    const [problem] = reading.problems;
    return { ...base, passed: false, got: `the case cannot be read: ${problem?.field} ${problem?.message}` };
  }
  const { causes } = await diagnostician.rank(reading.case);
  const index = causes.findIndex((one) => one.id === cause.id);
  const probability = causes[index]?.probability ?? 0;
  const [first] = causes;
  const before = index > 0 && first !== undefined ? `, behind ${first.id} ${percent(first.probability)}` : '';
  return {
    ...base,
    passed: meetsExpectation(example.expect, causes, cause.id),
    got: `number ${index + 1} with ${percent(probability)}${before}`,
    rank: index + 1,
    probability,
  };
}

/**
 * Whether a ranking says of a cause what is expected.
 * `first`, `first-three`: its place; `below-2-percent`: its probability; `undecided`: 2 % or more, but not yet likely (45 %).
 */
export function meetsExpectation(
  expect: Example['expect'],
  causes: readonly Pick<CauseResult, 'id' | 'probability'>[],
  cause: string,
): boolean {
  const index = causes.findIndex((one) => one.id === cause);
  const probability = causes[index]?.probability;
  if (probability === undefined) return false;
  switch (expect) {
    case 'first':
      return index === 0;
    case 'first-three':
      return index < 3;
    case 'below-2-percent':
      return probability < OUT;
    case 'undecided':
      return probability >= OUT && probability < LIKELY;
  }
}
