import { createHash, randomBytes } from 'node:crypto';
import { z } from 'zod';
import { say } from '../../language/say.js';
import { TOKEN_RIGHTS, type TokenRight } from '../accounts/roles.js';
import { currentActor } from '../acting.js';
import { addAudit } from '../audit/add-audit.js';
import { notFound } from '../entries.js';
import { JournalError, unlessAway } from '../errors.js';
import { lineSchema, readInput } from '../input.js';
import { type Journal, read, write } from '../store.js';
import { presentInstant } from '../time.js';

/** A client of the API, without its secret. */
export interface TokenRecord {
  readonly id: string;
  readonly name: string;
  readonly madeAt: string;
  /** When it was last used, to the hour; null: never. */
  readonly usedAt: string | null;
  readonly revokedAt: string | null;
  readonly rights: readonly TokenRight[];
  /** Who made it; empty for those from before this was kept. */
  readonly madeBy: string;
}

/** Rights of a token: at least one. */
export const tokenRightsSchema = z
  .array(z.enum(TOKEN_RIGHTS))
  .min(1)
  .transform((rights) => TOKEN_RIGHTS.filter((right) => rights.includes(right)));

const PREFIX = 'peelpoint_';
/** Time of the last use is kept this coarse, so that reading does not mean writing each time. */
const USE_STEP = 3_600_000;

/** The secret is long and random, so a plain hash is enough: there is nothing to guess. */
const digestOf = (secret: string) => createHash('sha256').update(secret).digest('hex');

/**
 * Makes a token for a client. The secret is given back once and kept nowhere; the journal keeps its SHA-256.
 * @param rights what its client may do; all that a token can have unless given
 * @throws JournalError `refused` when a token of that name is in use
 */
export async function addToken(
  journal: Journal,
  name: string,
  rights: readonly TokenRight[] = TOKEN_RIGHTS,
  by = 'command line',
): Promise<{ readonly token: TokenRecord; readonly secret: string }> {
  const wanted = readInput(lineSchema, name, 'name');
  const allowed = readInput(tokenRightsSchema, rights, 'rights');
  const who = currentActor().name ?? by;
  const secret = `${PREFIX}${randomBytes(32).toString('base64url')}`;
  const row = {
    id: `token-${randomBytes(6).toString('hex')}`,
    name: wanted,
    digest: digestOf(secret),
    made_at: presentInstant(),
    used_at: null,
    revoked_at: null,
    rights: allowed.join(' '),
    made_by: who,
  };
  await write(journal, { who }, { addToken: wanted }, async (writing) => {
    const { trx } = writing;
    const same = await trx
      .selectFrom('tokens')
      .select('id')
      .where('name', '=', wanted)
      .where('revoked_at', 'is', null)
      .executeTakeFirst();
    if (same !== undefined) throw new JournalError('refused', say('refused.token-taken', { name: wanted }));
    await trx.insertInto('tokens').values(row).execute();
    await addAudit(writing, {
      kind: 'token',
      subject: row.id,
      action: 'added',
      data: { name: wanted, rights: allowed },
    });
  });
  return { token: toToken(row), secret };
}

/** All tokens, those in use first, then by name. */
export async function listTokens(journal: Journal): Promise<TokenRecord[]> {
  const rows = await read(journal, (db) => db.selectFrom('tokens').selectAll().orderBy('name').execute());
  return rows
    .map(toToken)
    .sort(
      (a, b) => Number(a.revokedAt !== null) - Number(b.revokedAt !== null) || (a.name < b.name ? -1 : 1),
    );
}

/** Ends a token, by its name or id. @throws JournalError `not-found` when none of that name is in use */
export async function revokeToken(
  journal: Journal,
  nameOrId: string,
  by = 'command line',
): Promise<TokenRecord> {
  const who = currentActor().name ?? by;
  return write(journal, { who }, { revokeToken: nameOrId }, async (writing) => {
    const row = await writing.trx
      .updateTable('tokens')
      .set({ revoked_at: presentInstant() })
      .where('revoked_at', 'is', null)
      .where((eb) => eb.or([eb('name', '=', nameOrId), eb('id', '=', nameOrId)]))
      .returningAll()
      .executeTakeFirst();
    if (row === undefined) throw notFound('token in use', nameOrId);
    await addAudit(writing, { kind: 'token', subject: row.id, action: 'revoked', data: { name: row.name } });
    return toToken(row);
  });
}

/** The client a secret belongs to; undefined for one that is unknown or revoked. */
export async function findClient(journal: Journal, secret: string): Promise<TokenRecord | undefined> {
  if (!secret.startsWith(PREFIX)) return undefined;
  const row = await read(journal, (db) =>
    db
      .selectFrom('tokens')
      .selectAll()
      .where('digest', '=', digestOf(secret))
      .where('revoked_at', 'is', null)
      .executeTakeFirst(),
  );
  if (row === undefined) return undefined;
  const now = Date.now();
  if (row.used_at === null || now - Date.parse(row.used_at) > USE_STEP)
    await write(journal, { who: row.name }, { useToken: row.id }, async (writing) => {
      await writing.trx
        .updateTable('tokens')
        .set({ used_at: new Date(Math.floor(now / USE_STEP) * USE_STEP).toISOString() })
        .where('id', '=', row.id)
        .execute();
      // Once an hour is enough to see that it is in use, and from where.
      await addAudit(writing, { kind: 'token', subject: row.id, action: 'used', data: { name: row.name } });
    }).catch(unlessAway);
  return toToken(row);
}

const toToken = (row: {
  readonly id: string;
  readonly name: string;
  readonly made_at: string;
  readonly used_at: string | null;
  readonly revoked_at: string | null;
  readonly rights: string;
  readonly made_by: string | null;
}): TokenRecord => ({
  id: row.id,
  name: row.name,
  madeAt: row.made_at,
  usedAt: row.used_at,
  revokedAt: row.revoked_at,
  rights: TOKEN_RIGHTS.filter((right) => row.rights.split(' ').includes(right)),
  madeBy: row.made_by ?? '',
});
