import { parentPort, workerData } from 'node:worker_threads';
import { openFor, type ReplayOrder, type ReplayReply, replayBoth } from './replay.js';

/** A thread that runs closed cases through two sets of base rates, over a connection of its own. */
const port = parentPort;
if (port === null) throw new Error('this script runs as a worker thread');
const order = workerData as ReplayOrder;
const say = (reply: ReplayReply) => port.postMessage(reply);

const journal = await openFor(order.place);
try {
  const replays = await replayBoth(journal, order.knowledge, new Map(order.rates), (done) => say({ done }));
  say({ replays });
} catch (error) {
  say({ fault: error instanceof Error ? error.message : String(error) });
} finally {
  await journal.close();
}
