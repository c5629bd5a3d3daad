import {
  type AccountRecord,
  findForSignIn,
  forgiveTry,
  type Journal,
  noteAudit,
  takeTry,
} from '../../journal/index.js';
import { checkPassword } from './passwords.js';

/** What came of a try to sign in. */
export type SignIn =
  | { readonly ok: true; readonly account: AccountRecord }
  | { readonly ok: false; readonly waitMs: number };

/**
 * Checks name and password. An unknown name, a blocked account, one without a password and a wrong password get the same
 * answer after the same work. Failures are counted by name and by address; after some of them every try waits, a right
 * password too.
 */
export async function checkSignIn(
  journal: Journal,
  typed: { readonly name: string; readonly password: string },
  address: string,
): Promise<SignIn> {
  const name = typed.name.trim().toLowerCase().slice(0, 200);
  const waitMs = await takeTry(journal, { name, address });
  if (waitMs > 0) {
    await noteAudit(journal, { kind: 'sign-in', subject: '', action: 'made-to-wait', outcome: 'refused' });
    return { ok: false, waitMs };
  }
  const found = await findForSignIn(journal, name);
  const right = await checkPassword(found?.hash, typed.password);
  if (found === undefined || !right || found.account.state !== 'active') {
    await noteAudit(journal, {
      kind: 'sign-in',
      subject: found?.account.id ?? '',
      action: 'failed',
      outcome: 'failed',
      // What was typed for an unknown name may be a password, so it is not kept.
      data: found === undefined ? { name: 'unknown' } : { name: found.account.name },
    });
    return { ok: false, waitMs: 0 };
  }
  await forgiveTry(journal, { name, address });
  return { ok: true, account: found.account };
}
