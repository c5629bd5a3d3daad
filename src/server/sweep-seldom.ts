import { setFlagsFromString } from 'node:v8';

/**
 * By how much the long-lived memory of a thread may grow from one full sweep to the next, %. Left to itself V8 sweeps a
 * thread under load every two or three seconds, though little is to be gained: each time all that is kept is looked
 * through, and compiled code that is not being run at that moment is thrown away. Measured with 0, 100, 200 and 300: the
 * more, the less processor time a request and the more memory in use.
 */
const GROWTH_PERCENT = 200;

/** Tells V8 to sweep the memory of this process and of all its threads fully less often than it would. */
export function sweepSeldom(): void {
  setFlagsFromString(`--heap-growing-percent=${GROWTH_PERCENT}`);
}
