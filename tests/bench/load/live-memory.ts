/**
 * What a thread of the engine still holds after thousands of cases, once everything that nobody needs has been swept away:
 * `node --expose-gc --import tsx tests/bench/load/live-memory.ts CASES`. The memory of the whole server goes up and down by
 * hundreds of megabytes between two sweeps, so that a slow leak would not be seen in it; here it would.
 *
 * Exit code 1 when more is held after all cases than after the first third, by which all that is kept on purpose is full.
 */
import { pathToFileURL } from 'node:url';
import type { CaseInput } from '../../../src/rules/case/types.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';
import { openBench } from '../../../src/server/bench-engine.js';
import { loadBase } from '../../../src/server/loaded-base.js';
import { createRandom } from '../../../src/statistics/random.js';

/** Megabytes that may be held more at the end than after the first third. */
const MOST_MORE = 3;
const CASES = 2400;
/** Times at which the memory is looked at. */
const LOOKS = 6;

/** Situations of the knowledge base with some signs left out and another room each time. */
function* makeCases(count: number): Generator<CaseInput> {
  const random = createRandom(4242);
  const situations = [...loadBase(defaultKnowledgeFolder()).vignettes.values()];
  for (let n = 0; n < count; n++) {
    const { case: input } = situations[
      Math.floor(random() * situations.length)
    ] as (typeof situations)[number];
    const observations = Object.fromEntries(
      Object.entries(input.observations).filter((_, i) => i === 0 || random() < 0.7),
    );
    const values = { ...input.given.values, humidityPct: 40 + Math.floor(40 * random()) };
    yield { ...input, title: `case ${n}`, observations, given: { ...input.given, values } };
  }
}

async function watchMemory(count: number): Promise<boolean> {
  if (globalThis.gc === undefined) throw new Error('start with --expose-gc');
  const base = loadBase(defaultKnowledgeFolder());
  const bench = openBench(createDiagnostician(base.knowledge));
  const looks: { cases: number; live: number }[] = [];
  const every = Math.ceil(count / LOOKS);
  let done = 0;
  console.log('\nMemory an engine thread holds once swept\n   cases   live, MB');
  for (const input of makeCases(count)) {
    await bench.answer(input);
    await bench.next(input, []);
    done++;
    if (done % every !== 0) continue;
    for (let sweep = 0; sweep < 3; sweep++) globalThis.gc();
    const { heapUsed, external } = process.memoryUsage();
    const live = (heapUsed + external) / 1e6;
    looks.push({ cases: done, live });
    console.log(`${String(done).padStart(8)}${live.toFixed(1).padStart(11)}`);
  }
  const [first, last] = [looks[Math.floor(LOOKS / 3) - 1], looks.at(-1)];
  const more = (last?.live ?? Number.NaN) - (first?.live ?? Number.NaN);
  const kept = more <= MOST_MORE;
  console.log(
    `Promised: no more than ${MOST_MORE} MB more after ${last?.cases} cases than after ${first?.cases}: ${kept ? 'kept' : 'NOT kept'} (${more.toFixed(1)} MB)`,
  );
  return kept;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href)
  if (!(await watchMemory(Number(process.argv[2] ?? CASES)))) process.exitCode = 1;
