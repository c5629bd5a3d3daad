import { chmodSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * Gives the run a folder for what test files share (an unpacked browser, a PostgreSQL) and clears it away at the end,
 * with whatever processes were left in it: workers are ended without being asked.
 */
export default function prepareSharedFolder(): () => void {
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-tests-'));
  // The user that PostgreSQL runs as must get in.
  chmodSync(folder, 0o755);
  process.env.PEELPOINT_TESTS_SHARED = folder;
  return () => {
    for (const name of readdirSync(folder).filter((file) => file.endsWith('.pid')))
      endProcess(Number(readFileSync(join(folder, name), 'utf8')));
    rmSync(folder, { recursive: true, force: true, maxRetries: 20, retryDelay: 100 });
  };
}

function endProcess(pid: number): void {
  try {
    // For a PostgreSQL this is the immediate way down; nothing in it is wanted any more.
    process.kill(pid, 'SIGQUIT');
  } catch {
    // Gone already.
  }
}
