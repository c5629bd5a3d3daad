import { createHash, timingSafeEqual } from 'node:crypto';
import { type Context, Hono } from 'hono';
import { clientAddress } from './log-requests.js';
import type { Metrics } from './metrics.js';
import type { Readiness } from './readiness.js';

export interface OperatingParts {
  readonly knowledgeVersion: string;
  readonly readiness: () => Promise<Readiness>;
  readonly metrics?: Metrics | undefined;
  /** Secret with which the measures may be read from elsewhere. */
  readonly metricsToken?: string | undefined;
}

/** Addresses for machines that look after the server. */
export function operatingRoutes(parts: OperatingParts): Hono {
  const { metrics, metricsToken } = parts;
  const app = new Hono();
  // The process is alive; nothing else is asked, so that a fault elsewhere does not get it killed.
  app.get('/healthz', (c) => c.json({ ok: true, knowledge: parts.knowledgeVersion }));
  app.get('/readyz', async (c) => {
    const state = await parts.readiness();
    c.header('Cache-Control', 'no-store');
    return c.json(state, state.ready ? 200 : 503);
  });
  app.get('/metrics', async (c) => {
    // To a stranger it is not there.
    if (metrics === undefined || !mayRead(c, metricsToken)) return c.notFound();
    return c.body(await metrics.text(), 200, {
      'Content-Type': metrics.contentType,
      'Cache-Control': 'no-store',
    });
  });
  return app;
}

/** What proxies add; with one of these a request from this machine comes from somewhere else. */
const FORWARDED = [
  'forwarded',
  'via',
  'x-forwarded-for',
  'x-forwarded-host',
  'x-forwarded-proto',
  'x-real-ip',
];
const LOOPBACK_ADDRESS = /^(?:127\.|::1$|::ffff:127\.)/;
const LOOPBACK_HOST = /^(?:localhost|127(?:\.\d{1,3}){3}|\[::1\])(?::\d+)?$/;

/** Whoever has the token; without one, programs on this machine, not through a proxy and not by a page elsewhere. */
function mayRead(c: Context, token: string | undefined): boolean {
  const [, given] = /^Bearer\s+(\S+)$/i.exec(c.req.header('authorization') ?? '') ?? [];
  if (token !== undefined && token !== '') return given !== undefined && sameSecret(given, token);
  return (
    LOOPBACK_ADDRESS.test(clientAddress(c) ?? '') &&
    LOOPBACK_HOST.test(c.req.header('host') ?? '') &&
    FORWARDED.every((name) => c.req.header(name) === undefined)
  );
}

const digest = (text: string) => createHash('sha256').update(text).digest();
const sameSecret = (one: string, other: string) => timingSafeEqual(digest(one), digest(other));
