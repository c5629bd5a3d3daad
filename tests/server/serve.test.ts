import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { addAccount, openJournal } from '../../src/journal/index.js';
import { ListenError, serve } from '../../src/server/serve.js';

describe('serving', () => {
  it('says where it is, answers there, and stops', async () => {
    const lines: string[] = [];
    const server = await serve({ port: 0, print: (line) => lines.push(line) });
    expect(lines).toEqual([`Peelpoint is at ${server.address} (stop with Ctrl+C)`]);
    expect((await fetch(`${server.address}/healthz`)).status).toBe(200);
    // Addresses hold whole cases: far longer ones than Node takes by itself.
    const long = `${server.address}/bench?title=${'x'.repeat(20_000)}`;
    expect((await fetch(long)).status).toBe(200);
    await server.stop();
    await server.stopped;
    await expect(fetch(`${server.address}/healthz`)).rejects.toThrow();
  });

  it('stops on a signal and tells so', async () => {
    const lines: string[] = [];
    const before = process.listeners('SIGTERM');
    const server = await serve({ port: 0, print: (line) => lines.push(line) });
    // Others in this process listen too, and shall not be ended.
    const own = process.listeners('SIGTERM').filter((listener) => !before.includes(listener));
    expect(own).toHaveLength(1);
    own[0]?.('SIGTERM');
    await server.stopped;
    expect(lines.at(-1)).toBe('Stopping.');
    expect(process.listeners('SIGTERM')).toEqual(before);
  });

  it('names the port that is taken and the option that helps', async () => {
    const other = createServer();
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    const at = other.address();
    const port = typeof at === 'object' && at !== null ? at.port : 0;
    try {
      await expect(serve({ port, print: () => {} })).rejects.toThrow(ListenError);
      await expect(serve({ port, print: () => {} })).rejects.toThrow(new RegExp(`Port ${port} .*--port`));
      // The journal is left alone, and no link to make an administrator is printed.
      const folder = mkdtempSync(join(tmpdir(), 'peelpoint-serve-'));
      const lines: string[] = [];
      const taken = { port, print: (line: string) => lines.push(line), journal: { folder, demo: false } };
      await expect(serve(taken)).rejects.toThrow(ListenError);
      expect(lines).toEqual([]);
      expect(readdirSync(folder)).toEqual([]);
      rmSync(folder, { recursive: true, force: true });
    } finally {
      other.close();
    }
  });

  it('names an address that is not this machine’s', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'peelpoint-serve-'));
    const there = { port: 0, host: '203.0.113.7', print: () => {}, journal: { folder, demo: false } };
    // Whoever could be reached by others needs somebody who says who may use it.
    await expect(serve(there)).rejects.toThrow('peelpoint account add NAME --roles administrator');
    const journal = await openJournal({ folder });
    await addAccount(journal, { name: 'ada', roles: ['administrator'] }, { who: 'Test' });
    await journal.close();
    await expect(serve(there)).rejects.toThrow('--host');
    await expect(serve({ port: 0, publicOrigin: 'https://plant.test', print: () => {} })).rejects.toThrow(
      'without a journal there are no accounts',
    );
    rmSync(folder, { recursive: true, force: true });
  });
});
