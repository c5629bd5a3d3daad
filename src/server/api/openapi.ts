import { z } from 'zod';
import { errorSchema } from './errors.js';
import type { ApiRoute } from './route.js';

type Json = Record<string, unknown>;

/** A zod schema as JSON Schema 2020-12, the dialect of OpenAPI 3.1. */
function schemaOf(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _, ...json } = z.toJSONSchema(schema, {
    io,
    unrepresentable: 'any',
    reused: 'inline',
  }) as Json;
  return json;
}

const REFUSALS: Readonly<Record<string, string>> = {
  400: 'The body is not JSON.',
  401: 'There is no token, or one that is unknown or revoked.',
  403: 'The token has no right to this.',
  404: 'There is no such thing.',
  409: 'Somebody was quicker, or the step cannot be taken where the record stands.',
  413: 'The body is too large.',
  415: 'The body is of another kind than is taken here.',
  422: 'Something in it cannot be used; `fields` says what.',
  429: 'Too many requests; `Retry-After` says how long to wait.',
  503: 'The journal cannot be used just now, or the answer took too long.',
};

/**
 * The OpenAPI 3.1 document, made from the same schemas that check what comes in.
 * @param server address under which the API is reached
 */
export function describeApi(routes: readonly ApiRoute[], version: string, server: string): Json {
  const paths: Record<string, Json> = {};
  for (const one of routes) {
    const path = paths[one.path] ?? {};
    path[one.method] = describeRoute(one);
    paths[one.path] = path;
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Peelpoint',
      version,
      summary: 'Fault diagnosis for rotor spinning, and the journal of a mill',
      description:
        'Times are ISO 8601 with their offset; amounts are in the units their names say. Whatever touches the journal takes a token (`peelpoint token add NAME --rights …`), sent as `Authorization: Bearer …`; what is only computed takes none until the server has accounts. A person signed in with a browser may read with that session. A POST with an `Idempotency-Key` is carried out once, however often it is sent. Records have a version: a write names the one it saw in `seen` and is refused, with what happened since, when it is no longer the present one.',
    },
    servers: [{ url: server }],
    tags: [...new Set(routes.map((one) => one.tag))].map((name) => ({ name })),
    paths,
    components: {
      securitySchemes: { token: { type: 'http', scheme: 'bearer' } },
      schemas: { Error: schemaOf(errorSchema, 'output') },
    },
    security: [{ token: [] }],
  };
}

function describeRoute(one: ApiRoute): Json {
  const parameters: Json[] = [...one.path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    schema: { type: 'string' },
  }));
  if (one.query !== undefined)
    for (const [name, schema] of Object.entries(one.query.shape)) {
      const field = schema as z.ZodType;
      const json = schemaOf(field, 'input');
      const list = JSON.stringify(json).includes('"array"');
      parameters.push({
        name,
        in: 'query',
        required: !field.safeParse(undefined).success,
        schema: json,
        ...(list ? { style: 'form', explode: true } : {}),
      });
    }
  if (one.method === 'post' && !one.open)
    parameters.push({
      name: 'Idempotency-Key',
      in: 'header',
      required: false,
      schema: { type: 'string', minLength: 8, maxLength: 120 },
    });
  const refused = ['401', '403', '404', '429', '503', ...(one.query === undefined ? [] : ['422'])];
  const takesBody = one.body !== undefined || one.picture;
  if (takesBody) refused.push('400', '413', '415', '422', '409');
  const wanted = one.open
    ? refused.filter((status) => !['401', '403', '404', '409'].includes(status))
    : refused;
  return {
    operationId: operationId(one),
    tags: [one.tag],
    summary: one.summary,
    ...(one.open ? { security: [] } : {}),
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(takesBody
      ? {
          requestBody: {
            required: true,
            content: one.picture
              ? Object.fromEntries(['image/png', 'image/jpeg', 'image/webp'].map((type) => [type, {}]))
              : { 'application/json': { schema: schemaOf(one.body as z.ZodType, 'input') } },
          },
        }
      : {}),
    responses: {
      [one.status]: {
        description: one.status === 201 ? 'Recorded.' : 'The answer.',
        content:
          one.response === undefined
            ? Object.fromEntries(['image/png', 'image/jpeg', 'image/webp'].map((type) => [type, {}]))
            : { 'application/json': { schema: schemaOf(one.response, 'output') } },
      },
      ...Object.fromEntries(
        [...new Set(wanted)].sort().map((status) => [
          status,
          {
            description: REFUSALS[status],
            content: { 'application/json': { schema: { $ref: '#/components/schemas/Error' } } },
          },
        ]),
      ),
    },
  };
}

/** `getCasesCaseDiagnosesNumber`: fixed by method and path. */
const operationId = ({ method, path }: ApiRoute): string =>
  method +
  path
    .split(/[^a-zA-Z]+/)
    .filter((part) => part !== '')
    .map((part) => part.charAt(0).toUpperCase() + part.slice(1))
    .join('');
