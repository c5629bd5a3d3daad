import type { Hono } from 'hono';
import { addAccount, type Journal, makeLink, type Role, useLink } from '../../../src/journal/index.js';
import { hashPassword } from '../../../src/server/access/passwords.js';
import { formFields } from '../site.js';

export const ORIGIN = 'http://plant.test';
export const PASSWORD = 'seven grey herons wait';

let hash: Promise<string> | undefined;

/** Makes an account with the usual password. */
export async function addPerson(
  journal: Journal,
  name: string,
  roles: readonly Role[],
  shown = name,
): Promise<string> {
  hash ??= hashPassword(PASSWORD);
  const { id } = await addAccount(journal, { name, shown, roles: [...roles] }, { who: 'Test' });
  const { secret } = await makeLink(journal, id, { who: 'Test' });
  await useLink(journal, secret, await hash);
  return id;
}

/** A browser without script: keeps cookies, follows nothing by itself. */
export interface Visitor {
  readonly cookies: Map<string, string>;
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  post(
    path: string,
    fields: Iterable<readonly [string, string]>,
    headers?: Record<string, string>,
  ): Promise<Response>;
  /** Opens a page and sends its form that goes to `action`, with some values filled in. */
  send(
    path: string,
    values: Readonly<Record<string, string | readonly string[]>>,
    action?: string,
  ): Promise<Response>;
  signIn(name: string, password?: string): Promise<Response>;
}

export function visit(app: Hono, address = '192.0.2.10'): Visitor {
  const cookies = new Map<string, string>();
  const ask = async (path: string, init: RequestInit): Promise<Response> => {
    const headers = new Headers(init.headers);
    if (cookies.size > 0)
      headers.set('Cookie', [...cookies].map(([name, value]) => `${name}=${value}`).join('; '));
    const response = await app.request(
      `${ORIGIN}${path}`,
      { ...init, headers },
      {
        incoming: { socket: { remoteAddress: address } },
      },
    );
    for (const line of response.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(line) ?? [];
      if (/max-age=0/i.test(line)) cookies.delete(name);
      else cookies.set(name, value);
    }
    return response;
  };
  const visitor: Visitor = {
    cookies,
    get: (path, headers = {}) => ask(path, { headers }),
    post: (path, fields, headers = {}) =>
      ask(path, {
        method: 'POST',
        headers: { 'Content-Type': 'application/x-www-form-urlencoded', Origin: ORIGIN, ...headers },
        body: new URLSearchParams(
          [...fields].map(([name, value]): [string, string] => [name, value]),
        ).toString(),
      }),
    async send(path, values, action) {
      const html = await (await visitor.get(path)).text();
      const form = [
        ...html.matchAll(/<form[^>]*method="post"[^>]*action="([^"]*)"[^>]*>(.*?)<\/form>/gs),
      ].find(
        (one) =>
          !one[1]?.startsWith('/language') &&
          (action === undefined ? one[0].includes('class="record"') : one[1] === action),
      );
      if (form === undefined) throw new Error(`${path} has no such form`);
      const kept = formFields(form[2] ?? '').filter(([name]) => values[name] === undefined);
      const own = Object.entries(values).flatMap(([name, value]) =>
        (typeof value === 'string' ? [value] : [...value]).map((one): [string, string] => [name, one]),
      );
      return visitor.post((form[1] ?? '').replace(/&amp;/g, '&'), [...kept, ...own]);
    },
    signIn: (name, password = PASSWORD) =>
      visitor.post('/sign-in', [
        ['name', name],
        ['password', password],
      ]),
  };
  return visitor;
}
