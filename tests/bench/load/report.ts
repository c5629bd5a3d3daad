import { type Figures, quantile, slope } from './figures.js';
import type { LoadResult } from './run-load.js';

/** What the product promises: 99 of 100 pages within this, milliseconds. */
export const PROMISED_P99 = 300;
/**
 * Flat memory: the median of the last half is at most this much above that of the half before, once settled. Between two
 * sweeps of its threads the process takes up to a fifth more, so that neither its last value nor a straight line through
 * ten minutes tells a slow leak; `live-memory.ts` does. How much counts as flat is judgement.
 */
const MOST_GROWTH = 0.05;

const ms = (value: number) => (Number.isFinite(value) ? value.toFixed(0) : '–').padStart(7);

function table(figures: Figures): void {
  console.log(
    `  ${'milliseconds'.padEnd(28)}${['number', 'p50', 'p95', 'p99', 'most', 'errors'].map((one) => one.padStart(7)).join('')}`,
  );
  const row = (name: string, { times, errors }: { times: readonly number[]; errors: number }) =>
    console.log(
      `  ${name.padEnd(28)}${String(times.length).padStart(7)}${ms(quantile(times, 0.5))}${ms(quantile(times, 0.95))}${ms(quantile(times, 0.99))}${ms(quantile(times, 1))}${String(errors).padStart(7)}`,
    );
  for (const [name, kind] of [...figures.kinds].sort(([a], [b]) => a.localeCompare(b))) row(name, kind);
  if (figures.kinds.size > 1) row('all', figures.all);
  for (const [fault, { count, example }] of figures.faults)
    console.log(`  ${count} × ${fault}${example === '' ? '' : `, as at ${example}`}`);
}

/** Prints what came out. @returns whether the promises were kept */
export function report(result: LoadResult, settled: number): boolean {
  const { pages, work, samples, machine } = result;
  const { times, errors } = pages.all;
  const p99 = quantile(times, 0.99);
  console.log(`Pages, ${(times.length / (result.seconds - settled)).toFixed(1)} requests a second`);
  table(pages);
  console.log('Long work beside them');
  table(work);
  const late = samples.filter((one) => one.at >= settled);
  const [first, last] = [late[0], late.at(-1)];
  const delays = late.slice(1).map((one) => one.delay99);
  console.log(
    `Event loop of the server: 99 % of delays within ${quantile(delays, 0.5).toFixed(0)} ms (median sample), ${Math.max(...delays).toFixed(0)} ms (worst sample), longest ${Math.max(...late.slice(1).map((one) => one.delayMost)).toFixed(0)} ms; most waiting for a thread ${Math.max(...late.map((one) => one.waiting))}`,
  );
  const spent = (last?.cpu ?? 0) - (first?.cpu ?? 0);
  const span = (last?.at ?? 0) - (first?.at ?? 0);
  console.log(
    `Processors: ${(spent / span).toFixed(2)} kept busy by the server, ${((1000 * spent) / span / (times.length / (result.seconds - settled))).toFixed(0)} ms a request`,
  );
  const minutes = (pick: 'rss' | 'heap') => slope(late.map((one) => [one.at / 60, one[pick]] as const));
  const heap = minutes('heap');
  const [before, after] = [late.slice(0, late.length / 2), late.slice(late.length / 2)].map((half) =>
    quantile(
      half.map((one) => one.rss),
      0.5,
    ),
  ) as [number, number];
  console.log(
    `Memory: process ${first?.rss.toFixed(0)} → ${last?.rss.toFixed(0)} MB (${minutes('rss').toFixed(2)} MB a minute), heap of the main thread ${first?.heap.toFixed(0)} → ${last?.heap.toFixed(0)} MB (${heap.toFixed(2)} MB a minute)`,
  );
  const growth = after / before - 1;
  console.log(
    `  median of the process in the first half ${before.toFixed(0)} MB, in the second ${after.toFixed(0)} MB (${(100 * growth).toFixed(1)} %)`,
  );
  if (result.seconds > 300) {
    console.log('  minute   process   heap   beside the heap of the main thread, MB');
    for (const one of samples.filter((sample) => Math.round(sample.at) % 60 === 0))
      console.log(
        `  ${(one.at / 60).toFixed(0).padStart(6)}${one.rss.toFixed(0).padStart(10)}${one.heap.toFixed(0).padStart(7)}${one.external.toFixed(0).padStart(11)}`,
      );
  }
  console.log(
    `Machine load ${machine.map((one) => one.toFixed(1)).join(' → ')}; the load's own delay ${result.ownDelay.toFixed(0)} ms (99 %)`,
  );
  const long = result.seconds > 300;
  const kept = errors === 0 && p99 <= PROMISED_P99 && (!long || growth <= MOST_GROWTH);
  console.log(
    `Promised: 99 % within ${PROMISED_P99} ms, no error${long ? `, memory flat (at most ${100 * MOST_GROWTH} % more in the second half)` : ''}: ${kept ? 'kept' : 'NOT kept'} (${p99.toFixed(0)} ms, ${errors} errors)`,
  );
  return kept;
}
