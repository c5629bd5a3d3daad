import { existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** The folder of this run, made by the global set-up. */
export function sharedFolder(): string {
  const folder = process.env.PEELPOINT_TESTS_SHARED;
  if (folder === undefined) throw new Error('the global set-up of the tests has not run');
  return folder;
}

/** Has a process ended when the run ends. */
export function endWithRun(name: string, pid: number): void {
  writeFileSync(join(sharedFolder(), `${name}-${pid}.pid`), String(pid));
}

/**
 * Has this worker end at once when the run is over. What it shares listens for the signal to close in good order, which
 * takes seconds and is needless: the run clears everything away.
 */
export function endAtOnce(): void {
  if (!process.listeners('SIGTERM').includes(end)) process.prependListener('SIGTERM', end);
}
const end = () => process.kill(process.pid, 'SIGKILL');

/**
 * Makes a folder once a run, whichever worker comes first; others may make it too at the same moment, and the first to
 * be done is used.
 * @returns where it is
 */
export async function madeOnce(name: string, make: (folder: string) => Promise<void>): Promise<string> {
  const place = join(sharedFolder(), name);
  if (existsSync(place)) return place;
  const own = `${place}-${process.pid}`;
  mkdirSync(own, { recursive: true });
  await make(own);
  try {
    renameSync(own, place);
  } catch {
    // Another worker was quicker; its folder serves as well.
  }
  return place;
}
