import fc from 'fast-check';
import { heapInUse } from './heap.js';
import { FIXED_SEED, FRESH_SEED, SCALE } from './seeds.js';
import type { Target } from './targets.js';
import type { Watchdog } from './watchdog.js';

/** Longest time one input may take: far above what any needs, far below what a person would wait for. */
export const MOST_MS = 3000;
/** Most that the heap may have grown by when a target is done, in bytes. */
export const MOST_GROWTH = 48 * 1024 * 1024;

/** How old the last answer on the processor's time may be, ms: an input may be charged with so much of others. */
const CPU_ASKED_MS = 20;

export interface TargetReport {
  readonly name: string;
  readonly inputs: number;
  readonly seconds: number;
  readonly slowestMs: number;
  readonly slowest: string;
  readonly grownBytes: number;
}

/**
 * Feeds a target half its inputs from the fixed seed and half from the fresh one.
 * @param whole measures what the target keeps in memory; left out where many share one measurement
 * @throws with seed, path and the smallest input found, when one crashes it, takes too long, or it keeps too much memory
 */
export async function runTarget(
  one: Target,
  watchdog: Watchdog,
  {
    seeds = [FIXED_SEED, FRESH_SEED],
    heap = true,
  }: { readonly seeds?: readonly number[]; readonly heap?: boolean } = {},
): Promise<TargetReport> {
  let before = 0;
  const started = performance.now();
  let inputs = 0;
  let slowestMs = 0;
  let slowest = '';
  let began = 0;
  let cpuAt = performance.now();
  let cpu = process.cpuUsage();
  /** Time spent on an input; of long ones the time of the processor, since others may share it. */
  const spent = (): number => {
    const wall = performance.now() - began;
    if (wall < 200) return wall;
    const { user, system } = process.cpuUsage(cpu);
    return Math.min(wall, (user + system) / 1000);
  };
  /** An input begins. Asking for the processor's time costs more than most inputs do, so one answer serves for a while. */
  const begin = (): void => {
    began = performance.now();
    if (began - cpuAt < CPU_ASKED_MS) return;
    cpuAt = began;
    cpu = process.cpuUsage();
  };
  let present: unknown;
  for (const seed of seeds) {
    const property = one.property(
      () => {
        inputs++;
        const took = spent();
        if (took > slowestMs) {
          slowestMs = took;
          slowest = show(present);
        }
        if (took > (one.limit ?? MOST_MS)) throw new Error(`took ${Math.round(took)} ms`);
      },
      (input) => {
        present = input;
        begin();
        // The seed and the count find the input again; writing it out each time would cost more than reading it.
        watchdog.note(`${one.name}, seed ${seed}, input ${inputs}`);
      },
    );
    // What is remembered on purpose fills in the first half; from then on nothing may be kept.
    if (heap) before = heapInUse();
    await fc.assert(property, { seed, numRuns: Math.ceil((one.inputs * SCALE) / 2), endOnFailure: false });
  }
  present = undefined;
  const grownBytes = heap ? heapInUse() - before : 0;
  mustNotSwell(one.name, grownBytes);
  return {
    name: one.name,
    inputs,
    seconds: (performance.now() - started) / 1000,
    slowestMs,
    slowest,
    grownBytes,
  };
}

/** @throws when the heap grew beyond `most` bytes */
export function mustNotSwell(name: string, grownBytes: number, most = MOST_GROWTH): void {
  if (grownBytes > most) throw new Error(`${name} keeps ${Math.round(grownBytes / 1e6)} MB more`);
}

function show(input: unknown): string {
  const text =
    input instanceof Uint8Array ? Buffer.from(input).toString() : (JSON.stringify(input) ?? String(input));
  return text.length > 200 ? `${text.slice(0, 197)}…` : text;
}
