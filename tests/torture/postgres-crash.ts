import { checkJournal, countCases, findCase, openCase, openJournal } from '../../src/journal/index.js';
import type { KillReport } from './kill/rounds.js';

/**
 * Lets the database server die without a word while clients open cases, each with a key and again until it is
 * acknowledged, and looks whether every one is there, once.
 * @param crash kills the server and starts it again
 */
export async function crashRounds(
  rounds: number,
  url: string,
  crash: () => Promise<void>,
): Promise<Omit<KillReport, 'kind'>> {
  const journal = await openJournal({ url });
  const losses: string[] = [];
  const acknowledged = new Set<string>();
  let going = true;
  const client = async (name: number) => {
    for (let n = 0; going; n++)
      for (;;)
        try {
          const by = { who: 'client', key: `client-${name}-number-${n}` };
          const { id } = await openCase(journal, { title: `Client ${name}, ${n}` }, by);
          if (acknowledged.has(id)) losses.push(`${id} was given twice`);
          acknowledged.add(id);
          break;
        } catch (error) {
          const fault = error instanceof Error && 'fault' in error ? error.fault : error;
          if (fault !== 'unreachable') losses.push(`client ${name}: ${String(fault)}`);
          await new Promise((done) => setTimeout(done, 50));
        }
  };
  const clients = [1, 2, 3, 4].map(client);
  for (let round = 0; round < rounds; round++) {
    await new Promise((done) => setTimeout(done, 300 + Math.random() * 700));
    await crash();
  }
  await new Promise((done) => setTimeout(done, 500));
  going = false;
  await Promise.all(clients);
  for (const id of acknowledged) await findCase(journal, id).catch(() => losses.push(`${id} is gone`));
  const count = await countCases(journal, {});
  if (count !== acknowledged.size) losses.push(`${count} cases, ${acknowledged.size} acknowledged`);
  losses.push(...(await checkJournal(journal, 100_000)).findings);
  await journal.close();
  return { rounds, acknowledged: acknowledged.size, losses };
}
