import { type Journal, read, write } from '../store.js';
import { presentInstant } from '../time.js';
import { digestOf, newSecret } from './secrets.js';

/** What has to be remembered while somebody signs in at an outside provider. */
export interface SignInFlow {
  readonly state: string;
  readonly nonce: string;
  /** The secret of the code challenge (PKCE). */
  readonly verifier: string;
  /** The path to go to afterwards. */
  readonly next: string;
}

/** Long enough to look for a password and a telephone. */
export const FLOW_MINUTES = 10;

/** Keeps what a sign-in elsewhere needs, for any server of this journal. @returns the secret for the browser's cookie */
export async function startFlow(journal: Journal, flow: SignInFlow): Promise<string> {
  const secret = newSecret();
  await write(journal, { who: 'Peelpoint' }, { startFlow: true }, async (writing) => {
    writing.said = true;
    const { trx, recorded } = writing;
    await trx.deleteFrom('sign_in_flows').where('ends_at', '<', recorded).execute();
    const endsAt = new Date(Date.parse(recorded) + FLOW_MINUTES * 60_000).toISOString();
    await trx
      .insertInto('sign_in_flows')
      .values({ digest: digestOf(secret), ...flow, ends_at: endsAt })
      .execute();
  });
  return secret;
}

/** Takes what was kept, once; undefined when it is unknown, taken or too old. */
export async function takeFlow(journal: Journal, secret: string): Promise<SignInFlow | undefined> {
  const row = await read(journal, (db) =>
    db
      .deleteFrom('sign_in_flows')
      .where('digest', '=', digestOf(secret))
      .returning(['state', 'nonce', 'verifier', 'next', 'ends_at'])
      .executeTakeFirst(),
  );
  if (row === undefined || row.ends_at <= presentInstant()) return undefined;
  const { state, nonce, verifier, next } = row;
  return { state, nonce, verifier, next };
}
