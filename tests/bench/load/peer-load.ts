import { performance } from 'node:perf_hooks';
import { type Figures, quantile } from './figures.js';
import { startPeer } from './server.js';

/** Seconds the peer is asked; enough for its tail, since it answers within milliseconds. */
const SECONDS = 10;

/**
 * The same sizes at the same rate from a bare app of the same framework, which shows what of the times is the machine's
 * and the wire's. Prints the ratio.
 */
export async function comparePeer(pages: Figures, requestsPerSecond: number): Promise<void> {
  const peer = await startPeer();
  const kinds = [...pages.kinds.values()].filter((kind) => kind.times.length > 0);
  const sizes = kinds.flatMap((kind) =>
    Array.from({ length: kind.times.length }, () => Math.round(kind.bytes / kind.times.length)),
  );
  const times: number[] = [];
  const began = performance.now();
  const asked: Promise<void>[] = [];
  for (let n = 0; n < SECONDS * requestsPerSecond; n++) {
    const due = began + (n * 1000) / requestsPerSecond;
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, due - performance.now())));
    const size = sizes[(n * 7919) % sizes.length] ?? 0;
    asked.push(peer.client.get(`/bytes/${size}`).then(() => void times.push(performance.now() - due)));
  }
  await Promise.all(asked);
  await peer.stop();
  const mine = pages.all.times;
  const row = (share: number) => [quantile(mine, share), quantile(times, share)] as const;
  const said = [0.5, 0.99].map((share) => {
    const [own, bare] = row(share);
    return `p${100 * share} ${own.toFixed(0)} against ${bare.toFixed(1)} ms (${(own / bare).toFixed(1)} times)`;
  });
  console.log(`Bare hono app, same sizes and rate: ${said.join(', ')}`);
}
