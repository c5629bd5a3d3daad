import type { Context } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { type AccessSettings, isSecure } from './settings.js';

/** The `__Host-` prefix binds the cookie to this one server; browsers accept it with https alone. */
const nameOf = (settings: AccessSettings) => (isSecure(settings) ? '__Host-session' : 'session');
const SECRET = /^[\w-]{43}$/;

/** The secret of the session that a request brings. */
export function sessionSecret(c: Context, settings: AccessSettings): string | undefined {
  const secret = getCookie(c, nameOf(settings));
  return secret !== undefined && SECRET.test(secret) ? secret : undefined;
}

/** Gives the browser the secret of its session; scripts cannot read it and other sites' forms do not send it. */
export function giveSession(c: Context, settings: AccessSettings, secret: string): void {
  setCookie(c, nameOf(settings), secret, {
    path: '/',
    httpOnly: true,
    sameSite: 'Lax',
    secure: isSecure(settings),
    maxAge: Math.floor(settings.times.longestMs / 1000),
  });
}

/** Takes it away. */
export function takeSession(c: Context, settings: AccessSettings): void {
  deleteCookie(c, nameOf(settings), {
    path: '/',
    secure: isSecure(settings),
    httpOnly: true,
    sameSite: 'Lax',
  });
}
