import { randomBytes } from 'node:crypto';
import type { Kysely } from 'kysely';
import { z } from 'zod';
import { say } from '../../language/say.js';
import { addAudit } from '../audit/add-audit.js';
import { nextNumber, notFound } from '../entries.js';
import { JournalError, JournalInputError } from '../errors.js';
import { type By, plainText, readInput } from '../input.js';
import { keepQuery } from '../kept-query.js';
import { type Journal, read, type Writing, write } from '../store.js';
import type { Tables } from '../tables.js';
import { ROLES, type Role } from './roles.js';

/** Somebody who may sign in; the password hash stays in the journal. */
export interface AccountRecord {
  readonly id: string;
  /** What is typed at the sign-in, in small letters. */
  readonly name: string;
  /** The name under which what they do stands. */
  readonly shown: string;
  readonly roles: readonly Role[];
  readonly state: 'active' | 'blocked';
  readonly hasPassword: boolean;
  /** Issuer and subject when they sign in at an outside provider; null: they never did. */
  readonly external: string | null;
  readonly signedInAt: string | null;
  readonly madeAt: string;
  readonly madeBy: string;
  readonly changedAt: string;
  readonly changedBy: string;
}

/** A name to sign in with: letters, figures and `. _ @ -`, starting with a letter or figure, at most 80; case does not matter. */
export const signInNameSchema = z
  .string()
  .trim()
  .toLowerCase()
  .regex(
    /^[a-z0-9][a-z0-9._@-]{0,79}$/,
    '1 to 80 letters a–z, figures, . _ @ or -, starting with a letter or figure',
  );

const rolesSchema = z
  .array(z.enum(ROLES))
  .min(1)
  .transform((roles) => ROLES.filter((role) => roles.includes(role)));

export const newAccountSchema = z.strictObject({
  name: signInNameSchema,
  /** Left out: the name to sign in with. */
  shown: plainText(80).min(1).optional(),
  roles: rolesSchema,
});
export type NewAccount = z.input<typeof newAccountSchema>;

/** What can be changed about an account; left out: stays as it is. */
export const accountChangeSchema = z.strictObject({
  shown: plainText(80).min(1).optional(),
  roles: rolesSchema.optional(),
  state: z.enum(['active', 'blocked']).optional(),
});
export type AccountChange = z.input<typeof accountChangeSchema>;

/** Whether there is any account; from the first one on, everybody has to sign in. */
export const hasAccounts = (journal: Journal): Promise<boolean> =>
  read(journal, async (db) => (await anyAccount(db)).length > 0);

/** Asked with every request as long as there is none. */
const anyAccount = keepQuery((db) => db.selectFrom('accounts').select('id').limit(1));

/** Whether somebody is there who can make accounts: an active administrator, with a password already or not. */
export async function hasAdministrator(journal: Journal): Promise<boolean> {
  return (await listAccounts(journal)).some(isAdministrator);
}

/** All accounts by name. */
export async function listAccounts(journal: Journal): Promise<AccountRecord[]> {
  const rows = await read(journal, (db) => db.selectFrom('accounts').selectAll().orderBy('name').execute());
  return rows.map(toAccount);
}

/** An account by its id or its sign-in name. @throws JournalError `not-found` */
export async function findAccount(journal: Journal, idOrName: string): Promise<AccountRecord> {
  const row = await read(journal, (db) => selectAccount(db, idOrName));
  if (row === undefined) throw notFound('account', idOrName);
  return toAccount(row);
}

/**
 * Adds an account; it has no password until its one-time link is used.
 * @throws JournalInputError; JournalError `refused` when the name is taken
 */
export async function addAccount(journal: Journal, account: NewAccount, by: By): Promise<AccountRecord> {
  const input = readInput(newAccountSchema, account);
  return write(journal, by, { addAccount: input }, (writing) => insertAccount(writing, input));
}

/** The row of a new account, inside a transaction. */
export async function insertAccount(
  writing: Writing,
  input: z.output<typeof newAccountSchema>,
  more: { readonly external?: string } = {},
): Promise<AccountRecord> {
  await takeTurns(writing);
  const shown = input.shown ?? input.name;
  await requireFree(writing, input.name, shown);
  const row = {
    id: `account-${randomBytes(8).toString('hex')}`,
    name: input.name,
    shown,
    shown_key: keyOf(shown),
    roles: input.roles.join(' '),
    state: 'active',
    password: null,
    password_at: null,
    external: more.external ?? null,
    signed_in_at: null,
    made_at: writing.recorded,
    made_by: writing.who,
    changed_at: writing.recorded,
    changed_by: writing.who,
  };
  await writing.trx.insertInto('accounts').values(row).execute();
  await addAudit(writing, {
    kind: 'account',
    subject: row.id,
    action: 'added',
    data: { name: row.name, shown, roles: input.roles },
  });
  return toAccount(row);
}

