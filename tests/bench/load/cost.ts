/**
 * Processor time that each kind of request takes, by thread: one request at a time, so that other programs on the machine
 * hardly change it. `node --import tsx tests/bench/load/cost.ts REQUESTS [CPU-PROFILE FOLDER]`; Linux only.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { startProduct } from './server.js';
import { type Demand, makeSupervisor } from './supervisors.js';
import { exploreWorld, fillForm } from './world.js';

const [requests = 400] = process.argv.slice(2).map(Number);
/** The supervisors who take turns. */
const SUPERVISORS = 40;

/** Processor milliseconds so far of the main thread and of all others. */
function spent(pid: number): readonly [main: number, others: number] {
  let main = 0;
  let others = 0;
  for (const thread of readdirSync(`/proc/${pid}/task`)) {
    const ms = Number(readFileSync(`/proc/${pid}/task/${thread}/schedstat`, 'utf8').split(' ')[0]) / 1e6;
    if (Number(thread) === pid) main += ms;
    else others += ms;
  }
  return [main, others];
}

interface Cost {
  count: number;
  main: number;
  others: number;
  readonly each: number[];
}

const server = await startProduct();
try {
  const { client, pid } = server;
  const world = await exploreWorld(client);
  const costs = new Map<string, Cost>();
  const ask = async (demand: Demand): Promise<void> => {
    const isForm = demand.kind.startsWith('step');
    const before = spent(pid);
    const reply = await client.get(demand.path, demand.headers, isForm);
    if (reply.status !== 200) throw new Error(`${demand.path}: status ${reply.status}`);
    if (isForm)
      await client.post(demand.path, fillForm(reply.text, { who: 'Load', note: 'Seen on the round.' }));
    const after = spent(pid);
    const cost = costs.get(demand.kind) ?? { count: 0, main: 0, others: 0, each: [] };
    costs.set(demand.kind, cost);
    cost.count++;
    cost.main += after[0] - before[0];
    cost.others += after[1] - before[1];
    cost.each.push(after[0] - before[0] + after[1] - before[1]);
    if (demand.next !== undefined) await ask(demand.next.demand);
  };
  const supervisors = Array.from({ length: SUPERVISORS }, (_, number) => makeSupervisor(number, world));
  // Threads and templates warm up first.
  for (let n = 0; n < 3 * SUPERVISORS; n++)
    await ask((supervisors[n % SUPERVISORS] as (typeof supervisors)[0]).act());
  costs.clear();
  for (let n = 0; n < requests; n++)
    await ask((supervisors[n % SUPERVISORS] as (typeof supervisors)[0]).act());
  const all = [...costs.values()];
  const total = all.reduce((sum, one) => sum + one.main + one.others, 0);
  const number = all.reduce((sum, one) => sum + one.count, 0);
  const cell = (value: number) => value.toFixed(1).padStart(9);
  console.log(
    `Processor milliseconds a request${''.padEnd(6)}${['number', 'main', 'threads', 'both', 'p95', '% of all'].map((one) => one.padStart(9)).join('')}`,
  );
  for (const [kind, cost] of [...costs].sort(([, a], [, b]) => b.main + b.others - a.main - a.others)) {
    const p95 = cost.each.sort((a, b) => a - b)[Math.floor(0.95 * cost.each.length)] ?? Number.NaN;
    console.log(
      `  ${kind.padEnd(36)}${String(cost.count).padStart(9)}${cell(cost.main / cost.count)}${cell(cost.others / cost.count)}${cell((cost.main + cost.others) / cost.count)}${cell(p95)}${cell((100 * (cost.main + cost.others)) / total)}`,
    );
  }
  console.log(`  ${'all'.padEnd(36)}${String(number).padStart(9)}${''.padEnd(18)}${cell(total / number)}`);
} finally {
  await server.stop();
}
