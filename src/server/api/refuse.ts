import type { Context } from 'hono';
import { requestIdOf } from '../request-id.js';
import type { Site } from '../site.js';
import { answerTo } from './errors.js';

/** A refusal as the API gives it. Throws on what nobody foresaw. */
export function refuseCall(c: Context, error: unknown): Response {
  const known = answerTo(error);
  if (known === undefined) throw error;
  if (known.retrySeconds !== undefined) c.header('Retry-After', String(known.retrySeconds));
  if (known.status === 401) c.header('WWW-Authenticate', 'Bearer');
  return c.json(known.body, known.status);
}

/** The answer to whatever was thrown while a call was carried out; what nobody foresaw is logged. */
export function answerCallFault(c: Context, site: Pick<Site, 'log'>, error: Error): Response {
  if (answerTo(error) !== undefined) return refuseCall(c, error);
  site.log(`${requestIdOf(c)} ${c.req.method} ${c.req.path}: ${error.stack ?? error.message}`);
  return c.json(
    {
      error: {
        code: 'fault',
        message: `The fault is in the program; it has been logged under ${requestIdOf(c)}.`,
        fields: [],
      },
    },
    500,
  );
}
