import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { checkJournal, findCase, openJournal } from '../../src/journal/index.js';
import { startServer } from '../faults/built-program.js';
import type { KillReport } from './kill/rounds.js';

/** Kills the whole server with SIGKILL while clients open cases by the form of the page; looks for each acknowledged. */
export async function serverKillRounds(rounds: number): Promise<Omit<KillReport, 'kind'>> {
  const folder = mkdtempSync(join(tmpdir(), 'peelpoint-server-kill-'));
  const losses: string[] = [];
  const acknowledged: string[] = [];
  try {
    for (let round = 0; round < rounds; round++) {
      const server = await startServer(['--empty', '--data', folder, '--log-level', 'error']);
      let going = true;
      const client = async (name: number) => {
        for (let n = 0; going; n++) {
          const body = new URLSearchParams({
            title: `Round ${round}, client ${name}, ${n}`,
            who: 'Ruth',
            key: crypto.randomUUID(),
          });
          try {
            const response = await fetch(`${server.address}/cases/new`, {
              method: 'POST',
              redirect: 'manual',
              headers: { Origin: server.address, 'Content-Type': 'application/x-www-form-urlencoded' },
              body: body.toString(),
            });
            const id = /\/cases\/(case-\d+)/.exec(response.headers.get('location') ?? '')?.[1];
            if (response.status === 303 && id !== undefined) acknowledged.push(id);
            else losses.push(`round ${round}: ${response.status} ${(await response.text()).slice(0, 200)}`);
          } catch {
            // The server is gone.
            return;
          }
        }
      };
      const clients = [1, 2, 3].map(client);
      // From its first word on: a fresh server is slow to answer on a busy machine.
      const before = acknowledged.length;
      for (let n = 0; n < 600 && acknowledged.length === before && losses.length === 0; n++)
        await new Promise((done) => setTimeout(done, 50));
      await new Promise((done) => setTimeout(done, Math.random() * 1000));
      server.child.kill('SIGKILL');
      await server.ended;
      going = false;
      await Promise.all(clients);
      const journal = await openJournal({ folder });
      for (const id of acknowledged)
        await findCase(journal, id).catch(() => losses.push(`round ${round}: ${id} is gone`));
      losses.push(...(await checkJournal(journal, 100_000)).findings);
      await journal.close();
    }
    return { rounds, acknowledged: acknowledged.length, losses };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
