import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { csrf } from 'hono/csrf';
import { HTTPException } from 'hono/http-exception';
import { secureHeaders } from 'hono/secure-headers';
import { MOST_PHOTO_BYTES } from '../journal/index.js';
import { TABLE_BYTES } from './counts/table-store.js';

/** Largest form taken: several times the longest case file. */
const MOST_BYTES = 1024 * 1024;
const FORMS = ['application/x-www-form-urlencoded', 'multipart/form-data'];

/** Where a table of breaks is sent, which may be longer. */
const TABLE_PATH = '/counts/table';
/** Where photos of a fault are sent. */
const PHOTO_PATH = /^\/complaints\/complaint-\d+\/photos$/;
const tooLarge = () => {
  throw new HTTPException(413);
};
const usualLimit = bodyLimit({ maxSize: MOST_BYTES, onError: tooLarge });
/** The form around the file takes some bytes as well. */
const tableLimit = bodyLimit({ maxSize: TABLE_BYTES + 4096, onError: tooLarge });
/** A little over the limit of a photo, so that the page itself can say what is too large. */
const photoLimit = bodyLimit({ maxSize: MOST_PHOTO_BYTES * 1.5, onError: tooLarge });

/**
 * Headers that keep the pages to themselves: no script, style or request but from this server, no framing.
 * `same-origin` rather than `no-referrer`, since browsers send `Origin: null` with plain forms under the latter and
 * the check of the origin would refuse them on a plant network without https.
 */
export const guardHeaders: MiddlewareHandler = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: ["'none'"],
    scriptSrc: ["'self'"],
    styleSrc: ["'self'"],
    imgSrc: ["'self'", 'data:'],
    connectSrc: ["'self'"],
    formAction: ["'self'"],
    baseUri: ["'none'"],
    frameAncestors: ["'none'"],
  },
  referrerPolicy: 'same-origin',
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
  strictTransportSecurity: false,
});

/** Takes forms only, of a bounded size, and only from pages of this server. */
export function guardForms(publicOrigin: string | undefined): MiddlewareHandler[] {
  return [
    (c, next) =>
      (c.req.path === TABLE_PATH ? tableLimit : PHOTO_PATH.test(c.req.path) ? photoLimit : usualLimit)(
        c,
        next,
      ),
    async (c, next) => {
      if (c.req.method === 'POST') {
        const type = (c.req.header('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
        if (!FORMS.includes(type)) throw new HTTPException(415);
      }
      await next();
    },
    csrf(publicOrigin === undefined ? {} : { origin: [publicOrigin] }),
  ];
}

/** Pages hold what a mill says of itself: no cache but the reader's own may see them, and that one must ask again. */
export const keepPrivate: MiddlewareHandler = async (c, next) => {
  await next();
  if (c.res.headers.get('Cache-Control') === null) c.res.headers.set('Cache-Control', 'private, no-store');
};
