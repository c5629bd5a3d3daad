import * as oidc from 'openid-client';
import { ROLES, type Role } from '../../journal/index.js';
import { isLoopback } from './settings.js';

/** An outside provider of sign-ins (OpenID Connect). */
export interface ProviderSettings {
  /** What people call it; shown on the sign-in page. */
  readonly name: string;
  readonly issuer: string;
  readonly clientId: string;
  readonly clientSecret: string;
  /** The claim that holds the name to sign in with. */
  readonly nameClaim: string;
  /** The claim that holds roles; undefined: roles are kept here. */
  readonly rolesClaim: string | undefined;
  /** What stands in front of our roles in that claim. */
  readonly rolesPrefix: string;
}

/** What the provider says of somebody. */
export interface Vouched {
  readonly issuer: string;
  readonly subject: string;
  readonly name: string;
  readonly shown: string;
  readonly roles: readonly Role[] | undefined;
}

/** A sign-in that has begun: where to send the browser, and what to remember. */
export interface Begun {
  readonly url: string;
  readonly state: string;
  readonly nonce: string;
  readonly verifier: string;
}

/** Talks to the provider. */
export interface Provider {
  begin(redirectUri: string): Promise<Begun>;
  /** @throws Error when the answer is not the one to what was begun, or the provider cannot be reached */
  finish(back: URL, begun: Omit<Begun, 'url'>): Promise<Vouched>;
}

/** The provider must answer within this, s. */
const PATIENCE_S = 10;

/** Opens a provider; what it says of itself is asked for at the first sign-in, and again while that fails. */
export function openProvider(settings: ProviderSettings): Provider {
  let asked: Promise<oidc.Configuration> | undefined;
  const configuration = (): Promise<oidc.Configuration> => {
    const issuer = new URL(settings.issuer);
    const plain = issuer.protocol === 'http:' && isLoopback(issuer.hostname);
    asked ??= oidc
      .discovery(issuer, settings.clientId, settings.clientSecret, undefined, {
        timeout: PATIENCE_S,
        execute: [
          // The library would trust the connection alone for the signature of the id token.
          oidc.enableNonRepudiationChecks,
          // On this computer alone a test may go without https.
          ...(plain ? [oidc.allowInsecureRequests] : []),
        ],
      })
      .catch((error: unknown) => {
        asked = undefined;
        throw error;
      });
    return asked;
  };
  return {
    async begin(redirectUri) {
      const config = await configuration();
      const verifier = oidc.randomPKCECodeVerifier();
      const state = oidc.randomState();
      const nonce = oidc.randomNonce();
      const url = oidc.buildAuthorizationUrl(config, {
        redirect_uri: redirectUri,
        scope: 'openid profile email',
        code_challenge: await oidc.calculatePKCECodeChallenge(verifier),
        code_challenge_method: 'S256',
        state,
        nonce,
      });
      return { url: url.href, state, nonce, verifier };
    },
    async finish(back, { state, nonce, verifier }) {
      const tokens = await oidc.authorizationCodeGrant(await configuration(), back, {
        pkceCodeVerifier: verifier,
        expectedState: state,
        expectedNonce: nonce,
        idTokenExpected: true,
      });
      const claims = tokens.claims();
      if (claims === undefined) throw new Error('the provider sent no id token');
      return readClaims(claims, settings);
    },
  };
}

/** What claims say of a person. @throws Error when the name is missing or an address is not verified */
export function readClaims(
  claims: Readonly<Record<string, unknown>> & { readonly iss: string; readonly sub: string },
  settings: Pick<ProviderSettings, 'nameClaim' | 'rolesClaim' | 'rolesPrefix'>,
): Vouched {
  const { nameClaim, rolesClaim } = settings;
  const name = claims[nameClaim];
  if (typeof name !== 'string' || name.trim() === '')
    throw new Error(`the id token has no text in its claim “${nameClaim}”`);
  if (nameClaim === 'email' && claims.email_verified !== true)
    throw new Error('the provider has not verified the e-mail address');
  return {
    issuer: claims.iss,
    subject: claims.sub,
    name,
    shown: typeof claims.name === 'string' && claims.name.trim() !== '' ? claims.name.trim() : name,
    roles: rolesClaim === undefined ? undefined : readRoles(claims[rolesClaim], settings.rolesPrefix),
  };
}

function readRoles(value: unknown, prefix: string): Role[] {
  const words: readonly unknown[] = Array.isArray(value)
    ? value
    : typeof value === 'string'
      ? value.split(/[\s,]+/)
      : [];
  return ROLES.filter((role) => words.includes(`${prefix}${role}`));
}

/** A setting of the provider that cannot be used. */
export class ProviderSettingError extends Error {
  readonly variable: string;
  readonly value: string;
  readonly allowed: string;

  constructor(variable: string, value: string, allowed: string) {
    super(`${variable} cannot be used; allowed: ${allowed}`);
    this.name = 'ProviderSettingError';
    this.variable = variable;
    this.value = value;
    this.allowed = allowed;
  }
}

/** The provider that an environment names; undefined when it names none. @throws ProviderSettingError */
export function readProvider(
  environment: Readonly<Record<string, string | undefined>>,
): ProviderSettings | undefined {
  const value = (name: string) => (environment[`PEELPOINT_OIDC_${name}`] ?? '').trim();
  const issuer = value('ISSUER');
  if (issuer === '') return undefined;
  let url: URL;
  try {
    url = new URL(issuer);
  } catch {
    throw new ProviderSettingError('PEELPOINT_OIDC_ISSUER', issuer, 'an address such as https://id.example');
  }
  if (url.protocol !== 'https:' && !(url.protocol === 'http:' && isLoopback(url.hostname)))
    throw new ProviderSettingError('PEELPOINT_OIDC_ISSUER', issuer, 'an https address');
  for (const name of ['CLIENT_ID', 'CLIENT_SECRET'])
    if (value(name) === '')
      throw new ProviderSettingError(
        `PEELPOINT_OIDC_${name}`,
        '',
        'a text, since PEELPOINT_OIDC_ISSUER is set',
      );
  const or = (name: string, usual: string) => (value(name) === '' ? usual : value(name));
  return {
    name: or('NAME', url.hostname),
    issuer,
    clientId: value('CLIENT_ID'),
    clientSecret: value('CLIENT_SECRET'),
    nameClaim: or('NAME_CLAIM', 'preferred_username'),
    rolesClaim: value('ROLES_CLAIM') === '' ? undefined : value('ROLES_CLAIM'),
    rolesPrefix: value('ROLES_PREFIX'),
  };
}
