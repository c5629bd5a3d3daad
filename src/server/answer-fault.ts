import type { Context } from 'hono';
import { isPlaceFault } from '../journal/index.js';
import { API_BASE } from './api/base.js';
import { answerCallFault } from './api/refuse.js';
import { answerError } from './errors.js';
import { awayPage } from './journal/desk.js';
import type { Site } from './site.js';

/**
 * Turns whatever was thrown into an answer of the kind that was asked for: JSON to a client of the API, the page that the
 * journal is away (with the form that was sent) where it is that, else a page that says what went wrong.
 */
export function answerFault(c: Context, site: Site, error: Error): Response | Promise<Response> {
  const { path } = c.req;
  if (path === API_BASE || path.startsWith(`${API_BASE}/`)) return answerCallFault(c, site, error);
  if (!isPlaceFault(error)) return answerError(c, site, error);
  site.log(`journal: ${error.message}`);
  return awayPage(c, site, { kind: 'closed', fault: error.fault, why: () => error.words });
}
