import { type Journal, read } from './store.js';

/** Marks of a journal as a whole. */
export interface JournalMarks {
  /** Set when the journal holds the invented mill: everything in it is made up. */
  readonly demo: { readonly madeAt: string; readonly seed: number; readonly note: string } | null;
}

/** The marks of a journal. */
export async function readMarks(journal: Journal): Promise<JournalMarks> {
  return read(journal, async (db) => {
    const row = await db.selectFrom('meta').select('value').where('key', '=', 'demo').executeTakeFirst();
    return { demo: row === undefined ? null : (JSON.parse(row.value) as JournalMarks['demo']) };
  });
}

/** Marks a journal as the invented mill. */
export async function markAsDemo(journal: Journal, demo: NonNullable<JournalMarks['demo']>): Promise<void> {
  const value = JSON.stringify(demo);
  await read(journal, (db) =>
    db
      .insertInto('meta')
      .values({ key: 'demo', value })
      .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
      .execute(),
  );
}

/** Whether a journal holds neither frames nor cases. */
export async function isEmptyJournal(journal: Journal): Promise<boolean> {
  return read(journal, async (db) => {
    const frame = await db.selectFrom('frames').select('id').limit(1).executeTakeFirst();
    if (frame !== undefined) return false;
    return (await db.selectFrom('cases').select('id').limit(1).executeTakeFirst()) === undefined;
  });
}
