import type { Context } from 'hono';
import { say } from '../../language/say.js';
import { ApiError } from '../api/errors.js';
import { refuseCall } from '../api/refuse.js';
import type { Site } from '../site.js';
import { viewSignIn } from '../views/access/sign-in.js';
import { localPath } from './local-path.js';
import type { AccessSettings } from './settings.js';

/** Most characters of a form that is kept over a sign-in. */
const MOST_KEPT = 200_000;

/**
 * The answer to somebody who has to sign in first: the sign-in page, which leads back to where they wanted to go. What
 * was typed into a form whose session ended meanwhile is taken along, so that it can be sent once more.
 */
export async function askToSignIn(
  c: Context,
  site: Site,
  settings: AccessSettings,
  api: boolean,
): Promise<Response> {
  if (api)
    return refuseCall(
      c,
      new ApiError(
        401,
        'token-missing',
        'Send a token: “Authorization: Bearer …”. The command “peelpoint token add NAME” makes one.',
      ),
    );
  const asked = new URL(c.req.url);
  if (c.req.method === 'GET' || c.req.method === 'HEAD') {
    // A part of a page is asked for: the page itself is where to come back to.
    const partial = c.req.header('hx-request') !== undefined;
    const from = partial ? pathOf(c.req.header('hx-current-url')) : undefined;
    const next = localPath(from ?? `${asked.pathname}${asked.search}`);
    const to = next === '/' ? '/sign-in' : `/sign-in?next=${encodeURIComponent(next)}`;
    if (!partial) return c.redirect(to, 303);
    c.header('HX-Redirect', to);
    return c.body(null, 200);
  }
  const kept = await keptForm(c);
  return c.html(
    site.page(
      'sign-in',
      { title: say('access.sign-in'), section: 'none' },
      viewSignIn({
        lead: kept === undefined ? say('access.not-carried-out') : say('access.not-sent'),
        next: kept === undefined ? localPath(pathOf(c.req.header('referer'))) : '/',
        kept,
        provider: settings.provider,
      }),
    ),
    401,
  );
}

/** The path of an address of ours. */
function pathOf(address: string | undefined): string | undefined {
  if (address === undefined) return undefined;
  try {
    const url = new URL(address);
    return `${url.pathname}${url.search}`;
  } catch {
    return undefined;
  }
}

/** What a form sent, as text; undefined when it is no form, too long, or came with files. */
async function keptForm(c: Context): Promise<{ action: string; fields: string } | undefined> {
  const action = localPath(new URL(c.req.url).pathname, '');
  if (action === '') return undefined;
  try {
    const fields = new URLSearchParams();
    for (const [name, value] of await c.req.formData()) {
      if (typeof value !== 'string') {
        if (value.size > 0) return undefined;
      } else fields.append(name, value);
    }
    // Never carry passwords from page to page.
    if ([...fields.keys()].some((name) => /password/i.test(name))) return undefined;
    const text = fields.toString();
    return text.length > MOST_KEPT ? undefined : { action, fields: text };
  } catch {
    return undefined;
  }
}
