import type { Context } from 'hono';
import { answerTo } from './errors.js';

/** A refusal as the API gives it. Throws on what nobody foresaw. */
export function refuseCall(c: Context, error: unknown): Response {
  const known = answerTo(error);
  if (known === undefined) throw error;
  if (known.retrySeconds !== undefined) c.header('Retry-After', String(known.retrySeconds));
  if (known.status === 401) c.header('WWW-Authenticate', 'Bearer');
  return c.json(known.body, known.status);
}
