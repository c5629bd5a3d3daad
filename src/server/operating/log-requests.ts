import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context } from 'hono';
import type { Logger } from './logger.js';
import type { RequestWatch } from './request-watch.js';

/** Asked every few seconds by machines, or for every page; of interest only when something is looked for. */
const QUIET = ['/healthz', '/readyz', '/metrics', '/assets/:file'];

/**
 * One line a request: reference, method, pattern of the route, status, milliseconds. Never the address asked for, which
 * holds the mill's case, nor a name; the client's address only when that is wanted.
 */
export const logRequests =
  (log: Logger, options: { readonly addresses: boolean }): RequestWatch =>
  ({ id, method, route, status, seconds }, c) => {
    const line = {
      request: id,
      method,
      route,
      status,
      ms: Math.round(seconds * 10_000) / 10,
      ...(options.addresses ? { address: clientAddress(c) ?? '' } : {}),
    };
    if (QUIET.includes(route) && status < 400) log.debug(line, 'request');
    else log.info(line, 'request');
  };

/** The address at the other end of the connection, which is the proxy's where there is one; undefined without a network. */
export function clientAddress(c: Context): string | undefined {
  if (c.env === undefined || !('incoming' in (c.env as object))) return undefined;
  return getConnInfo(c).remote.address;
}
