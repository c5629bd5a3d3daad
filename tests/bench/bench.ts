import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/**
 * Runs the benchmarks named on the command line, or all: each in a process of its own, so that none warms another up.
 * Nothing here is a test: figures are printed, ratios against a peer measured in the same run.
 */
const ALL = ['network', 'diagnosis', 'pages', 'import', 'journal', 'journal-postgresql', 'load'] as const;
const wanted = process.argv.slice(2);
for (const name of wanted.length > 0 ? wanted : ALL) {
  const file = fileURLToPath(new URL(`./${name}-bench.ts`, import.meta.url));
  const { status } = spawnSync(process.execPath, ['--import', 'tsx', file], { stdio: 'inherit' });
  if (status !== 0) process.exitCode = 1;
}
