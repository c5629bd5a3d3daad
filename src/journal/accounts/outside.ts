import { say } from '../../language/say.js';
import { addAudit } from '../audit/add-audit.js';
import { JournalError, JournalInputError } from '../errors.js';
import { readInput } from '../input.js';
import { type Journal, read, write } from '../store.js';
import {
  type AccountRecord,
  changeAccount,
  insertAccount,
  newAccountSchema,
  selectAccount,
  signInNameSchema,
  toAccount,
} from './accounts.js';
import type { Role } from './roles.js';

/** Somebody whom an outside provider vouches for. */
export interface Outsider {
  /** Who vouches. */
  readonly issuer: string;
  /** The provider's own, unchanging name for the person. */
  readonly subject: string;
  readonly name: string;
  readonly shown: string;
  /** Roles that the provider tells; undefined when roles are kept here alone. */
  readonly roles: readonly Role[] | undefined;
}

const BY = { who: 'Sign-in elsewhere' } as const;

/**
 * The account of somebody who has signed in at an outside provider. A known person is found by issuer and subject. A new
 * one gets the account of that name which an administrator made for them and which has no password; where the provider
 * tells roles, an account is made. An account with a password is never handed over by its name.
 * @throws JournalError `refused`, with words for the person
 */
export async function accountForOutsider(journal: Journal, person: Outsider): Promise<AccountRecord> {
  const external = `${person.issuer} ${person.subject}`;
  const known = await read(journal, (db) =>
    db.selectFrom('accounts').selectAll().where('external', '=', external).executeTakeFirst(),
  );
  if (person.roles?.length === 0) throw refused(say('refused.provider-no-role'));
  if (known !== undefined) {
    const account = toAccount(known);
    if (account.state !== 'active') throw refused(say('refused.provider-blocked'));
    if (person.roles === undefined || same(person.roles, account.roles)) return account;
    return changeAccount(journal, account.id, { roles: [...person.roles] }, BY);
  }
  const name = signInNameSchema.safeParse(person.name);
  if (!name.success) throw refused(say('refused.provider-name'));
  return write(journal, BY, { accountForOutsider: external }, async (writing) => {
    const row = await selectAccount(writing.trx, name.data);
    if (row !== undefined) {
      if (row.state !== 'active' || row.password !== null || row.external !== null)
        throw refused(say('refused.provider-not-bound', { name: row.name }));
      await writing.trx.updateTable('accounts').set({ external }).where('id', '=', row.id).execute();
      await writing.trx.deleteFrom('sign_in_links').where('account', '=', row.id).execute();
      await addAudit(writing, {
        kind: 'account',
        subject: row.id,
        action: 'bound',
        data: { name: row.name, issuer: person.issuer },
      });
      return toAccount({ ...row, external });
    }
    if (person.roles === undefined) throw refused(say('refused.provider-no-account'));
    try {
      const input = readInput(newAccountSchema, {
        name: name.data,
        shown: person.shown.slice(0, 80),
        roles: [...person.roles],
      });
      return await insertAccount(writing, input, { external });
    } catch (error) {
      if (!(error instanceof JournalInputError)) throw error;
      throw refused(say('refused.provider-same-name'));
    }
  });
}

const refused = (words: string) => new JournalError('refused', words);
const same = (one: readonly Role[], other: readonly Role[]) =>
  one.length === other.length && one.every((role) => other.includes(role));
