import { serve as listen } from '@hono/node-server';
import autocannon from 'autocannon';
import { Hono } from 'hono';
import { serve } from '../../src/server/serve.js';

/** Seconds each address is asked for; connections at once. */
const SECONDS = 4;
const CONNECTIONS = 20;

/** Requests per second of pages against a bare text reply of the same framework, in one run on one machine. */
export async function benchPages(): Promise<void> {
  const bare = new Hono().get('/', (c) => c.text('ok'));
  const peer = listen({ fetch: bare.fetch, port: 0, hostname: '127.0.0.1' });
  await new Promise((resolve) => peer.once('listening', resolve));
  const address = peer.address();
  const peerUrl = `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : 0}/`;
  const server = await serve({ port: 0, print: () => {}, log: () => {} });
  const bench = '/bench?frame=frame-1&observations.end-breaks=marked&scope=frame';
  const measure = async (url: string) => {
    const result = await autocannon({ url, connections: CONNECTIONS, duration: SECONDS });
    if (result.non2xx > 0 || result.errors > 0)
      throw new Error(`${url}: ${result.non2xx} bad replies, ${result.errors} errors`);
    return { rate: result.requests.average, p50: result.latency.p50, p99: result.latency.p99 };
  };
  console.log(`\nPages: requests per second, ${CONNECTIONS} connections, ${SECONDS} s each`);
  const base = await measure(peerUrl);
  const row = (name: string, one: typeof base) =>
    console.log(
      `  ${name.padEnd(34)} ${one.rate.toFixed(0).padStart(7)} /s   p50 ${one.p50} ms  p99 ${one.p99} ms   ${(one.rate / base.rate).toFixed(3)} of the bare reply`,
    );
  row('bare hono text reply', base);
  row('health', await measure(`${server.address}/healthz`));
  row('first page', await measure(`${server.address}/`));
  row('bench page with an answer, kept', await measure(`${server.address}${bench}`));
  await server.stop();
  peer.close();
}

if (process.argv[1]?.endsWith('pages-bench.ts')) await benchPages();
