import type { Context, MiddlewareHandler } from 'hono';
import { matchedRoutes } from 'hono/route';
import { requestIdOf } from '../request-id.js';

/** What is known of a request once it is answered. Nothing in it says who asked or what about. */
export interface AnsweredRequest {
  /** The reference, see `request-id.ts`. */
  readonly id: string;
  readonly method: string;
  /** The pattern of the route, `/cases/:case`; {@link NO_ROUTE} where there is none. */
  readonly route: string;
  readonly status: number;
  readonly seconds: number;
}

/** Told of every request once its answer is ready. */
export type RequestWatch = (request: AnsweredRequest, c: Context) => void;

/** Stands for a route where nothing answers at the address. */
export const NO_ROUTE = '(none)';
const METHODS = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS'];

/** Tells of every request: to be the first middleware after the one that gives the reference. */
export const watchRequests =
  (watch: RequestWatch): MiddlewareHandler =>
  async (c, next) => {
    const start = performance.now();
    await next();
    watch(
      {
        id: requestIdOf(c),
        // Anything can be sent as a method, and every new word would be a series of its own.
        method: METHODS.includes(c.req.method) ? c.req.method : 'OTHER',
        route: routeOf(c),
        status: c.res.status,
        seconds: (performance.now() - start) / 1000,
      },
      c,
    );
  };

/** The pattern of the route that answers. Middleware, which is registered for all methods, is none. */
export function routeOf(c: Context): string {
  const route = matchedRoutes(c).findLast((one) => one.method !== 'ALL');
  return route?.path ?? NO_ROUTE;
}
