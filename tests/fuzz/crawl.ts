import type { Hono } from 'hono';
import { inspectRoutes } from 'hono/dev';
import { formFields } from '../server/site.js';

/** The origin of the requests; forms are taken from pages of the same one only. */
export const ORIGIN = 'http://localhost';

/** A form as a page of the server offers it. */
export interface FormSample {
  readonly path: string;
  readonly fields: readonly (readonly [string, string])[];
}

/** One operation of the server, with addresses and forms that its own pages lead to. */
export interface WalkedRoute {
  readonly method: string;
  readonly path: string;
  /** Addresses with their queries. */
  readonly addresses: string[];
  readonly forms: FormSample[];
}

/** An app, or a server on the network. */
export interface Asked {
  request(url: string, init?: RequestInit): Response | Promise<Response>;
}

const PAGES_EACH = 1;
/** What works for seconds is not asked for on the way. */
const NOT_FOLLOWED = /^\/(?:knowledge\/check|learning\/replay)/;
const SAMPLES_EACH = 6;

/** Every route of the app, taken from the router itself, so that none can be forgotten; middleware apart. */
export function walkRoutes(app: Hono): WalkedRoute[] {
  const seen = new Map<string, WalkedRoute>();
  for (const { method, path, isMiddleware } of inspectRoutes(app)) {
    if (isMiddleware) continue;
    const key = `${method} ${path}`;
    if (!seen.has(key)) seen.set(key, { method, path, addresses: [], forms: [] });
  }
  return [...seen.values()];
}

/** What a pattern of the router matches; parameters without one take anything but a slash. */
export function matcherOf(path: string): RegExp {
  const source = path
    .replace(/[.+^$()|[\]\\]/g, (char) => `\\${char}`)
    .replace(/:(\w+)(?:\{((?:[^{}]|\{[^}]*\})*)\})?/g, (_, __, inner: string | undefined) =>
      inner === undefined ? '[^/]+' : inner.replace(/\\([.+^$()|[\]\\])/g, '$1'),
    )
    .replace(/\*/g, '.*');
  return new RegExp(`^${source}$`);
}

/**
 * Follows the links and forms of the pages, a few of each kind, so that requests can be made that a person would make.
 * @param starts addresses to begin with, besides those of routes without parameters
 */
export async function crawl(
  app: Asked,
  routes: readonly WalkedRoute[],
  starts: readonly string[],
  { origin = ORIGIN, forms = true }: { readonly origin?: string; readonly forms?: boolean } = {},
): Promise<void> {
  const matchers = routes.map((route) => ({ route, matches: matcherOf(route.path) }));
  const pagesOf = new Map<WalkedRoute, number>();
  const waiting = [
    ...starts,
    ...routes
      .filter((route) => route.method === 'GET' && !/[:*]/.test(route.path))
      .map((route) => route.path),
  ];
  const known = new Set<string>();
  const routeOf = (method: string, path: string) =>
    matchers.find(
      ({ route, matches }) => route.method === method && !route.path.includes('*') && matches.test(path),
    )?.route;
  const sentForms = new Set<FormSample>();
  for (;;) {
    if (waiting.length === 0) {
      // Forms lead on to pages that no link does: a table that was sent, a case that was opened.
      const form = (forms ? routes : [])
        .filter((route) => route.method === 'POST')
        .flatMap((route) => route.forms.slice(1, 2))
        .find((one) => !sentForms.has(one) && !NOT_FOLLOWED.test(one.path));
      if (form === undefined) return;
      sentForms.add(form);
      const to = (await send(app, form)).headers.get('Location');
      if (to !== null) waiting.push(to.split('#')[0] ?? '');
      continue;
    }
    const address = waiting.shift() ?? '';
    if (known.has(address)) continue;
    known.add(address);
    const route = routeOf('GET', address.split('?')[0] ?? '');
    if (route === undefined) continue;
    if (route.addresses.length < SAMPLES_EACH) route.addresses.push(address);
    const pages = pagesOf.get(route) ?? 0;
    if (pages >= PAGES_EACH || NOT_FOLLOWED.test(address)) continue;
    pagesOf.set(route, pages + 1);
    const response = await app.request(`${origin}${address}`);
    if (!response.headers.get('Content-Type')?.startsWith('text/html')) continue;
    const html = await response.text();
    for (const [, href = ''] of html.matchAll(/\b(?:href|src)="(\/[^"#]*)/g)) waiting.push(plain(href));
    for (const [, attributes = '', inner = ''] of html.matchAll(/<form\b([^>]*)>(.*?)<\/form>/gs)) {
      const action = plain(/\baction="([^"#]*)/.exec(attributes)?.[1] ?? address);
      const fields = allFields(inner);
      if (/\bmethod="post"/i.test(attributes)) {
        const to = routeOf('POST', action.split('?')[0] ?? '');
        if (to !== undefined && to.forms.length < SAMPLES_EACH)
          to.forms.push({ path: action, fields }, { path: action, fields: filledIn(inner, fields) });
      } else waiting.push(`${action.split('?')[0]}?${new URLSearchParams(fields as [string, string][])}`);
    }
  }
}

const send = (app: Asked, form: FormSample): Promise<Response> =>
  Promise.resolve(
    app.request(`${ORIGIN}${form.path}`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: ORIGIN },
      body: new URLSearchParams(form.fields as [string, string][]).toString(),
    }),
  );

const plain = (text: string) =>
  text
    .replace(/&quot;/g, '"')
    .replace(/&#39;/g, "'")
    .replace(/&amp;/g, '&');

/** Fields as a browser would send them, and those nobody has chosen yet as well. */
function allFields(inner: string): [string, string][] {
  const sent = formFields(inner);
  const names = new Set(sent.map(([name]) => name));
  const others = [...inner.matchAll(/\bname="([^"]+)"/g)]
    .map((match) => match[1] ?? '')
    .filter((name) => !names.has(name));
  return [...sent, ...[...new Set(others)].map((name): [string, string] => [name, ''])];
}

/** The fields with something plausible typed where nothing stands. */
function filledIn(inner: string, fields: readonly (readonly [string, string])[]): [string, string][] {
  return fields.map(([name, value]): [string, string] => {
    if (value !== '') return [name, value];
    const tag =
      [...inner.matchAll(/<input\b[^>]*>/g)]
        .map(([one]) => one)
        .find((one) => one.includes(`name="${name}"`)) ?? '';
    const type = /\btype="([^"]*)"/.exec(tag)?.[1] ?? '';
    if (type === 'datetime-local') return [name, '2026-03-02T06:15'];
    if (type === 'date') return [name, '2026-03-02'];
    return [
      name,
      type === 'number' || /inputmode="(?:numeric|decimal)"/.test(tag)
        ? '5'
        : name === 'who'
          ? 'Ruth'
          : 'weft',
    ];
  });
}
