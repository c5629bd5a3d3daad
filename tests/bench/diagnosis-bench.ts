/**
 * How long an answer takes. Run with `node --import tsx tests/bench/diagnosis-bench.ts`.
 *
 * Cases are the situations of the knowledge base, or the examples beside the causes where there are none. Each is
 * answered once to warm up (its setup is computed then and kept) and then, under other titles so that no kept answer is
 * given, to be timed: the posterior alone (as the engine reports it), the ranking, and the full answer with checks and
 * actions.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { pathToFileURL } from 'node:url';
import { readCaseObject } from '../../src/rules/case/case-file.js';
import type { CaseInput } from '../../src/rules/case/types.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { loadVignettes } from '../../src/rules/knowledge/load-vignettes.js';

/** Times of one case, milliseconds. */
interface Timing {
  readonly name: string;
  /** For a pattern of evidence met for the first time, and again. */
  readonly first: number;
  readonly posterior: number;
  readonly ranking: number;
  readonly full: number;
  readonly width: number;
  readonly exact: boolean;
}

function casesOf(root: string, { knowledge, vocabulary }: Diagnostician): [string, CaseInput][] {
  if (existsSync(join(root, 'cases'))) {
    const vignettes = loadVignettes(root, knowledge.book, vocabulary);
    if (vignettes.size > 0) return [...vignettes].map(([id, vignette]) => [id, vignette.case]);
  }
  return [...knowledge.book.causes.values()].flatMap((cause) =>
    (cause.examples ?? []).flatMap((example): [string, CaseInput][] => {
      const reading = readCaseObject(example.given, vocabulary, { partial: true });
      return reading.ok ? [[`${cause.id}: ${example.name}`, reading.case]] : [];
    }),
  );
}

async function time(name: string, input: CaseInput, diagnostician: Diagnostician): Promise<Timing> {
  const { inference: first } = await diagnostician.diagnose(input);
  const start = performance.now();
  const { inference } = await diagnostician.rank({ ...input, title: 'ranked' });
  const ranked = performance.now();
  await diagnostician.diagnose({ ...input, title: 'answered in full' });
  const done = performance.now();
  return {
    name,
    first: first.milliseconds,
    posterior: inference.milliseconds,
    ranking: ranked - start,
    full: done - ranked,
    width: inference.width,
    exact: inference.exact,
  };
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** Times all cases and prints p50, p95 and the largest, and the width. */
export async function benchDiagnosis(root: string = defaultKnowledgeFolder()): Promise<void> {
  const started = performance.now();
  const diagnostician = createDiagnostician(loadKnowledge(root));
  const opened = performance.now() - started;
  const cases = casesOf(root, diagnostician);
  const timings: Timing[] = [];
  for (const [name, input] of cases) timings.push(await time(name, input, diagnostician));
  const line = (label: string, pick: (timing: Timing) => number, digits = 0) => {
    const values = timings.map(pick);
    const figures = [quantile(values, 0.5), quantile(values, 0.95), Math.max(...values)];
    console.log(`${label.padEnd(24)}${figures.map((value) => value.toFixed(digits).padStart(9)).join('')}`);
  };
  console.log(`\nDiagnosis: ${cases.length} cases, knowledge base opened in ${opened.toFixed(0)} ms`);
  console.log(`${''.padEnd(24)}${['p50', 'p95', 'most'].map((title) => title.padStart(9)).join('')}`);
  line('posterior, first, ms', (timing) => timing.first, 1);
  line('posterior, again, ms', (timing) => timing.posterior, 1);
  line('ranking, ms', (timing) => timing.ranking);
  line('full answer, ms', (timing) => timing.full);
  line('width', (timing) => timing.width);
  const slowest = timings.reduce((a, b) => (b.full > a.full ? b : a));
  const estimated = timings.filter((timing) => !timing.exact).length;
  console.log(
    `slowest: ${slowest.name}, ${slowest.full.toFixed(0)} ms at width ${slowest.width}; ${estimated} estimated by sampling`,
  );
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) await benchDiagnosis();
