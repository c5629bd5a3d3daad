import { setPriority } from 'node:os';

/** Niceness of background threads, on the scale of 0 (as usual) to 19 (last). */
const NICENESS = 10;

/**
 * Puts the calling thread behind the server's other ones when there are more threads than processors. On Linux alone:
 * there a niceness is a thread's own, elsewhere it would be the whole program's.
 */
export function yieldToOthers(): void {
  if (process.platform !== 'linux') return;
  try {
    setPriority(NICENESS);
  } catch {
    // Where that is not allowed the thread works as any other.
  }
}
