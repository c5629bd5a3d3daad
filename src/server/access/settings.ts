import type { SessionTimes } from '../../journal/index.js';
import type { ProviderSettings } from './provider.js';

/**
 * Judgement: a shift lasts eight hours and nobody types a long password with oily hands more often than that; an hour
 * without a touch means that the person has left the tablet.
 */
export const SESSION_TIMES: SessionTimes = { idleMs: 60 * 60_000, longestMs: 12 * 3_600_000 };

/** How the server decides whom to let in. */
export interface AccessSettings {
  /**
   * Who may use the server while it has no account: whoever reaches it under a loopback name, anybody (in tests and where
   * the app is used without listening), or nobody.
   */
  readonly openTo: 'loopback' | 'anybody' | 'nobody';
  /** Address under which browsers see the server, when it is not the one it listens on. */
  readonly publicOrigin: string | undefined;
  /** Addresses of proxies whose word on the client's address is taken. */
  readonly proxies: readonly string[];
  readonly times: SessionTimes;
  /** Another server where people can sign in. */
  readonly provider: ProviderSettings | undefined;
}

export const OPEN_TO_ANYBODY: AccessSettings = {
  openTo: 'anybody',
  publicOrigin: undefined,
  proxies: [],
  times: SESSION_TIMES,
  provider: undefined,
};

/** Whether browsers see the server through https, so that cookies may be bound to it. */
export const isSecure = ({ publicOrigin }: AccessSettings): boolean =>
  publicOrigin?.startsWith('https://') ?? false;

/** An address under which a server can only be reached from its own computer. */
export function isLoopback(host: string): boolean {
  const bare = host
    .toLowerCase()
    .replace(/^\[|\]$/g, '')
    .replace(/\.$/, '');
  return (
    bare === 'localhost' ||
    bare.endsWith('.localhost') ||
    bare === '::1' ||
    /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(bare)
  );
}

/**
 * Whether the Host of a request is a loopback name. A page elsewhere can make a name of its own point to 127.0.0.1
 * (DNS rebinding); the browser then sends that name.
 */
export function hasLoopbackHost(host: string | undefined): boolean {
  if (host === undefined) return false;
  const match = /^(\[[0-9a-f:.]+\]|[^:/@\s]+)(:\d{1,5})?$/i.exec(host);
  return match !== null && isLoopback(match[1] ?? '');
}

/** A public origin as it was given: scheme, name, port, nothing else. @returns undefined when it is none */
export function readOrigin(text: string): string | undefined {
  let url: URL;
  try {
    url = new URL(text.trim());
  } catch {
    return undefined;
  }
  const bare = url.pathname === '/' && url.search === '' && url.hash === '' && url.username === '';
  return ['http:', 'https:'].includes(url.protocol) && bare && url.password === '' && !/[?#]/.test(text)
    ? url.origin
    : undefined;
}
