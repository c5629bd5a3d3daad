import { AsyncLocalStorage } from 'node:async_hooks';

/** How somebody came to the journal: signed in, with a token, without sign-in, from the command line, or the program. */
export const WAYS_IN = ['session', 'token', 'open', 'command', 'program'] as const;
export type WayIn = (typeof WAYS_IN)[number];

/** On whose behalf the journal is used at the moment. */
export interface Actor {
  readonly via: WayIn;
  /** The person or client that is known for sure; it goes before any name typed. Left out: whoever says so. */
  readonly name?: string;
  /** Id of the account, or of the token. */
  readonly account: string | null;
  /** The address the request came from; empty when there is none. */
  readonly address: string;
}

const acting = new AsyncLocalStorage<Actor>();
const PROGRAM: Actor = { via: 'program', account: null, address: '' };

/** Runs work on somebody's behalf: what it writes stands under their name, with the way and the address they came from. */
export const actAs = <T>(actor: Actor, work: () => T): T => acting.run(actor, work);

/** On whose behalf the present work is done; the program's own unless said otherwise. */
export const currentActor = (): Actor => acting.getStore() ?? PROGRAM;
