import { say } from '../../language/say.js';
import { addAudit } from '../audit/add-audit.js';
import { notFound } from '../entries.js';
import { JournalError } from '../errors.js';
import { type By, readInput } from '../input.js';
import { type Journal, read, type Writing, write } from '../store.js';
import { presentInstant } from '../time.js';
import {
  type AccountRecord,
  insertAccount,
  newAccountSchema,
  selectAccount,
  takeTurns,
  toAccount,
} from './accounts.js';
import { digestOf, newSecret } from './secrets.js';

/** A one-time link: what it is for, and until when. */
export interface SignInLink {
  /** The account whose password it sets; null: it makes the first administrator. */
  readonly account: AccountRecord | null;
  readonly endsAt: string;
}

/** Links for people are handed over by others, so they live for days; the one for the first administrator for an hour. */
export const LINK_HOURS = { person: 72, first: 1 } as const;

export const linkGone = (): JournalError => new JournalError('refused', say('refused.link-gone'));

/**
 * Makes the one-time link with which somebody sets a password; earlier ones for the account end.
 * @returns its secret, which is kept nowhere
 * @throws JournalError `not-found`; `refused` for a blocked account
 */
export async function makeLink(
  journal: Journal,
  account: string,
  by: By,
): Promise<{ readonly secret: string; readonly endsAt: string; readonly account: AccountRecord }> {
  const secret = newSecret();
  return write(journal, by, { makeLink: account }, async (writing) => {
    const row = await selectAccount(writing.trx, account);
    if (row === undefined) throw notFound('account', account);
    if (row.state !== 'active') throw new JournalError('refused', say('refused.blocked', { name: row.name }));
    await writing.trx.deleteFrom('sign_in_links').where('account', '=', row.id).execute();
    const endsAt = await insertLink(writing, secret, row.id, LINK_HOURS.person);
    await addAudit(writing, {
      kind: 'account',
      subject: row.id,
      action: 'link-made',
      data: { name: row.name, until: endsAt },
    });
    return { secret, endsAt, account: toAccount(row) };
  });
}

/** Makes the link with which the first administrator is made; undefined when there is an account already. */
export async function makeFirstLink(
  journal: Journal,
): Promise<{ readonly secret: string; readonly endsAt: string } | undefined> {
  const secret = newSecret();
  return write(journal, { who: 'Peelpoint' }, { makeFirstLink: true }, async (writing) => {
    // Nobody else's business: it is printed at each start, and using it is what counts.
    writing.said = true;
    const { trx, recorded } = writing;
    if ((await trx.selectFrom('accounts').select('id').limit(1).execute()).length > 0) return undefined;
    await trx.deleteFrom('sign_in_links').where('ends_at', '<', recorded).execute();
    return { secret, endsAt: await insertLink(writing, secret, null, LINK_HOURS.first) };
  });
}

async function insertLink(
  writing: Writing,
  secret: string,
  account: string | null,
  hours: number,
): Promise<string> {
  const endsAt = new Date(Date.parse(writing.recorded) + hours * 3_600_000).toISOString();
  await writing.trx
    .insertInto('sign_in_links')
    .values({
      digest: digestOf(secret),
      account,
      made_at: writing.recorded,
      made_by: writing.who,
      ends_at: endsAt,
      used_at: null,
    })
    .execute();
  return endsAt;
}

/** Looks at a link without using it; undefined when it is no longer good. */
export async function findLink(journal: Journal, secret: string): Promise<SignInLink | undefined> {
  return read(journal, async (db) => {
    const link = await db
      .selectFrom('sign_in_links')
      .selectAll()
      .where('digest', '=', digestOf(secret))
      .where('used_at', 'is', null)
      .where('ends_at', '>', presentInstant())
      .executeTakeFirst();
    if (link === undefined) return undefined;
    if (link.account === null) {
      const some = await db.selectFrom('accounts').select('id').limit(1).execute();
      return some.length > 0 ? undefined : { account: null, endsAt: link.ends_at };
    }
    const row = await selectAccount(db, link.account);
    if (row === undefined || row.state !== 'active') return undefined;
    return { account: toAccount(row), endsAt: link.ends_at };
  });
}

