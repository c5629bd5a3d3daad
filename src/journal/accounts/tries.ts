import { createHash } from 'node:crypto';
import { type Journal, write } from '../store.js';

/** How many failures in a row pass before one has to wait, and for how long. */
export interface WaitRule {
  readonly free: number;
  /** The first wait, ms; each further failure doubles it. */
  readonly firstMs: number;
  readonly mostMs: number;
}

/**
 * Judgement: five slips of a tired person pass; an address (perhaps a whole hall behind one) gets more. The longest wait
 * is short enough that nobody is kept from work by a stranger for more than a coffee break, and leaves a guesser
 * about a hundred tries a day.
 */
export const WAIT_RULES = {
  account: { free: 5, firstMs: 30_000, mostMs: 15 * 60_000 },
  address: { free: 30, firstMs: 60_000, mostMs: 15 * 60_000 },
} as const satisfies Record<string, WaitRule>;
export type TryKind = keyof typeof WAIT_RULES;

/** Failures older than this are forgotten. */
const FORGET_MS = 24 * 3_600_000;

/** The wait after so many failures, ms; 0 while they are free. */
export function waitAfter(failures: number, rule: WaitRule): number {
  if (failures < rule.free) return 0;
  return Math.min(rule.mostMs, rule.firstMs * 2 ** Math.min(40, failures - rule.free));
}

/** Whom a failure is counted against. A name may be a password typed into the wrong field, so only its digest is kept. */
const keyFor = (kind: TryKind, value: string) =>
  createHash('sha256').update(`${kind}:${value}`).digest('hex');

export interface Tried {
  readonly name: string;
  readonly address: string;
}

/**
 * Takes one try at signing in, counted as a failure at first, so that many at once are not free either.
 * @returns how long to wait before the next one, ms; 0: this one may go on
 */
export async function takeTry(journal: Journal, tried: Tried): Promise<number> {
  return write(journal, { who: 'Peelpoint' }, { takeTry: true }, async (writing) => {
    writing.said = true;
    const { trx, recorded } = writing;
    const now = Date.parse(recorded);
    await trx
      .deleteFrom('sign_in_tries')
      .where('last_at', '<', new Date(now - FORGET_MS).toISOString())
      .execute();
    let wait = 0;
    const counts: { key: string; failures: number; kind: TryKind }[] = [];
    for (const kind of ['address', 'account'] as const) {
      const key = keyFor(kind, kind === 'account' ? tried.name : tried.address);
      // The row is taken first, so that two tries at once are counted one after the other.
      const row = await trx
        .insertInto('sign_in_tries')
        .values({ key, failures: 0, last_at: recorded, until_at: null })
        .onConflict((conflict) => conflict.column('key').doUpdateSet({ last_at: recorded }))
        .returning(['failures', 'until_at'])
        .executeTakeFirstOrThrow();
      const { mostMs } = WAIT_RULES[kind];
      const left = row.until_at === null ? 0 : Date.parse(row.until_at) - now;
      // A clock that was set back must not lock anybody out for longer than the longest wait.
      wait = Math.max(wait, Math.min(left, mostMs));
      counts.push({ key, failures: row.failures + 1, kind });
    }
    if (wait > 0) return wait;
    for (const { key, failures, kind } of counts) {
      const next = waitAfter(failures, WAIT_RULES[kind]);
      await trx
        .updateTable('sign_in_tries')
        .set({ failures, until_at: next === 0 ? null : new Date(now + next).toISOString() })
        .where('key', '=', key)
        .execute();
    }
    return 0;
  });
}

/** A try was good: the account starts anew, and the address gets its try back (not more: others may sit behind it). */
export async function forgiveTry(journal: Journal, tried: Tried): Promise<void> {
  await write(journal, { who: 'Peelpoint' }, { forgiveTry: true }, async (writing) => {
    writing.said = true;
    const { trx } = writing;
    await trx.deleteFrom('sign_in_tries').where('key', '=', keyFor('account', tried.name)).execute();
    const key = keyFor('address', tried.address);
    const row = await trx
      .selectFrom('sign_in_tries')
      .select('failures')
      .where('key', '=', key)
      .executeTakeFirst();
    if (row === undefined) return;
    const failures = Math.max(0, row.failures - 1);
    await trx
      .updateTable('sign_in_tries')
      .set({ failures, ...(waitAfter(failures, WAIT_RULES.address) === 0 ? { until_at: null } : {}) })
      .where('key', '=', key)
      .execute();
  });
}
