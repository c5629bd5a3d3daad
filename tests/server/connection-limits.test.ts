import { connect, type Socket } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CONNECTION_LIMITS } from '../../src/server/connection-limits.js';
import { type RunningServer, serve } from '../../src/server/serve.js';
import { sendRaw, statusOf } from './raw-request.js';

let server: RunningServer;
const log: string[] = [];
beforeAll(async () => {
  server = await serve({
    port: 0,
    print: () => {},
    log: (line) => log.push(line),
    connections: { headersMs: 400, requestMs: 900, silentMs: 700, connectionsOfOne: 4 },
  });
});
afterAll(async () => server?.stop());

const get = (path: string, more = '') =>
  `GET ${path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${more}\r\n`;

describe('one connection', () => {
  it('is cut off when headers come a byte at a time', async () => {
    const { text, ms } = await sendRaw(server.address, 'GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ', {
      text: 'a',
      everyMs: 50,
    });
    expect([0, 408]).toContain(statusOf(text));
    expect(text).not.toContain('<main');
    expect(ms).toBeLessThan(6000);
  });

  it('is cut off when a form comes a byte at a time', async () => {
    const head =
      'POST /bench HTTP/1.1\r\nHost: localhost\r\nOrigin: http://localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 100000\r\n\r\n';
    const { text, ms } = await sendRaw(server.address, head, { text: 'a', everyMs: 50 });
    expect(text).not.toContain('303 See Other');
    expect(ms).toBeLessThan(8000);
  });

  it('is closed when nothing at all is said', async () => {
    const { text, ms } = await sendRaw(server.address, '');
    expect(statusOf(text)).not.toBe(200);
    expect(ms).toBeLessThan(6000);
  });

  it('may not bring headers without bound', async () => {
    const large = await sendRaw(
      server.address,
      get('/', `X-Large: ${'a'.repeat(CONNECTION_LIMITS.headerBytes)}\r\n`),
    );
    expect(statusOf(large.text)).toBe(431);
  });

  it('may not leave the end of a request open to two readings', async () => {
    for (const more of [
      'Content-Length: 5\r\nTransfer-Encoding: chunked\r\n',
      'Content-Length: 5\r\nContent-Length: 6\r\n',
      'Transfer-Encoding: chunked, identity\r\n',
      'Transfer-Encoding : chunked\r\n',
      'Content-Length: +5\r\n',
    ]) {
      const { text } = await sendRaw(
        server.address,
        `POST /bench HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${more}\r\n0\r\n\r\n`,
      );
      expect([0, 400]).toContain(statusOf(text));
    }
  });

  it('gets an answer, and none from the inside, for what no browser sends', async () => {
    for (const line of [
      'TRACE / HTTP/1.1',
      'CONNECT elsewhere.test:443 HTTP/1.1',
      'PROPFIND / HTTP/1.1',
      'GET //elsewhere.test/x HTTP/1.1',
      'GET /../../../../etc/passwd HTTP/1.1',
      'GET /assets/..%2f..%2f..%2fetc%2fpasswd HTTP/1.1',
      'GET /assets/%2e%2e/%2e%2e/package.json HTTP/1.1',
      'GET http://elsewhere.test/ HTTP/1.1',
      'GET /%00 HTTP/1.1',
      'GET /%zz HTTP/1.1',
      'GET / HTTP/9.9',
    ]) {
      const { text } = await sendRaw(
        server.address,
        `${line}\r\nHost: localhost\r\nConnection: close\r\n\r\n`,
      );
      expect(statusOf(text), line).toBeLessThan(500);
      expect(text).not.toMatch(/root:|"dependencies"|node_modules|\bat \w+ \(/);
      if (line.startsWith('TRACE')) expect(statusOf(text)).not.toBe(200);
    }
    const twoHosts = await sendRaw(server.address, 'GET / HTTP/1.1\r\nConnection: close\r\n\r\n');
    expect(statusOf(twoHosts.text)).toBe(400);
    expect(log).toEqual([]);
  });

  it('cannot have its method put into another header or field', async () => {
    const { text } = await sendRaw(
      server.address,
      get('/bench', 'X-HTTP-Method-Override: DELETE\r\nX-Method-Override: POST\r\n'),
    );
    expect(statusOf(text)).toBe(200);
  });
});

describe('one address', () => {
  it('holds so many connections and no more, and may come again when it lets go', async () => {
    const sockets = await Promise.all(Array.from({ length: 8 }, () => open(server.address)));
    await expect.poll(() => sockets.filter((one) => one.closed).length).toBeGreaterThanOrEqual(4);
    for (const one of sockets) one.destroy();
    await expect.poll(async () => statusOf((await sendRaw(server.address, get('/healthz'))).text)).toBe(200);
  });
});

function open(address: string): Promise<Socket> {
  const { hostname, port } = new URL(address);
  return new Promise((done) => {
    const socket = connect({ host: hostname, port: Number(port) }, () => done(socket));
    socket.on('error', () => undefined);
  });
}
