import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** The program as it is installed. */
export const BIN = join(ROOT, 'bin/peelpoint.js');

/** Time of the newest source file. */
function newestSource(): number {
  return Math.max(
    ...readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => statSync(join(ROOT, 'src', name)).mtimeMs),
  );
}

/** Builds the program unless the build is newer than every source. @throws Error with the compiler's words */
export function ensureBuilt(): void {
  // A build writes only what has changed, and its notes whenever anything has.
  const built = ['dist/cli/main.js', 'dist/.tsbuildinfo'].map((name) => join(ROOT, name));
  if (built.every((file) => existsSync(file))) {
    const at = Math.max(...built.map((file) => statSync(file).mtimeMs));
    if (at >= newestSource()) return;
  }
  const build = spawnSync(
    process.execPath,
    [join(ROOT, 'node_modules/typescript/bin/tsc'), '-p', 'tsconfig.build.json'],
    { cwd: ROOT, encoding: 'utf8' },
  );
  if (build.status !== 0) throw new Error(`the build failed:\n${build.stdout}`);
  // Files that were only touched leave both as they were.
  const now = new Date();
  for (const file of built) utimesSync(file, now, now);
}

/** A server in a process of its own. */
export interface ServerProcess {
  readonly address: string;
  readonly child: ChildProcess;
  /** What it has written so far. */
  out(): string;
  err(): string;
  /** Its exit code; null when a signal ended it. */
  readonly ended: Promise<number | null>;
}

/** Starts `peelpoint serve` on a free port and waits until it says where it is. */
export async function startServer(
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<ServerProcess> {
  const child = spawn(process.execPath, [BIN, 'serve', '--port', '0', ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, ...env },
  });
  let out = '';
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    err += text;
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const address = await new Promise<string>((resolve, reject) => {
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
      const found = /http:\/\/127\.0\.0\.1:\d+/.exec(out);
      if (found !== null) resolve(found[0]);
    });
    child.once('close', () => reject(new Error(`it ended at once: ${out}${err}`)));
  });
  return { address, child, out: () => out, err: () => err, ended };
}
