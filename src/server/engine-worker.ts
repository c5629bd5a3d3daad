import { parentPort, workerData } from 'node:worker_threads';
import { createDiagnostician } from '../rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../rules/knowledge/load-knowledge.js';
import type { EngineQuestion, EngineReply } from './engine-pool.js';

/** A thread of the engine pool: loads the knowledge base once, then answers questions one after the other. */
const port = parentPort;
if (port === null) throw new Error('this script runs as a worker thread');
const { knowledgeRoot } = workerData as { readonly knowledgeRoot: string };
const diagnostician = createDiagnostician(loadKnowledge(knowledgeRoot));
const say = (reply: EngineReply) => port.postMessage(reply);

port.on('message', async ({ id, ask, input }: EngineQuestion) => {
  try {
    say({ id, result: await diagnostician[ask](input) });
  } catch (error) {
    say({ id, fault: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
});
say({ ready: true });
