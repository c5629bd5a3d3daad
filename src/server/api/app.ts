import { type Context, Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { MOST_PHOTO_BYTES } from '../../journal/index.js';
import { currentRequester } from '../access/requester.js';
import type { Site } from '../site.js';
import { API_BASE } from './base.js';
import { ApiError, fieldsOf } from './errors.js';
import { describeApi } from './openapi.js';
import { answerCallFault, refuseCall } from './refuse.js';
import type { ApiBytes, ApiCall, ApiRoute } from './route.js';
import { API_ROUTES } from './routes.js';

export { API_BASE };

/** Fifty thousand break events fit. */
const MOST_JSON_BYTES = 8 * 1024 * 1024;
const PICTURES = ['image/png', 'image/jpeg', 'image/webp'];

/** The API: the operations of the table, each checked by its own schemas. */
export function apiApp(site: Site): Hono {
  const app = new Hono();
  const limit = (most: number) =>
    bodyLimit({
      maxSize: most,
      onError: () => {
        throw new ApiError(413, 'too-large', `The body may have at most ${most} bytes.`);
      },
    });
  let document: unknown;
  app.get('/openapi.json', (c) => {
    document ??= describeApi(API_ROUTES, site.knowledge.version, API_BASE);
    return c.json(document as object);
  });
  for (const one of API_ROUTES) {
    const path = one.path.replace(/\{(\w+)\}/g, ':$1');
    app.on(
      one.method.toUpperCase(),
      path,
      limit(one.picture ? MOST_PHOTO_BYTES + 1024 : MOST_JSON_BYTES),
      (c) => answer(c, site, one),
    );
  }
  app.all('*', (c) => {
    const asked = c.req.path.slice(API_BASE.length);
    const others = API_ROUTES.filter((one) =>
      new RegExp(`^${one.path.replace(/\{\w+\}/g, '[^/]+')}$`).test(asked),
    ).map((one) => one.method.toUpperCase());
    if (others.length === 0)
      throw new ApiError(
        404,
        'not-found',
        `There is nothing at ${asked}. ${API_BASE}/openapi.json lists what there is.`,
      );
    c.header('Allow', others.join(', '));
    return refuseCall(c, new ApiError(405, 'method', `${asked} takes ${others.join(', ')} only.`));
  });
  app.onError((error, c) => answerCallFault(c, site, error));
  return app;
}

async function answer(c: Context, site: Site, one: ApiRoute): Promise<Response> {
  const client = one.open ? undefined : await openFor(site);
  const query = readQuery(c, one);
  const body = await readBody(c, one);
  const key = c.req.header('idempotency-key');
  if (key !== undefined && !/^[\x21-\x7e]{8,120}$/.test(key))
    throw new ApiError(422, 'input', 'The Idempotency-Key cannot be used.', [
      { field: 'Idempotency-Key', value: key.slice(0, 60), allowed: '8 to 120 printable characters' },
    ]);
  const call: ApiCall<unknown, unknown> = {
    site,
    params: c.req.param() as Record<string, string>,
    query,
    body,
    get journal() {
      if (client === undefined) throw new Error(`${one.path} has no journal`);
      return client.journal;
    },
    by: (at) => ({
      who: client?.name ?? 'API',
      ...(at === undefined ? {} : { at }),
      // A key is a client's own: another one may use the same.
      ...(key === undefined ? {} : { key: `api-${client?.id ?? ''}-${key}` }),
    }),
  };
  const result = await one.handle(call);
  if (one.response === undefined) {
    const { bytes, headers } = result as ApiBytes;
    return c.body(new Uint8Array(bytes), 200, { ...headers });
  }
  return c.json(result as object, one.status);
}

/** The journal with whoever uses it: the guard of the routes has seen to it that they may. */
async function openFor(site: Site) {
  const state = await site.journal.state();
  if (state.kind === 'filling')
    throw new ApiError(
      503,
      'filling',
      'The demonstration mill is being written; try again in half a minute.',
    );
  if (state.kind === 'none')
    throw new ApiError(503, 'no-journal', 'The server was started without a journal.');
  if (state.kind === 'closed') throw new ApiError(503, state.fault, state.why());
  const requester = currentRequester();
  if (requester.kind === 'client') return { journal: state.journal, id: requester.id, name: requester.name };
  if (requester.kind === 'person')
    return { journal: state.journal, id: requester.account.id, name: requester.account.shown };
  throw new ApiError(401, 'token-missing', 'Send a token: “Authorization: Bearer …”.');
}

function readQuery(c: Context, one: ApiRoute): unknown {
  const params = new URL(c.req.url).searchParams;
  const given = Object.fromEntries(
    [...new Set(params.keys())].map((name) => {
      const values = params.getAll(name);
      return [name, values.length === 1 ? values[0] : values];
    }),
  );
  if (one.query === undefined) {
    const [extra] = Object.keys(given);
    if (extra === undefined) return {};
    throw new ApiError(422, 'input', 'The address has parameters that nothing is done with.', [
      {
        field: extra === '' ? '""' : extra.slice(0, 60),
        value: 'this parameter',
        allowed: 'no parameters here',
      },
    ]);
  }
  const read = one.query.safeParse(given);
  if (read.success) return read.data;
  throw new ApiError(
    422,
    'input',
    'The address has parameters that cannot be used.',
    fieldsOf(read.error, given),
  );
}

async function readBody(c: Context, one: ApiRoute): Promise<unknown> {
  if (one.body === undefined && !one.picture) return undefined;
  const type = (c.req.header('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  if (one.picture) {
    if (!PICTURES.includes(type))
      throw new ApiError(415, 'content-type', `The body must be ${PICTURES.join(', ')}.`);
    return new Uint8Array(await c.req.arrayBuffer());
  }
  // Browsers send JSON across origins only after asking, so a page elsewhere cannot post here unseen.
  if (type !== 'application/json')
    throw new ApiError(415, 'content-type', 'The body must be application/json.');
  let value: unknown;
  try {
    value = await c.req.json();
  } catch {
    throw new ApiError(400, 'json', 'The body is not JSON.');
  }
  const read = (one.body as NonNullable<ApiRoute['body']>).safeParse(value);
  if (read.success) return read.data;
  throw new ApiError(422, 'input', 'The body has fields that cannot be used.', fieldsOf(read.error, value));
}
