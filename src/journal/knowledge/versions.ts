import { say } from '../../language/say.js';
import { addEntry, nextNumber, notFound, takeNextVersion } from '../entries.js';
import { JournalError } from '../errors.js';
import { type By, plainText, readInput } from '../input.js';
import { packJson, unpackJson } from '../json.js';
import { type Journal, read, type Writing, write } from '../store.js';

/** How a version came into use. */
export type HowUsed =
  /** The first one this journal knows of. */
  | 'first'
  /** Rankings rest on the same as before. */
  | 'same-reasoning'
  /** There was no closed case to try it on. */
  | 'no-cases'
  /** Tried on the closed cases and no worse than is let pass. */
  | 'proved'
  /** Somebody accepted it although it did worse. */
  | 'accepted'
  /** It could not be tried: the journal was away, or the version before cannot be read any more. */
  | 'unproved';

/** A version of the knowledge as the journal knows it. */
export interface KnowledgeVersion {
  readonly id: string;
  /** Hash of what rankings rest on. */
  readonly reasoning: string;
  readonly state: 'seen' | 'held' | 'used';
  readonly seenAt: string;
  /** Counts the uses of all versions; the greatest is in use. Null: never used. */
  readonly useNumber: number | null;
  readonly usedAt: string | null;
  readonly how: HowUsed | null;
  /** Who accepted it; the program's own name otherwise. */
  readonly who: string;
  readonly note: string;
}

/** The program itself, where a version comes into use without anybody's doing. */
export const PROGRAM_NAME = 'Peelpoint';

/** Texts are kept of the versions used last, and of those seen last; older ones keep their figures only. */
const KEPT_USED = 10;
const KEPT_SEEN = 5;

const COLUMNS = [
  'id',
  'reasoning',
  'state',
  'seen_at',
  'use_number',
  'used_at',
  'how',
  'who',
  'note',
] as const;
type Row = {
  readonly id: string;
  readonly reasoning: string;
  readonly state: string;
  readonly seen_at: string;
  readonly use_number: number | null;
  readonly used_at: string | null;
  readonly how: string | null;
  readonly who: string;
  readonly note: string;
};
const toVersion = (row: Row): KnowledgeVersion => ({
  id: row.id,
  reasoning: row.reasoning,
  state: row.state as KnowledgeVersion['state'],
  seenAt: row.seen_at,
  useNumber: row.use_number,
  usedAt: row.used_at,
  how: row.how as HowUsed | null,
  who: row.who,
  note: row.note,
});

/** Versions, those seen last first. */
export async function listKnowledgeVersions(journal: Journal, most = 50): Promise<KnowledgeVersion[]> {
  const rows = await read(journal, (db) =>
    db
      .selectFrom('knowledge_versions')
      .select(COLUMNS)
      .orderBy('seen_at', 'desc')
      .orderBy('id')
      .limit(most)
      .execute(),
  );
  return rows.map(toVersion);
}

/** A version; undefined when this journal has not seen it. */
export async function findKnowledgeVersion(
  journal: Journal,
  id: string,
): Promise<KnowledgeVersion | undefined> {
  const row = await read(journal, (db) =>
    db.selectFrom('knowledge_versions').select(COLUMNS).where('id', '=', id).executeTakeFirst(),
  );
  return row === undefined ? undefined : toVersion(row);
}

/** The version used last, with the texts of its files by path where they are still kept. */
export async function knowledgeInUse(
  journal: Journal,
): Promise<(KnowledgeVersion & { readonly texts: ReadonlyMap<string, string> | undefined }) | undefined> {
  const row = await read(journal, (db) =>
    db
      .selectFrom('knowledge_versions')
      .select([...COLUMNS, 'texts'])
      .where('use_number', 'is not', null)
      .orderBy('use_number', 'desc')
      .limit(1)
      .executeTakeFirst(),
  );
  if (row === undefined) return undefined;
  const texts =
    row.texts === null ? undefined : new Map(Object.entries(unpackJson(row.texts) as Record<string, string>));
  return { ...toVersion(row), texts };
}

