import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** Bytes in use after all that can be let go has been. */
export function heapInUse(): number {
  collect();
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}
