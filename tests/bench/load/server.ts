import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Client, openClient } from './client.js';

/** A server in a process of its own. */
export interface Started {
  readonly address: string;
  readonly client: Client;
  readonly pid: number;
  stop(): Promise<void>;
}

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));

/** Starts a program that prints its address. */
function start(args: readonly string[], clean: () => void): Promise<Started> {
  const child = spawn(process.execPath, args, {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'inherit'],
    env: { ...process.env, PEELPOINT_LOG_LEVEL: 'silent' },
  });
  // A bench that is stopped half-way leaves nothing running.
  const kill = () => child.kill('SIGKILL');
  process.once('exit', kill);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(1));
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  return new Promise((resolve, reject) => {
    let said = '';
    child.once('exit', (code) => reject(new Error(`the server ended with ${code} before it was ready`)));
    child.stdout.on('data', (chunk: Buffer) => {
      if (said.includes('http://')) return;
      said += chunk.toString('utf8');
      const address = /http:\/\/[^\s]+/.exec(said)?.[0];
      if (address === undefined) return;
      const client = openClient(address);
      resolve({
        address,
        client,
        pid: child.pid as number,
        async stop() {
          client.close();
          child.kill('SIGTERM');
          await ended;
          process.off('exit', kill);
          clean();
        },
      });
    });
  });
}

/** The built product with a journal of its own; the demonstration mill has been written when this resolves. */
export async function startProduct(): Promise<Started> {
  if (!existsSync(join(ROOT, 'dist/cli/main.js'))) throw new Error('build first: npm run build');
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-load-'));
  const flags = process.env.PEELPOINT_BENCH_NODE?.split(' ') ?? [];
  const started = await start([...flags, 'bin/peelpoint.js', 'serve', '--port', '0', '--data', folder], () =>
    rmSync(folder, { recursive: true, force: true }),
  );
  for (;;) {
    const { text, status } = await started.client.get('/journal', {}, true);
    if (status === 200 && !text.includes('The demonstration mill is being written')) return started;
    await new Promise((resolve) => setTimeout(resolve, 500));
  }
}

/** A bare server of the same framework that answers with so many bytes, for comparison. */
export const startPeer = (): Promise<Started> =>
  start(['--import', 'tsx', fileURLToPath(new URL('./peer.ts', import.meta.url))], () => {});
