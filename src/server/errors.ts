import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { say } from '../language/say.js';
import { AccessError } from './access/requester.js';
import { isOverload, overloadAnswer } from './busy.js';
import { MissingBook } from './need-book.js';
import { requestIdOf } from './request-id.js';
import type { Site } from './site.js';

type Status = 400 | 403 | 404 | 405 | 413 | 415 | 429 | 500;

const KNOWN: readonly number[] = [400, 403, 404, 405, 413, 415, 429, 500] satisfies Status[];

/**
 * A whole page that says what went wrong.
 * @param words in place of the usual ones
 * @param title in place of the usual heading
 */
export function errorPage(
  c: Context,
  site: Site,
  status: Status,
  reference = '',
  words = '',
  title = '',
): Response {
  const heading = title === '' ? say(`fault.${status}`) : title;
  const text = words === '' ? say(`fault.${status}-text`) : words;
  return c.html(
    site.page('error', { title: heading, section: 'none' }, { heading, text, reference }),
    status,
  );
}

/** Turns what was thrown into a page; what nobody foresaw is logged under the reference that the page shows. */
export function answerError(c: Context, site: Site, error: unknown): Response | Promise<Response> {
  if (isOverload(error)) return overloadAnswer(c, site, error);
  if (error instanceof HTTPException) {
    const known = KNOWN.includes(error.status) ? (error.status as Status) : 400;
    return errorPage(c, site, known);
  }
  if (error instanceof MissingBook) return errorPage(c, site, 404, '', error.message);
  if (error instanceof AccessError)
    return errorPage(c, site, 403, '', error.message, say('access.not-yours'));
  const reference = requestIdOf(c);
  // The path alone: the query holds the mill's case.
  site.log(`${reference} ${c.req.method} ${c.req.path}: ${describe(error)}`);
  return errorPage(c, site, 500, reference);
}

const describe = (error: unknown) =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);
