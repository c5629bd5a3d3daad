import type { Hono } from 'hono';
import { API_BASE } from '../../src/server/api/app.js';
import { API_ROUTES } from '../../src/server/api/routes.js';
import { checkAnswer } from './answers.js';
import { crawl, matcherOf, type WalkedRoute, walkRoutes } from './crawl.js';
import { requestsFor } from './requests.js';
import { slowTarget, type Target } from './targets.js';

/** An app to be walked. */
export interface WalkedApp {
  readonly app: Hono;
  /** A token of the API that may do everything. */
  readonly token: string;
  /** Addresses of the API with ids that are there. */
  readonly starts: readonly string[];
}

/** Requests to each route in the test run. */
export const ROUTE_INPUTS = 16;

/** Routes that work for a second and more at each request, on another thread in the running server; these get fewer. */
const HEAVY: readonly RegExp[] = [
  /^GET \/knowledge\/check$/,
  /^POST \/learning\/replay$/,
  /\/training\/(?:practice|replay)/,
];
const HEAVY_SHARE = 0.1;
/** Processor time that one of these may take, ms: a case dealt, every check weighed and every trainee's way run. */
const HEAVY_MS = 10_000;

/** What each route answered, by status. */
export type Statuses = Map<string, Map<number, number>>;

/** A target for each route of the app. */
export async function routeTargets(
  walked: WalkedApp,
  inputs: number,
  statuses: Statuses,
): Promise<{ readonly routes: readonly WalkedRoute[]; readonly targets: readonly Target[] }> {
  const { app, token, starts } = walked;
  const routes = walkRoutes(app);
  await crawl(app, routes, starts);
  for (const route of routes)
    if (route.path.startsWith(API_BASE) && !route.path.includes('*')) {
      const matches = matcherOf(route.path);
      route.addresses.push(...starts.filter((address) => matches.test(address)));
      if (!/[:*]/.test(route.path)) route.addresses.push(route.path);
    }
  const targets = routes.map((route) => {
    const name = `${route.method} ${route.path}`;
    const seen = new Map<number, number>();
    statuses.set(name, seen);
    const api = API_ROUTES.find(
      (one) =>
        one.method.toUpperCase() === route.method &&
        `${API_BASE}${one.path.replace(/\{(\w+)\}/g, ':$1')}` === route.path,
    );
    const heavy = HEAVY.some((one) => one.test(name));
    return slowTarget(
      name,
      heavy ? Math.max(2, Math.round(inputs * HEAVY_SHARE)) : inputs,
      requestsFor(route, api, token),
      async (sent) => {
        const response = await app.request(sent.url, {
          method: sent.method,
          headers: { ...sent.headers },
          ...(sent.body === undefined ? {} : { body: sent.body }),
        });
        seen.set(response.status, (seen.get(response.status) ?? 0) + 1);
        await checkAnswer(sent, response);
      },
      heavy ? HEAVY_MS : undefined,
    );
  });
  return { routes, targets };
}
