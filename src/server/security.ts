import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { csrf } from 'hono/csrf';
import { HTTPException } from 'hono/http-exception';
import { secureHeaders } from 'hono/secure-headers';
import { MOST_PHOTO_BYTES } from '../journal/index.js';
import { TABLE_BYTES } from './counts/table-store.js';

/** Largest form taken: several times the longest case file. */
const MOST_BYTES = 1024 * 1024;
/** The longest form, a setup with its blend, has about a hundred. */
const MOST_FIELDS = 2000;
const FORMS = ['application/x-www-form-urlencoded', 'multipart/form-data'];

/** No body of such a request is ever read; to ask for it alone makes the framework build a second request. */
const BODILESS = ['GET', 'HEAD'];

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

/** A year, as browsers and checklists expect. */
const REMEMBER_HTTPS = 'max-age=31536000; includeSubDomains';

/**
 * Headers that keep the pages to themselves: no script, style or request but from this server, no framing.
 * `same-origin` rather than `no-referrer`, since browsers send `Origin: null` with plain forms under the latter and
 * the check of the origin would refuse them on a plant network without https.
 * @param publicOrigin where browsers see the server; only under https do they get the headers that mean something there
 */
export function guardHeaders(publicOrigin: string | undefined): MiddlewareHandler {
  const secure = publicOrigin?.startsWith('https://') ?? false;
  return secureHeaders({
    contentSecurityPolicy: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      connectSrc: ["'self'"],
      formAction: ["'self'"],
      baseUri: ["'none'"],
      objectSrc: ["'none'"],
      frameAncestors: ["'none'"],
    },
    referrerPolicy: 'same-origin',
    // On plain http browsers disregard these and say so in the console.
    crossOriginOpenerPolicy: secure,
    originAgentCluster: secure,
    strictTransportSecurity: secure ? REMEMBER_HTTPS : false,
    permissionsPolicy: { camera: [], geolocation: [], microphone: [], payment: [], usb: [] },
  });
}

/** Takes forms only, of a bounded size, and only from pages of this server. */
export function guardForms(publicOrigin: string | undefined): MiddlewareHandler[] {
  return [
    (c, next) =>
      BODILESS.includes(c.req.method)
        ? next()
        : (c.req.path === TABLE_PATH ? tableLimit : PHOTO_PATH.test(c.req.path) ? photoLimit : usualLimit)(
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
    async (c, next) => {
      if (c.req.method === 'POST') await requireReadable(c);
      await next();
    },
  ];
}

/** A form that broke off, or has more fields than any page, is refused before a page sees it. */
async function requireReadable(c: Context): Promise<void> {
  let fields = 0;
  try {
    // Read once: the pages get the same object.
    for (const _ of await c.req.formData()) fields++;
  } catch (cause) {
    throw new HTTPException(400, { cause });
  }
  if (fields > MOST_FIELDS) throw new HTTPException(413);
}

/** Pages hold what a mill says of itself: no cache but the reader's own may see them, and that one must ask again. */
export const keepPrivate: MiddlewareHandler = async (c, next) => {
  await next();
  if (c.res.headers.get('Cache-Control') === null) c.res.headers.set('Cache-Control', 'private, no-store');
};
