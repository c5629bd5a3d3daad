import { mkdtempSync, rmSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ensureBuilt, type ServerProcess, startServer } from './built-program.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-stop-'));
beforeAll(ensureBuilt, 120_000);
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** A form of which the second half is sent later. */
async function halfAForm(server: ServerProcess): Promise<{ finish(): Promise<string>; socket: Socket }> {
  const { hostname, port, host } = new URL(server.address);
  const body = 'text=setup%3A+%7Bfibre%3A+cotton%2C+count%3A+20+Ne%7D';
  const socket = connect(Number(port), hostname);
  let answer = '';
  socket.setEncoding('utf8').on('data', (text: string) => {
    answer += text;
  });
  const closed = new Promise<void>((done) => socket.once('close', () => done()));
  await new Promise<void>((done) => socket.once('connect', () => done()));
  socket.write(
    `POST /case HTTP/1.1\r\nHost: ${host}\r\nOrigin: ${server.address}\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: ${body.length}\r\n\r\n${body.slice(0, 20)}`,
  );
  return {
    socket,
    finish: async () => {
      socket.write(body.slice(20));
      await closed;
      return answer;
    },
  };
}

/** Waits until the server has so many requests under way, the one that asks among them. */
const underWay = (server: ServerProcess, least: number) =>
  expect
    .poll(
      async () =>
        Number(/in_progress (\d+)/.exec(await (await fetch(`${server.address}/metrics`)).text())?.[1] ?? 0),
      { timeout: 20_000 },
    )
    .toBeGreaterThanOrEqual(least);

describe('a server that is told to stop', () => {
  it('says first that it is not ready, then takes nothing new, finishes what is under way and ends with 0', async () => {
    const server = await startServer(['--empty', '--data', join(root, 'a'), '--drain-seconds', '1']);
    const form = await halfAForm(server);
    // A question for the threads, which takes a while.
    const plan = fetch(`${server.address}/plan?frame=frame-3&observations.end-breaks=marked`);
    await underWay(server, 2);
    server.child.kill('SIGTERM');
    await expect
      .poll(async () => (await fetch(`${server.address}/readyz`).catch(() => undefined))?.status)
      .toBe(503);
    // It still answers, for those who have not noticed yet.
    expect((await fetch(`${server.address}/healthz`)).status).toBe(200);
    await expect
      .poll(
        () =>
          fetch(`${server.address}/healthz`).then(
            () => 'answered',
            () => 'refused',
          ),
        { timeout: 5000 },
      )
      .toBe('refused');
    const answer = await form.finish();
    expect(answer).toMatch(/^HTTP\/1\.1 (200|303) /);
    expect(answer.toLowerCase()).toContain('\r\nconnection: close\r\n');
    expect((await plan).status).toBe(200);
    expect(await server.ended).toBe(0);
    expect(server.out()).toContain('Stopping.');
    expect(server.err()).not.toContain('unfinished');
  }, 120_000);

  it('waits for a request that never ends only as long as it was told, says so, and ends with 0', async () => {
    const server = await startServer(['--empty', '--data', join(root, 'b'), '--stop-seconds', '1']);
    const { socket } = await halfAForm(server);
    socket.on('error', () => {});
    await underWay(server, 2);
    const start = performance.now();
    server.child.kill('SIGTERM');
    expect(await server.ended).toBe(0);
    expect(performance.now() - start).toBeLessThan(15_000);
    expect(server.err()).toContain('stopped with 1 request unfinished');
    socket.destroy();
  }, 120_000);
});