/**
 * Changes an account. Its sessions end when its roles or state change, so that the change holds at once.
 * @throws JournalError `refused` when no administrator would be left, or the shown name is another's; `not-found`
 */
export async function changeAccount(
  journal: Journal,
  id: string,
  change: AccountChange,
  by: By,
): Promise<AccountRecord> {
  const input = readInput(accountChangeSchema, change);
  return write(journal, by, { changeAccount: input, id }, async (writing) => {
    await takeTurns(writing);
    const old = await selectAccount(writing.trx, id);
    if (old === undefined) throw notFound('account', id);
    const shown = input.shown ?? old.shown;
    if (keyOf(shown) !== old.shown_key) await requireFree(writing, undefined, shown);
    const roles = input.roles?.join(' ') ?? old.roles;
    const state = input.state ?? old.state;
    const row = {
      ...old,
      shown,
      shown_key: keyOf(shown),
      roles,
      state,
      changed_at: writing.recorded,
      changed_by: writing.who,
    };
    if (isAdministrator(toAccount(old)) && !isAdministrator(toAccount(row)))
      await requireAnotherAdministrator(writing, old.id);
    await writing.trx.updateTable('accounts').set(row).where('id', '=', old.id).execute();
    const sessionsEnd = roles !== old.roles || state !== old.state;
    if (sessionsEnd) await writing.trx.deleteFrom('sessions').where('account', '=', old.id).execute();
    if (state === 'blocked')
      await writing.trx.deleteFrom('sign_in_links').where('account', '=', old.id).execute();
    await addAudit(writing, {
      kind: 'account',
      subject: old.id,
      action: state === old.state ? 'changed' : state === 'blocked' ? 'blocked' : 'unblocked',
      data: {
        name: old.name,
        ...(shown === old.shown ? {} : { shown: [old.shown, shown] }),
        ...(roles === old.roles ? {} : { roles: [old.roles, roles] }),
      },
    });
    return toAccount(row);
  });
}

/** Changes of accounts take turns, so that two at once cannot leave the mill without an administrator. */
export const takeTurns = (writing: Writing): Promise<number> => nextNumber(writing, 'account-changes');

async function requireFree(writing: Writing, name: string | undefined, shown: string): Promise<void> {
  const { trx } = writing;
  if (name !== undefined) {
    const same = await trx.selectFrom('accounts').select('id').where('name', '=', name).executeTakeFirst();
    if (same !== undefined)
      throw new JournalInputError([{ field: 'name', value: `"${name}"`, allowed: say('input.free-name') }]);
  }
  const like = await trx
    .selectFrom('accounts')
    .select('name')
    .where('shown_key', '=', keyOf(shown))
    .executeTakeFirst();
  if (like !== undefined)
    throw new JournalInputError([
      {
        field: 'shown',
        value: `"${shown}"`,
        allowed: say('input.free-shown', { name: like.name }),
      },
    ]);
}

async function requireAnotherAdministrator(writing: Writing, id: string): Promise<void> {
  const others = await writing.trx.selectFrom('accounts').selectAll().where('id', '!=', id).execute();
  if (others.map(toAccount).some(isAdministrator)) return;
  throw new JournalError('refused', say('refused.last-administrator'));
}

export const isAdministrator = (account: AccountRecord): boolean =>
  account.state === 'active' && account.roles.includes('administrator');

/** Names that look alike are the same. */
export const keyOf = (shown: string): string =>
  shown.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim();

export const selectAccount = (db: Kysely<Tables>, idOrName: string) =>
  db
    .selectFrom('accounts')
    .selectAll()
    .where((eb) => eb.or([eb('id', '=', idOrName), eb('name', '=', idOrName.trim().toLowerCase())]))
    .executeTakeFirst();

export const toAccount = (row: Tables['accounts']): AccountRecord => ({
  id: row.id,
  name: row.name,
  shown: row.shown,
  roles: readRoles(row.roles),
  state: row.state === 'active' ? 'active' : 'blocked',
  hasPassword: row.password !== null,
  external: row.external,
  signedInAt: row.signed_in_at,
  madeAt: row.made_at,
  madeBy: row.made_by,
  changedAt: row.changed_at,
  changedBy: row.changed_by,
});

/** Roles as they are kept. */
export const readRoles = (text: string): Role[] => {
  const words = text.split(' ');
  return ROLES.filter((role) => words.includes(role));
};
