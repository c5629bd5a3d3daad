import { setPriority } from 'node:os';

/**
 * Puts the calling thread behind the server's other ones when there are more threads than processors. On Linux alone:
 * there a niceness is a thread's own, elsewhere it would be the whole program's.
 *
 * @param niceness 0, as usual, to 19, last
 */
export function yieldToOthers(niceness: number): void {
  if (process.platform !== 'linux' || niceness === 0) return;
  try {
    setPriority(niceness);
  } catch {
    // Where that is not allowed the thread works as any other.
  }
}
