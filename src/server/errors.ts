import type { Context } from 'hono';
import { HTTPException } from 'hono/http-exception';
import { isOverload, overloadAnswer } from './busy.js';
import { MissingBook } from './need-book.js';
import { requestIdOf } from './request-id.js';
import type { Site } from './site.js';

type Status = 400 | 403 | 404 | 405 | 413 | 415 | 500;

const WORDS: Record<Status, readonly [string, string]> = {
  400: ['This cannot be read', 'The address or the form does not say what is wanted. Go back and try again.'],
  403: [
    'This form came from elsewhere',
    'Forms are taken only from pages of this server. Open the page again and send the form from there.',
  ],
  404: ['There is no such page', 'The address may be mistyped or out of date.'],
  405: ['This page cannot be used that way', 'Open the page itself and use what is on it.'],
  413: ['This is too large', 'A case file has at most 60 000 characters, a table of breaks 16 MB.'],
  415: ['This is not a form', 'Only forms of these pages are taken here.'],
  500: [
    'Something went wrong here',
    'The fault is in the program, not in what you typed. Your case is still in the address of the page before: go back to it. If it happens again, tell whoever looks after this server the reference below.',
  ],
};

/**
 * A whole page that says what went wrong.
 * @param words in place of the usual ones
 */
export function errorPage(c: Context, site: Site, status: Status, reference = '', words = ''): Response {
  const [heading, usual] = WORDS[status];
  const text = words === '' ? usual : words;
  return c.html(
    site.page('error', { title: heading, section: 'none' }, { heading, text, reference }),
    status,
  );
}

/** Turns what was thrown into a page; what nobody foresaw is logged under the reference that the page shows. */
export function answerError(c: Context, site: Site, error: unknown): Response | Promise<Response> {
  if (isOverload(error)) return overloadAnswer(c, site, error);
  if (error instanceof HTTPException) {
    const known = error.status in WORDS ? (error.status as Status) : 400;
    return errorPage(c, site, known);
  }
  if (error instanceof MissingBook) return errorPage(c, site, 404, '', error.message);
  const reference = requestIdOf(c);
  // The path alone: the query holds the mill's case.
  site.log(`${reference} ${c.req.method} ${c.req.path}: ${describe(error)}`);
  return errorPage(c, site, 500, reference);
}

const describe = (error: unknown) =>
  error instanceof Error ? (error.stack ?? error.message) : String(error);
