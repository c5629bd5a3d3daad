import { say } from '../../language/say.js';
import { addAudit } from '../audit/add-audit.js';
import { JournalError } from '../errors.js';
import { fingerprint } from '../json.js';
import type { Writing } from '../store.js';

/** What became of a batch. */
export interface BatchReceipt {
  readonly batch: string;
  /** Rows sent. */
  readonly given: number;
  /** Rows that were new. */
  readonly added: number;
  /** When it was first taken in. */
  readonly at: string;
  /** True when it had been taken in before. */
  readonly repeated: boolean;
}

/**
 * Takes a batch in once.
 * @param work puts the rows in and says how many were new
 * @throws JournalError `reused-key` when the id was used for other content
 */
export async function receiveBatch(
  writing: Writing,
  batch: { readonly id: string; readonly kind: string; readonly content: readonly unknown[] },
  work: () => Promise<number>,
): Promise<BatchReceipt> {
  const { trx, who, recorded } = writing;
  // Taken in again: nothing is done, so nothing is said.
  writing.said = true;
  const mark = fingerprint(batch.content);
  const given = batch.content.length;
  const first = await trx
    .insertInto('batches')
    .values({ id: batch.id, kind: batch.kind, at: recorded, who, given, added: 0, fingerprint: mark })
    .onConflict((conflict) => conflict.column('id').doNothing())
    .executeTakeFirst();
  if (first.numInsertedOrUpdatedRows === 0n) {
    const known = await trx
      .selectFrom('batches')
      .selectAll()
      .where('id', '=', batch.id)
      .executeTakeFirstOrThrow();
    if (known.kind !== batch.kind || known.fingerprint !== mark)
      throw new JournalError('reused-key', say('refused.batch-used', { batch: batch.id, at: known.at }));
    return { batch: batch.id, given: known.given, added: known.added, at: known.at, repeated: true };
  }
  const added = await work();
  await trx.updateTable('batches').set({ added }).where('id', '=', batch.id).execute();
  await addAudit(writing, {
    kind: 'machine-data',
    subject: batch.id,
    action: `${batch.kind}-received`,
    data: { given, added },
  });
  return { batch: batch.id, given, added, at: recorded, repeated: false };
}
