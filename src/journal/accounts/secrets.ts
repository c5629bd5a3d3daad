import { createHash, randomBytes } from 'node:crypto';

/** A secret of 256 random bits, for a cookie or a link. */
export const newSecret = (): string => randomBytes(32).toString('base64url');

/** What is kept of a secret. It is long and random, so a plain hash is enough: there is nothing to guess. */
export const digestOf = (secret: string): string => createHash('sha256').update(secret).digest('hex');
