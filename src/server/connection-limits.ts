import type { Server } from 'node:http';

/** What one connection may take, in milliseconds, bytes and numbers. */
export interface ConnectionLimits {
  /** Until all headers of a request have come. Somebody who sends a byte now and then is cut off here. */
  readonly headersMs: number;
  /** Until a whole request has come: 16 MB over a slow wireless network. */
  readonly requestMs: number;
  /** That an open connection may rest; longer than proxies usually keep one, so that they never meet a closed one. */
  readonly idleMs: number;
  /** Without a byte in either direction: somebody who does not read the answer. Longer than any answer takes. */
  readonly silentMs: number;
  readonly headerBytes: number;
  readonly headers: number;
  readonly connections: number;
  /** Connections from one address; a proxy or a gateway speaks for a whole hall. */
  readonly connectionsOfOne: number;
}

/** Addresses carry the whole case, and the referrer and htmx repeat them. */
const MOST_HEADER_BYTES = 64 * 1024;

export const CONNECTION_LIMITS: ConnectionLimits = {
  headersMs: 20_000,
  requestMs: 120_000,
  idleMs: 70_000,
  silentMs: 180_000,
  headerBytes: MOST_HEADER_BYTES,
  headers: 100,
  connections: 2000,
  connectionsOfOne: 500,
};

/** The limits that Node has to know when it makes the server. */
export const serverOptions = (limits: ConnectionLimits) => ({
  maxHeaderSize: limits.headerBytes,
  headersTimeout: limits.headersMs,
  requestTimeout: limits.requestMs,
  keepAliveTimeout: limits.idleMs,
  // How often Node looks for those that are late.
  connectionsCheckingInterval: Math.min(5000, Math.max(50, limits.headersMs / 4)),
});

/**
 * Sets the limits that are Node's to keep and those it has none for.
 * @param proxied a proxy speaks for all: then there is no limit for a single address
 */
export function limitConnections(server: Server, limits: ConnectionLimits, proxied: boolean): void {
  server.maxConnections = limits.connections;
  server.maxHeadersCount = limits.headers;
  server.timeout = limits.silentMs;
  if (proxied) return;
  const open = new Map<string, number>();
  server.on('connection', (socket) => {
    const address = socket.remoteAddress ?? '';
    const count = (open.get(address) ?? 0) + 1;
    if (count > limits.connectionsOfOne) {
      socket.destroy();
      return;
    }
    open.set(address, count);
    socket.once('close', () => {
      const left = (open.get(address) ?? 1) - 1;
      if (left > 0) open.set(address, left);
      else open.delete(address);
    });
  });
}
