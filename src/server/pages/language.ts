import { Hono } from 'hono';
import { setCookie } from 'hono/cookie';
import { isLanguage } from '../../language/languages.js';
import { readForm } from '../form-body.js';
import { LANGUAGE_COOKIE } from '../language.js';

const YEAR_SECONDS = 365 * 24 * 3600;

/** Keeps the language a reader chose at the foot of a page, and leads back to that page. */
export function languagePages(): Hono {
  return new Hono().post('/language', async (c) => {
    const chosen = (await readForm(c)).get('language') ?? '';
    if (isLanguage(chosen))
      setCookie(c, LANGUAGE_COOKIE, chosen, {
        path: '/',
        maxAge: YEAR_SECONDS,
        httpOnly: true,
        sameSite: 'Lax',
        secure: new URL(c.req.url).protocol === 'https:',
      });
    return c.redirect(pageBefore(c.req.header('referer')), 303);
  });
}

/** Path of the page the form was on; its host is left out, so that nobody can be led elsewhere. */
function pageBefore(referer: string | undefined): string {
  if (referer === undefined || !URL.canParse(referer)) return '/';
  const { pathname, search } = new URL(referer);
  return pathname.startsWith('//') ? '/' : `${pathname}${search}`;
}
