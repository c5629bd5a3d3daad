import { parentPort, workerData } from 'node:worker_threads';
import { type ProofOrder, type ProofReply, proveVersion } from './prove.js';
import { openFor } from './replay.js';

/** A thread that runs closed cases through two versions of the knowledge, over a connection of its own. */
const port = parentPort;
if (port === null) throw new Error('this script runs as a worker thread');
const order = workerData as ProofOrder;
const say = (reply: ProofReply) => port.postMessage(reply);

const journal = await openFor(order.place);
try {
  say({
    replay: await proveVersion(journal, order.before, order.after, (done, of) => say({ done, of })),
  });
} catch (error) {
  say({ fault: error instanceof Error ? error.message : String(error) });
} finally {
  await journal.close();
}
