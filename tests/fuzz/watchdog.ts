import { Worker } from 'node:worker_threads';

/**
 * Ends the process when one input keeps it longer than the limit: a reader that never comes back blocks its thread, so
 * that no timer of that thread could tell. Says on standard error what was being read.
 */
export interface Watchdog {
  /** Notes what is about to be read. */
  note(what: string): void;
  stop(): Promise<void>;
}

const MOST_NOTE = 4000;

const WATCH = `
  const { workerData } = require('node:worker_threads');
  const { writeSync } = require('node:fs');
  const { beat, note, limit } = workerData;
  for (let last = Atomics.load(beat, 0); ; ) {
    Atomics.wait(beat, 0, last, limit);
    const now = Atomics.load(beat, 0);
    if (Atomics.load(beat, 1) === 1) break;
    if (now === last) {
      writeSync(2, 'No answer within ' + limit + ' ms: ' + Buffer.from(note.slice(0, beat[2])).toString() + '\\n');
      process.kill(process.pid, 'SIGKILL');
    }
    last = now;
  }
`;

/** @param limit milliseconds that one input may take */
export function startWatchdog(limit: number): Watchdog {
  const beat = new Int32Array(new SharedArrayBuffer(12));
  const note = new Uint8Array(new SharedArrayBuffer(MOST_NOTE));
  const worker = new Worker(WATCH, { eval: true, workerData: { beat, note, limit } });
  return {
    note(what) {
      const { written } = new TextEncoder().encodeInto(what, note);
      beat[2] = written;
      Atomics.add(beat, 0, 1);
      // No notify: the watcher looks when its time is over, and waking it at each input would cost more than the reading.
    },
    async stop() {
      Atomics.store(beat, 1, 1);
      Atomics.notify(beat, 0);
      await worker.terminate();
    },
  };
}
