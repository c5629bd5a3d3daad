import { AsyncLocalStorage } from 'node:async_hooks';
import { type AccountRecord, RIGHTS, type Right } from '../../journal/index.js';
import { say, wordTable } from '../../language/say.js';
import { type Need, ruleFor } from './route-table.js';

/** Whoever sent the request under way. */
export type Requester =
  /** Nobody has to sign in: there is no account yet, and the server can be reached from this computer alone. */
  | { readonly kind: 'open'; readonly rights: ReadonlySet<Right> }
  | {
      readonly kind: 'person';
      readonly rights: ReadonlySet<Right>;
      readonly account: AccountRecord;
      readonly session: string;
    }
  | {
      readonly kind: 'client';
      readonly rights: ReadonlySet<Right>;
      readonly id: string;
      readonly name: string;
    }
  | { readonly kind: 'stranger'; readonly rights: ReadonlySet<Right> };

export const STRANGER: Requester = { kind: 'stranger', rights: new Set() };

/** Without sign-in everything may be done but what only makes sense with accounts. */
export const OPEN: Requester = {
  kind: 'open',
  rights: new Set(RIGHTS.filter((right) => right !== 'accounts')),
};

const scope = new AsyncLocalStorage<Requester>();

/** Answers a request on somebody's behalf. */
export const asRequester = <T>(requester: Requester, work: () => T): T => scope.run(requester, work);

/** Who sent the request under way; outside of any request, such as in a view under test, nobody has to sign in. */
export const currentRequester = (): Requester => scope.getStore() ?? OPEN;

/** The person who is signed in. */
export function signedIn(): AccountRecord | undefined {
  const requester = currentRequester();
  return requester.kind === 'person' ? requester.account : undefined;
}

/** Whether a requester has what is needed. */
export const satisfies = (requester: Requester, need: Need): boolean =>
  need === 'anybody' || (need === 'signed-in' ? requester.kind === 'person' : requester.rights.has(need));

/** Whether the requester has a right. */
export const mayDo = (right: Right): boolean => satisfies(currentRequester(), right);

/**
 * Whether the requester would be let through to an address of this server, so that pages can leave out links and forms
 * that lead nowhere. Addresses elsewhere (`#history`, a relative one) are not judged.
 */
export function mayOpen(href: string, method = 'GET'): boolean {
  if (!href.startsWith('/')) return true;
  const [path = ''] = href.split(/[?#]/);
  const rule = ruleFor(method, path);
  return rule === undefined || satisfies(currentRequester(), rule.need);
}

/** The requester lacks a right that what was asked for needs. */
export class AccessError extends Error {
  readonly right: Need;

  constructor(right: Need) {
    super(sayLack(right));
    this.name = 'AccessError';
    this.right = right;
  }
}

/** @throws AccessError unless the requester has the right */
export function requireRight(right: Right): void {
  if (!mayDo(right)) throw new AccessError(right);
}

/**
 * What belongs to one person is for that person, and for whoever has the right to see that of others.
 * @param name under which it stands
 * @throws AccessError
 */
export function requireOwn(name: string, right: Right): void {
  const person = signedIn();
  if (person !== undefined && person.shown !== name) requireRight(right);
}

/** What somebody lacks, in words. */
export const sayLack = (need: Need): string =>
  need === 'signed-in'
    ? say('access.for-signed-in')
    : say('access.no-right', { what: RIGHT_WORDS[need as Right] });

/** Rights in words, to be read behind “a right to”. */
const RIGHT_WORDS: Readonly<Record<Right, string>> = wordTable('right', RIGHTS);
