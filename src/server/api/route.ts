import type { z } from 'zod';
import type { By, Journal } from '../../journal/index.js';
import type { Site } from '../site.js';

/** What a handler is given. */
export interface ApiCall<Query, Body> {
  readonly site: Site;
  /** Parts of the address by their names. */
  readonly params: Readonly<Record<string, string>>;
  readonly query: Query;
  readonly body: Body;
  /** The journal; routes that need none must not touch it. */
  readonly journal: Journal;
  /** Who writes: the client the token belongs to, with the key that makes a repeated post harmless. */
  by(at?: string): By;
}

/** Bytes instead of JSON. */
export interface ApiBytes {
  readonly bytes: Uint8Array;
  readonly headers: Readonly<Record<string, string>>;
}

/** One operation of the API: the same description serves the router, the check of what comes in, and the document. */
export interface ApiRoute {
  readonly method: 'get' | 'post' | 'put';
  /** `/cases/{id}/steps`. */
  readonly path: string;
  readonly tag: string;
  readonly summary: string;
  /** Works without a token and without a journal. */
  readonly open: boolean;
  readonly query: z.ZodObject | undefined;
  readonly body: z.ZodType | undefined;
  /** The body is a picture, not JSON. */
  readonly picture: boolean;
  readonly status: 200 | 201;
  readonly response: z.ZodType | undefined;
  handle(call: ApiCall<unknown, unknown>): Promise<unknown>;
}

/** Describes an operation; its handler gets query and body as their schemas read them. */
export function route<Q extends z.ZodObject = z.ZodObject, B extends z.ZodType = z.ZodType>(one: {
  readonly method: ApiRoute['method'];
  readonly path: string;
  readonly tag: string;
  readonly summary: string;
  readonly open?: boolean;
  readonly query?: Q;
  readonly body?: B;
  readonly picture?: boolean;
  readonly status?: 200 | 201;
  readonly response?: z.ZodType;
  handle(call: ApiCall<z.output<Q>, z.output<B>>): Promise<unknown>;
}): ApiRoute {
  return {
    open: false,
    query: undefined,
    body: undefined,
    picture: false,
    status: 200,
    response: undefined,
    ...one,
    handle: one.handle as ApiRoute['handle'],
  };
}