/** Notes a version that is to be used, with the texts of its files; one that is known keeps its history. */
export async function seeKnowledgeVersion(
  journal: Journal,
  version: {
    readonly id: string;
    readonly reasoning: string;
    readonly texts: ReadonlyMap<string, string>;
  },
): Promise<void> {
  await write(journal, { who: PROGRAM_NAME }, { seeKnowledge: version.id }, async (writing) => {
    const texts = packJson(Object.fromEntries(version.texts));
    const added = await writing.trx
      .insertInto('knowledge_versions')
      .values({
        id: version.id,
        version: 1,
        reasoning: version.reasoning,
        state: 'seen',
        seen_at: writing.recorded,
        use_number: null,
        used_at: null,
        how: null,
        who: PROGRAM_NAME,
        note: '',
        texts,
      })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .executeTakeFirst();
    if ((added.numInsertedOrUpdatedRows ?? 0n) > 0n) {
      await addEntry(writing, 'knowledge', version.id, 1, { step: 'seen', data: null });
      return;
    }
    // Its texts may have been dropped since.
    await writing.trx
      .updateTable('knowledge_versions')
      .set({ texts })
      .where('id', '=', version.id)
      .where('texts', 'is', null)
      .execute();
  });
}

/** Holds a version back. @param reasons why, one sentence each */
export async function holdKnowledgeVersion(
  journal: Journal,
  id: string,
  reasons: readonly string[],
): Promise<void> {
  await write(journal, { who: PROGRAM_NAME }, { holdKnowledge: id }, async (writing) => {
    await step(writing, id, 'held', { reasons });
    await writing.trx.updateTable('knowledge_versions').set({ state: 'held' }).where('id', '=', id).execute();
  });
}

const noteSchema = plainText(2000);

/**
 * Notes that a version is in use from now on, in place of the one before.
 * @throws JournalError `not-found`; `refused` when somebody is to accept a version that is not held back
 */
export async function useKnowledgeVersion(
  journal: Journal,
  id: string,
  how: HowUsed,
  by: By = { who: PROGRAM_NAME },
  note = '',
): Promise<void> {
  const words = readInput(noteSchema, note, 'note');
  await write(journal, by, { useKnowledge: id, how, note: words }, async (writing) => {
    if (how === 'accepted') await requireHeld(writing, id);
    await step(writing, id, how === 'accepted' ? 'accepted' : 'used', { how, note: words });
    const number = await nextNumber(writing, 'knowledge-use');
    await writing.trx
      .updateTable('knowledge_versions')
      .set({
        state: 'used',
        use_number: number,
        used_at: writing.at,
        how,
        who: writing.who,
        note: words,
      })
      .where('id', '=', id)
      .execute();
    await dropOldTexts(writing);
  });
}

async function requireHeld({ trx }: Writing, id: string): Promise<void> {
  const row = await trx
    .selectFrom('knowledge_versions')
    .select('state')
    .where('id', '=', id)
    .executeTakeFirst();
  if (row === undefined) throw notFound('knowledge version', id);
  if (row.state !== 'held') throw new JournalError('refused', say('refused.not-held', { id }));
}

async function step(writing: Writing, id: string, name: string, data: unknown): Promise<void> {
  const version = await takeNextVersion(writing, 'knowledge', id);
  await addEntry(writing, 'knowledge', id, version, { step: name, data });
}

/** A text costs some 200 kB; the last versions are enough to go on from and to go back to. */
async function dropOldTexts({ trx }: Writing): Promise<void> {
  const used = await trx
    .selectFrom('knowledge_versions')
    .select('id')
    .where('use_number', 'is not', null)
    .orderBy('use_number', 'desc')
    .limit(KEPT_USED)
    .execute();
  const seen = await trx
    .selectFrom('knowledge_versions')
    .select('id')
    .orderBy('seen_at', 'desc')
    .orderBy('id')
    .limit(KEPT_SEEN)
    .execute();
  await trx
    .updateTable('knowledge_versions')
    .set({ texts: null })
    .where('texts', 'is not', null)
    .where(
      'id',
      'not in',
      [...used, ...seen].map(({ id }) => id),
    )
    .execute();
}
