import fc from 'fast-check';
import type { ApiRoute } from '../../src/server/api/route.js';
import { ORIGIN, type WalkedRoute } from './crawl.js';
import { hostileText } from './hostile.js';
import { jsonFor } from './schema-json.js';

/** A request to be sent. */
export interface Sent {
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Uint8Array<ArrayBuffer> | undefined;
}

const HEADERS = [
  'Accept',
  'Accept-Encoding',
  'Accept-Language',
  'Cookie',
  'If-None-Match',
  'If-Modified-Since',
  'Range',
  'Referer',
  'User-Agent',
  'HX-Request',
  'HX-Request-Type',
  'HX-Target',
  'HX-Current-URL',
  'X-HTTP-Method-Override',
  'X-Forwarded-For',
  'X-Forwarded-Proto',
  'X-Forwarded-Host',
  'Forwarded',
  'Idempotency-Key',
  'Content-Encoding',
  'X-Request-Id',
  'Sec-Fetch-Site',
] as const;

/** What a header may hold at all; the rest never gets as far as the server. */
const headerText = (text: string) =>
  text
    .replace(/[^\x20-\x7e\xa0-\xff]/g, '')
    .trim()
    .slice(0, 2000);

const headers: fc.Arbitrary<Record<string, string>> = fc
  .array(
    fc.tuple(
      fc.constantFrom(...HEADERS),
      fc.oneof(
        fc.constantFrom(
          'true',
          'partial',
          'full',
          '*/*',
          'text/html',
          'gzip, br',
          'de-DE,de;q=0.9',
          'peelpoint-name=%F0%28; __proto__=x',
          'bytes=0-',
        ),
        hostileText,
      ),
    ),
    { maxLength: 3 },
  )
  .map((entries) => Object.fromEntries(entries.map(([name, text]) => [name, headerText(text)])));

type Pairs = readonly (readonly [string, string])[];

/** Fields with some exchanged, doubled, dropped or added. */
const changedPairs = (pairs: Pairs): fc.Arbitrary<[string, string][]> =>
  fc
    .array(
      fc.tuple(
        fc.nat(),
        fc.constantFrom('set', 'set', 'set', 'double', 'drop', 'add'),
        hostileText,
        hostileText,
      ),
      { maxLength: 4 },
    )
    .map((changes) => {
      const changed = pairs.map(([name, value]): [string, string] => [name, value]);
      for (const [place, kind, text, name] of changes) {
        const at = place % (changed.length + 1);
        const present = changed[at];
        if (kind === 'add' || present === undefined) changed.push([name, text]);
        else if (kind === 'drop') changed.splice(at, 1);
        else if (kind === 'double') changed.push([present[0], text]);
        else present[1] = text;
      }
      return changed;
    });

/** The address with parts of its path exchanged now and then, and its query changed. */
function changedAddress(address: string, pattern: string): fc.Arbitrary<string> {
  const [path = '', query = ''] = address.split('?');
  const parts = path.split('/');
  const free = pattern.split('/').flatMap((part, n) => (part.includes(':') || part === '*' ? [n] : []));
  const paths =
    free.length === 0
      ? fc.constant(path)
      : fc.oneof(
          { weight: 3, arbitrary: fc.constant(path) },
          {
            weight: 2,
            arbitrary: fc
              .tuple(fc.constantFrom(...free), hostileText)
              .map(([n, text]) => parts.map((part, at) => (at === n ? encode(text) : part)).join('/')),
          },
        );
  return fc.tuple(paths, changedPairs([...new URLSearchParams(query)])).map(([to, pairs]) => {
    const search = new URLSearchParams(pairs).toString();
    return search === '' ? to : `${to}?${search}`;
  });
}

const encode = (text: string) => encodeURIComponent(text.replace(/\p{Surrogate}/gu, '')).slice(0, 600);

/** Requests for one route. */
export function requestsFor(
  route: WalkedRoute,
  api: ApiRoute | undefined,
  token: string,
): fc.Arbitrary<Sent> {
  const sample = route.path.replace(/:(\w+)(\{[^/]*\})?/g, 'x').replace(/\*/g, 'x');
  const method = route.method === 'ALL' ? 'GET' : route.method;
  if (api !== undefined)
    return apiRequests(route, api, method, route.addresses.length === 0 ? [sample] : route.addresses, token);
  if (method === 'GET' || method === 'HEAD') {
    const addresses = route.addresses.length === 0 ? [sample] : route.addresses;
    return fc
      .tuple(
        fc.constantFrom(...addresses).chain((address) => changedAddress(address, route.path)),
        headers,
      )
      .map(([address, more]) => ({ method, url: `${ORIGIN}${address}`, headers: more, body: undefined }));
  }
  const forms = route.forms.length === 0 ? [{ path: sample, fields: [] }] : route.forms;
  return fc.constantFrom(...forms).chain((form) =>
    fc
      .tuple(
        changedAddress(form.path, route.path),
        changedPairs(form.fields),
        fc.constantFrom<'url' | 'parts' | 'broken'>('url', 'url', 'url', 'parts', 'broken'),
        hostileText,
        headers,
      )
      .map(([address, pairs, kind, text, more]) => {
        const { type, body } =
          kind === 'url' ? urlBody(pairs) : kind === 'parts' ? partsBody(pairs, text) : brokenBody(text);
        return {
          method,
          url: `${ORIGIN}${address}`,
          headers: { ...more, Origin: ORIGIN, 'Content-Type': type },
          body,
        };
      }),
  );
}