/**
 * Uses a link of an account: sets the password and ends its sessions. Of two at once one wins.
 * @param hash the password's argon2id hash
 * @throws JournalError `refused` when the link is no longer good
 */
export async function useLink(journal: Journal, secret: string, hash: string): Promise<AccountRecord> {
  return write(journal, { who: 'One-time link' }, { useLink: digestOf(secret) }, async (writing) => {
    const account = await takeLink(writing, secret);
    if (account === null) throw linkGone();
    const row = await selectAccount(writing.trx, account);
    if (row === undefined || row.state !== 'active') throw linkGone();
    await setHash(writing, row.id, hash);
    await writing.trx.deleteFrom('sessions').where('account', '=', row.id).execute();
    await addAudit(
      { ...writing, who: row.shown },
      { kind: 'account', subject: row.id, action: 'password-set', data: { name: row.name, how: 'link' } },
    );
    writing.said = true;
    return toAccount({ ...row, password: hash });
  });
}

/**
 * Uses the first link: makes the first administrator.
 * @throws JournalError `refused` when the link is no longer good or there is an account already; JournalInputError
 */
export async function useFirstLink(
  journal: Journal,
  secret: string,
  person: { readonly name: string; readonly shown: string },
  hash: string,
): Promise<AccountRecord> {
  const input = readInput(newAccountSchema, { ...person, roles: ['administrator'] });
  return write(
    journal,
    { who: input.shown ?? input.name },
    { useFirstLink: digestOf(secret) },
    async (writing) => {
      await takeTurns(writing);
      const some = await writing.trx.selectFrom('accounts').select('id').limit(1).execute();
      if (some.length > 0 || (await takeLink(writing, secret)) !== null) throw linkGone();
      const account = await insertAccount(writing, input);
      await setHash(writing, account.id, hash);
      return { ...account, hasPassword: true };
    },
  );
}

/** Marks a link used. @returns its account @throws JournalError `refused` */
async function takeLink({ trx, recorded }: Writing, secret: string): Promise<string | null> {
  const taken = await trx
    .updateTable('sign_in_links')
    .set({ used_at: recorded })
    .where('digest', '=', digestOf(secret))
    .where('used_at', 'is', null)
    .where('ends_at', '>', recorded)
    .returning('account')
    .executeTakeFirst();
  if (taken === undefined) throw linkGone();
  return taken.account;
}

async function setHash(writing: Writing, account: string, hash: string): Promise<void> {
  await writing.trx
    .updateTable('accounts')
    .set({ password: hash, password_at: writing.recorded })
    .where('id', '=', account)
    .execute();
}

/**
 * Changes the password of somebody who is signed in; all other sessions and open links end.
 * @param session the one that stays
 */
export async function changePassword(
  journal: Journal,
  account: AccountRecord,
  hash: string,
  session: string,
): Promise<void> {
  await write(journal, { who: account.shown }, { changePassword: account.id }, async (writing) => {
    await setHash(writing, account.id, hash);
    await writing.trx.deleteFrom('sign_in_links').where('account', '=', account.id).execute();
    await writing.trx
      .deleteFrom('sessions')
      .where('account', '=', account.id)
      .where('id', '!=', session)
      .execute();
    await addAudit(writing, {
      kind: 'account',
      subject: account.id,
      action: 'password-changed',
      data: { name: account.name },
    });
  });
}

/** The account of that name with its password hash, for the sign-in; undefined when there is none. */
export async function findForSignIn(
  journal: Journal,
  name: string,
): Promise<{ readonly account: AccountRecord; readonly hash: string | null } | undefined> {
  const row = await read(journal, (db) =>
    db.selectFrom('accounts').selectAll().where('name', '=', name).executeTakeFirst(),
  );
  return row === undefined ? undefined : { account: toAccount(row), hash: row.password };
}
