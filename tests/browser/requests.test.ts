import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { crawl, type WalkedRoute, walkRoutes } from '../fuzz/crawl.js';
import { testSite } from '../server/site.js';
import { type Bench, openBench } from './browser.js';

let bench: Bench;
const folder = mkdtempSync(join(tmpdir(), 'peelpoint-requests-'));
beforeAll(async () => {
  bench = await openBench({ folder, url: undefined, demo: false });
});
afterAll(async () => {
  await bench?.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('pages ask their own server alone', () => {
  it('every page that links lead to, with all it loads', async () => {
    const routes: WalkedRoute[] = walkRoutes(testSite().app);
    const { address } = bench.server;
    await crawl(
      { request: (url, init) => fetch(url, { ...init, redirect: 'manual' }) },
      routes,
      ['/bench?frame=frame-1&observations.end-breaks=marked'],
      {
        origin: address,
        forms: false,
      },
    );
    const paths = routes
      .flatMap((route) => route.addresses.slice(0, 1))
      .filter((path) => !/\.(csv|json|yaml|svg)|^\/(?:assets|api|plan-assets|metrics)/.test(path));
    expect(paths.length).toBeGreaterThan(35);
    const page = await bench.open('/');
    const asked = new Set<string>();
    page.context().on('request', (request) => asked.add(new URL(request.url()).origin));
    page.context().on('page', (other) => other.on('websocket', (socket) => asked.add(socket.url())));
    for (const path of paths) await page.goto(`${address}${path}`, { waitUntil: 'load' });
    expect([...asked].filter((origin) => origin !== address && origin !== 'null')).toEqual([]);
    expect(asked.has(address)).toBe(true);
    await page.context().close();
  }, 240_000);
});