const bytes = (text: string) => new Uint8Array(Buffer.from(text));
const urlBody = (pairs: Pairs) => ({
  type: 'application/x-www-form-urlencoded',
  body: bytes(new URLSearchParams(pairs as [string, string][]).toString()),
});

/** A form in parts; a field named file or photo becomes a file with a name of the text. */
function partsBody(pairs: Pairs, text: string) {
  const edge = 'edge7';
  const quoted = (value: string) =>
    value.replace(/["\r\n]/g, (char) => `%${char.charCodeAt(0).toString(16).padStart(2, '0')}`);
  const parts = pairs.map(([name, value]) =>
    /^(file|photo|picture)$/.test(name)
      ? `--${edge}\r\nContent-Disposition: form-data; name="${quoted(name)}"; filename="${quoted(text)}"\r\nContent-Type: application/octet-stream\r\n\r\n${value}${text}\r\n`
      : `--${edge}\r\nContent-Disposition: form-data; name="${quoted(name)}"\r\n\r\n${value}\r\n`,
  );
  return { type: `multipart/form-data; boundary=${edge}`, body: bytes(`${parts.join('')}--${edge}--\r\n`) };
}

function brokenBody(text: string) {
  const broken = [
    { type: 'multipart/form-data', body: text },
    {
      type: 'multipart/form-data; boundary=edge7',
      body: `--edge7\r\nContent-Disposition: form-data; name="a"\r\n\r\n${text}`,
    },
    { type: 'application/x-www-form-urlencoded', body: `${text}=%zz&&&=&%=%&a[b]=1&a[__proto__]=2&${text}` },
    { type: 'application/x-www-form-urlencoded; charset=utf-7', body: text },
    { type: headerText(text) || 'text/plain', body: text },
  ];
  const one = broken[text.length % broken.length] ?? { type: 'text/plain', body: text };
  return { type: one.type, body: bytes(one.body) };
}

function apiRequests(
  route: WalkedRoute,
  api: ApiRoute,
  method: string,
  addresses: readonly string[],
  token: string,
): fc.Arbitrary<Sent> {
  const names = api.query === undefined ? [] : Object.keys(api.query.shape);
  const some = fc.array(
    fc.tuple(
      fc.oneof(...(names.length === 0 ? [] : [{ weight: 5, arbitrary: fc.constantFrom(...names) }]), {
        weight: 1,
        arbitrary: hostileText,
      }),
      hostileText,
    ),
    { minLength: 1, maxLength: 3 },
  );
  const query = fc.oneof(
    { weight: names.length === 0 ? 5 : 1, arbitrary: fc.constant<[string, string][]>([]) },
    { weight: 1, arbitrary: some },
  );
  const bodies: fc.Arbitrary<Uint8Array<ArrayBuffer> | undefined> = api.picture
    ? fc.uint8Array({ maxLength: 60 })
    : api.body === undefined
      ? fc.constant(undefined)
      : fc.oneof(
          { weight: 8, arbitrary: jsonFor(api.body).map((value) => bytes(JSON.stringify(value) ?? '')) },
          { weight: 1, arbitrary: hostileText.map(bytes) },
        );
  const type = api.picture
    ? fc.constantFrom('image/png', 'image/jpeg', 'text/html')
    : fc.constantFrom(
        'application/json',
        'application/json',
        'application/json',
        'application/json',
        'text/plain',
      );
  return fc
    .tuple(
      fc.constantFrom(...addresses).chain((address) => changedAddress(address, route.path)),
      query,
      bodies,
      type,
      headers,
      fc.constantFrom(token, token, token, 'wrong'),
    )
    .map(([address, pairs, body, contentType, more, secret]) => {
      const search = new URLSearchParams(pairs).toString();
      return {
        method,
        url: `${ORIGIN}${address.split('?')[0]}${search === '' ? '' : `?${search}`}`,
        headers: {
          ...more,
          Authorization: `Bearer ${secret}`,
          ...(body === undefined ? {} : { 'Content-Type': contentType }),
        },
        body: method === 'GET' ? undefined : body,
      };
    });
}
