import { randomBytes } from 'node:crypto';
import type { Context, MiddlewareHandler } from 'hono';
import { requestId } from 'hono/request-id';

/** Response header that carries the reference of a request. */
export const REQUEST_ID_HEADER = 'X-Request-Id';

/**
 * Gives every request a reference of ten hexadecimal digits: short enough to be read out on the telephone. It stands in
 * the log, on error pages and in {@link REQUEST_ID_HEADER}. One sent by the client is not taken over: it could be used to
 * hide a request among others or to write into the log.
 */
export const giveRequestId: MiddlewareHandler[] = [
  requestId({ headerName: '', generator: () => randomBytes(5).toString('hex') }),
  async (c, next) => {
    await next();
    c.res.headers.set(REQUEST_ID_HEADER, requestIdOf(c));
  },
];

/** The reference of the request under way; empty where {@link giveRequestId} does not run. */
export const requestIdOf = (c: Context): string => c.get('requestId') ?? '';
