import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { BIN, ensureBuilt } from '../faults/built-program.js';

beforeAll(ensureBuilt, 120_000);

const peelpoint = (args: readonly string[], input = '') =>
  spawnSync(process.execPath, [BIN, ...args], {
    encoding: 'utf8',
    input,
    env: { ...process.env, LANG: 'C.UTF-8' },
  });

describe('the built program', () => {
  it('diagnoses a case from standard input', () => {
    const { status, stdout, stderr } = peelpoint(
      ['diagnose', '-', '--json'],
      'setup: {fibre: cotton, count: 20 Ne}\nobservations: {end-breaks: marked}\n',
    );
    expect(stderr).toBe('');
    expect(status).toBe(0);
    expect(JSON.parse(stdout).causes.length).toBeGreaterThan(50);
  });

  it('exits 2 for bad input', () => {
    const { status, stdout, stderr } = peelpoint(['diagnose', 'no-such-file.yaml']);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain('does not exist');
  });

  it('is quiet when the reader goes away', () => {
    const { stdout, stderr } = spawnSync(
      'sh',
      ['-c', `"${process.execPath}" "${BIN}" knowledge schema | head -n 1`],
      { encoding: 'utf8' },
    );
    expect(stdout.trim()).toBe('{');
    expect(stderr).toBe('');
  });

  it.runIf(existsSync('/dev/full'))('says so when the output cannot be written', () => {
    const { status, stderr } = spawnSync('sh', ['-c', `"${process.execPath}" "${BIN}" help > /dev/full`], {
      encoding: 'utf8',
    });
    expect(status).toBe(70);
    expect(stderr).toBe('peelpoint: the output cannot be written (ENOSPC).\n');
  });

  it('serves the pages until it is told to stop', async () => {
    const data = mkdtempSync(join(tmpdir(), 'peelpoint-serve-'));
    const server = spawn(process.execPath, [BIN, 'serve', '--port', '0', '--empty', '--data', data], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const ended = new Promise<number | null>((resolve) => server.once('exit', resolve));
    try {
      const address = await new Promise<string>((resolve, reject) => {
        let told = '';
        server.stdout.on('data', (chunk: Buffer) => {
          told += chunk.toString();
          const found = /http:\/\/127\.0\.0\.1:\d+/.exec(told);
          if (found !== null) resolve(found[0]);
        });
        server.once('exit', () => reject(new Error(`it ended at once: ${told}`)));
      });
      const response = await fetch(`${address}/healthz`);
      expect((await fetch(`${address}/journal`)).status).toBe(200);
      expect(response.status).toBe(200);
      // The port is taken now: a second server says so and ends.
      const second = peelpoint(['serve', '--port', new URL(address).port]);
      expect(second.status).toBe(2);
      expect(second.stderr).toContain('is taken');
    } finally {
      server.kill('SIGTERM');
    }
    expect(await ended).toBe(0);
    // The journal was made where it was told to be, and left whole.
    expect(existsSync(join(data, 'journal.sqlite'))).toBe(true);
    rmSync(data, { recursive: true, force: true });
  }, 120_000);
});
