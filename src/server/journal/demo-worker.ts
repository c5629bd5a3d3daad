import { parentPort, workerData } from 'node:worker_threads';
import { buildDemoMill, openJournal } from '../../journal/index.js';
import { createDiagnostician } from '../../rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../rules/knowledge/load-knowledge.js';
import { loadMill } from '../../rules/knowledge/load-mill.js';
import { demoEngine } from './demo-engine.js';
import { DEMO_RANKINGS, type DemoOrder, type DemoReply, progressAfter } from './fill-demo.js';

/** A thread that writes the invented mill into an empty journal, over a connection of its own. */
const port = parentPort;
if (port === null) throw new Error('this script runs as a worker thread');
const order = workerData as DemoOrder;
const say = (reply: DemoReply) => port.postMessage(reply);

const journal = await openJournal({ folder: order.folder, url: order.url });
try {
  const diagnostician = createDiagnostician(loadKnowledge(order.knowledgeRoot));
  let asked = 0;
  const engine = demoEngine(diagnostician, loadMill(order.knowledgeRoot, diagnostician.vocabulary), () =>
    say({ progress: progressAfter(++asked) }),
  );
  await buildDemoMill(journal, engine, { rankings: DEMO_RANKINGS });
} catch (error) {
  say({ fault: error instanceof Error ? error.message : String(error) });
} finally {
  await journal.close();
}
