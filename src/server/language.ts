import type { MiddlewareHandler } from 'hono';
import { getCookie } from 'hono/cookie';
import { isLanguage, LANGUAGES, OFFERED, preferredLanguage, SOURCE_LANGUAGE } from '../language/languages.js';
import { inLanguage, language, languageInfo } from '../language/scope.js';
import type { Shell } from '../templates/models.js';

/** Cookie that keeps the language a reader chose. */
export const LANGUAGE_COOKIE = 'language';

/**
 * Answers a request in the reader's language: the one chosen, else what the browser asks for, else English. What is
 * for machines (paths below `/api`) stays English.
 */
export const readerLanguage: MiddlewareHandler = async (c, next) => {
  if (c.req.path.startsWith('/api/') || c.req.path.startsWith('/assets/')) return next();
  const chosen = getCookie(c, LANGUAGE_COOKIE) ?? '';
  const now = isLanguage(chosen)
    ? chosen
    : (preferredLanguage(c.req.header('accept-language') ?? '') ?? SOURCE_LANGUAGE);
  await inLanguage(now, next);
  // A kept page must not come back in the language of before.
  c.res.headers.append('Vary', 'Cookie, Accept-Language');
  if (c.res.headers.get('content-type')?.startsWith('text/html') === true)
    c.res.headers.set('Content-Language', LANGUAGES[now].tag);
};

/** What the shell of a page says of its language, and the others to choose from. */
export function viewLanguage(): Pick<Shell, 'lang' | 'direction' | 'reviewed' | 'languages'> {
  const { tag, direction, reviewed } = languageInfo();
  return {
    lang: tag,
    direction,
    reviewed,
    languages: OFFERED.map((one) => ({
      value: one,
      name: LANGUAGES[one].name,
      lang: LANGUAGES[one].tag,
      current: one === language(),
    })),
  };
}
