// A worker for the pool's tests: does what the case's title says.
import { parentPort, threadId } from 'node:worker_threads';

parentPort.on('message', ({ id, ask, input }) => {
  if (input.title === 'die') process.exit(1);
  if (input.title === 'throw') throw new Error('lost');
  if (input.title === 'hang') return;
  if (input.title === 'fault') parentPort.postMessage({ id, fault: 'cannot reason about this' });
  else parentPort.postMessage({ id, result: { ask, title: input.title, thread: threadId } });
});
parentPort.postMessage({ ready: true });
