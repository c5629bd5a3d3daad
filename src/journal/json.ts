import { createHash } from 'node:crypto';
import { gunzipSync, gzipSync } from 'node:zlib';

/** A value that JSON can carry. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** JSON with sorted keys and without undefined values, so that equal contents give equal texts. */
export function stableJson(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(
          Object.entries(inner)
            .filter(([, one]) => one !== undefined)
            .sort(([a], [b]) => (a < b ? -1 : 1)),
        )
      : inner,
  );
}

/** SHA-256 of a value's stable JSON, as hex. */
export const fingerprint = (value: unknown): string =>
  createHash('sha256')
    .update(stableJson(value) ?? '')
    .digest('hex');

/** A large JSON value packed for keeping: a diagnosis shrinks to about a fifth. */
export const packJson = (value: unknown): Buffer => gzipSync(JSON.stringify(value));

/** Unpacks {@link packJson}. */
export const unpackJson = (bytes: Uint8Array): unknown => JSON.parse(gunzipSync(bytes).toString('utf8'));
