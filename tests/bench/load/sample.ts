import type { Client } from './client.js';

/** The server at a moment, as it measures itself. */
export interface Sample {
  /** Seconds since the start. */
  readonly at: number;
  /** Megabytes: the whole process, threads included, and the heap of its main thread. */
  readonly rss: number;
  readonly heap: number;
  /** Megabytes of the main thread outside its heap. */
  readonly external: number;
  /** Delay of the main thread's event loop since the sample before, 99th percentile and most, milliseconds. */
  readonly delay99: number;
  readonly delayMost: number;
  /** Processor seconds used so far, all threads. */
  readonly cpu: number;
  /** Questions waiting for a thread. */
  readonly waiting: number;
}

/** Reads the server's own measures. */
export async function readSample(client: Client, at: number): Promise<Sample> {
  const { text } = await client.get('/metrics', {}, true);
  const value = (name: string): number => {
    const found = new RegExp(`^${name}(?:\\{[^}]*\\})? ([-+\\d.eE]+)$`, 'm').exec(text)?.[1];
    if (found === undefined) throw new Error(`the server does not tell ${name}`);
    return Number(found);
  };
  return {
    at,
    rss: value('process_resident_memory_bytes') / 1e6,
    heap: value('nodejs_heap_size_used_bytes') / 1e6,
    external: value('nodejs_external_memory_bytes') / 1e6,
    delay99: value('nodejs_eventloop_lag_p99_seconds') * 1000,
    delayMost: value('nodejs_eventloop_lag_max_seconds') * 1000,
    cpu: value('process_cpu_seconds_total'),
    waiting: value('peelpoint_engine_waiting'),
  };
}
