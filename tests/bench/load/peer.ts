import { serve } from '@hono/node-server';
import { Hono } from 'hono';

/** A bare app of the same framework: `/bytes/N` is a text of N bytes, computed from nothing. */
const app = new Hono().get('/bytes/:n{[0-9]+}', (c) =>
  c.text('x'.repeat(Math.min(2_000_000, Number(c.req.param('n'))))),
);
serve({ fetch: app.fetch, port: 0, hostname: '127.0.0.1' }, ({ port }) =>
  console.log(`http://127.0.0.1:${port}`),
);
process.once('SIGTERM', () => process.exit(0));
