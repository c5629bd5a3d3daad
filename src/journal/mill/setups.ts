import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import { z } from 'zod';
import { say } from '../../language/say.js';
import type { GivenSetup } from '../../rules/case/types.js';
import type { Change } from '../../rules/knowledge/vocabulary.js';
import { addAudit } from '../audit/add-audit.js';
import { notFound } from '../entries.js';
import { JournalError, JournalInputError } from '../errors.js';
import {
  amountSchema,
  type By,
  idSchema,
  positionSchema,
  readInput,
  readInstant,
  textSchema,
} from '../input.js';
import { packJson, unpackJson } from '../json.js';
import { type Journal, read, type Writing, write } from '../store.js';
import type { Tables } from '../tables.js';
import { loadFrame } from './frames.js';
import { requireLinked } from './linked.js';

/** Parts whose running hours are followed by position. */
export const LIFE_PARTS = ['nozzle', 'tube', 'rotor'] as const;
export type LifePart = (typeof LIFE_PARTS)[number];

/** The words of a case's `changed`; the compiler holds this list against the rules' own. */
const CHANGE_WORDS: Readonly<Record<Exclude<Change, 'none'>, true>> = {
  'nozzle-surface': true,
  'nozzle-radius': true,
  'nozzle-material': true,
  'nozzle-renewed': true,
  protrusion: true,
  tube: true,
  insert: true,
  twist: true,
  'rotor-speed': true,
  rotor: true,
  count: true,
  lot: true,
  fibre: true,
  'opening-roller': true,
  winding: true,
  piecer: true,
  'cleaning-round': true,
  overhaul: true,
  climate: true,
};
const changeWords = Object.keys(CHANGE_WORDS) as Exclude<Change, 'none'>[];

const givenSchema = z.custom<GivenSetup>(
  (value) => typeof value === 'object' && value !== null && 'values' in value && 'typed' in value,
  'a setup as the case reader gives it, with values and typed',
);

/** A setup as it is entered: what holds on the frame from then on. */
export const setupSchema = z.strictObject({
  frame: idSchema,
  yarn: idSchema.nullable().default(null),
  lot: idSchema.nullable().default(null),
  given: givenSchema,
  /** Changes that the setup itself does not show, such as a cleaning round. */
  changes: z.array(z.enum(changeWords)).max(20).default([]),
  /** Parts put in new (or with some hours on them); without positions: on the whole frame. */
  renewed: z
    .array(
      z.strictObject({
        part: z.enum(LIFE_PARTS),
        positions: z.array(positionSchema).min(1).max(2000).nullable().default(null),
        /** Hours the parts had run when they went in. */
        hours: amountSchema.default(0),
      }),
    )
    .max(20)
    .default([]),
  note: textSchema.default(''),
  /** What the model said of the setup before and after, kept as handed in. */
  reportBefore: z.unknown().optional(),
  reportAfter: z.unknown().optional(),
});
export type SetupInput = z.input<typeof setupSchema>;
type SetupFields = z.output<typeof setupSchema>;

/** One entry of a frame's setup history. */
export interface SetupRecord {
  readonly id: string;
  readonly frame: string;
  readonly at: string;
  readonly recorded: string;
  readonly who: string;
  readonly yarn: string | null;
  readonly lot: string | null;
  readonly given: GivenSetup;
  readonly changes: readonly Change[];
  readonly renewed: SetupFields['renewed'];
  readonly note: string;
  /** The entry this one corrects. */
  readonly supersedes: string | null;
  /** The entry that corrects this one; it then no longer counts. */
  readonly supersededBy: string | null;
}

/** Records a setup from a time on. @throws JournalInputError; JournalError `not-found` */
export async function recordSetup(journal: Journal, setup: SetupInput, by: By): Promise<SetupRecord> {
  const input = readInput(setupSchema, setup, 'setup');
  return write(journal, by, { recordSetup: input }, async (writing) => {
    const record = await addSetup(writing, input, writing.at, null);
    await addAudit(writing, {
      kind: 'setup',
      subject: input.frame,
      action: 'recorded',
      data: { setup: record.id, at: record.at },
    });
    return record;
  });
}

/**
 * Corrects an entry: a new one takes its place at the same time (or at `by.at` when given) and the old one stays in
 * the history. With `setup` null the entry is withdrawn.
 * @throws JournalError `refused` when somebody else corrected it first
 */
export async function correctSetup(
  journal: Journal,
  id: string,
  setup: SetupInput | null,
  by: By,
): Promise<SetupRecord | null> {
  const input = setup === null ? null : readInput(setupSchema, setup, 'setup');
  return write(journal, by, { correctSetup: input, id }, async (writing) => {
    const { trx } = writing;
    const old = await trx
      .selectFrom('setups')
      .select(['at', 'frame', 'superseded_by', 'withdrawn'])
      .where('id', '=', id)
      .executeTakeFirst();
    if (old === undefined) throw notFound('setup entry', id);
    if (input !== null && input.frame !== old.frame)
      throw new JournalInputError([{ field: 'setup.frame', value: input.frame, allowed: old.frame }]);
    const at = by.at === undefined ? old.at : writing.at;
    const corrected = input === null ? null : await addSetup(writing, input, at, id);
    const marked = await trx
      .updateTable('setups')
      .set({ superseded_by: corrected?.id ?? null, withdrawn: corrected === null ? 1 : 0 })
      .where('id', '=', id)
      .where('superseded_by', 'is', null)
      .where('withdrawn', '=', 0)
      .executeTakeFirst();
    if (marked.numUpdatedRows !== 1n)
      throw new JournalError('refused', say('refused.setup-corrected', { id }));
    // Fittings follow from the entries that count; the entry itself stays.
    await trx.deleteFrom('fittings').where('setup', '=', id).execute();
    await addAudit(writing, {
      kind: 'setup',
      subject: old.frame,
      action: corrected === null ? 'withdrawn' : 'corrected',
      data: { setup: id, ...(corrected === null ? {} : { by: corrected.id }) },
    });
    return corrected;
  });
}

/** The setup history of a frame, newest first; entries corrected or withdrawn only on request. */
export async function listSetups(
  journal: Journal,
  frame: string,
  options: { readonly from?: string; readonly until?: string; readonly corrected?: boolean } = {},
): Promise<SetupRecord[]> {
  return read(journal, (db) => loadSetups(db, frame, options));
}

/** What holds on a frame at a time: the last entry before it; undefined when none was recorded. */
export async function setupAt(journal: Journal, frame: string, at: string): Promise<SetupRecord | undefined> {
  return read(journal, (db) => loadSetupAt(db, frame, readInstant('at', at)));
}

/** {@link setupAt} for every frame that has one, by frame. */
export async function setupsAt(journal: Journal, at: string): Promise<ReadonlyMap<string, SetupRecord>> {
  const instant = readInstant('at', at);
  const rows = await read(journal, (db) =>
    db
      .selectFrom('setups')
      .select(COLUMNS)
      .where('id', 'in', (eb) =>
        eb
          .selectFrom('frames')
          .select((frame) =>
            frame
              .selectFrom('setups as one')
              .select('one.id')
              .whereRef('one.frame', '=', 'frames.id')
              .where('one.at', '<=', instant)
              .where('one.superseded_by', 'is', null)
              .where('one.withdrawn', '=', 0)
              .orderBy('one.at', 'desc')
              .orderBy('one.recorded', 'desc')
              .orderBy('one.id', 'desc')
              .limit(1)
              .as('id'),
          ),
      )
      .execute(),
  );
  return new Map(rows.map((row) => [row.frame, toSetup(row)]));
}

/** What the model said before and after a setup entry, as it was handed in. */
export async function setupReports(
  journal: Journal,
  id: string,
): Promise<{ readonly before: unknown; readonly after: unknown }> {
  const found = (await setupReportsOf(journal, [id])).get(id);
  if (found === undefined) throw notFound('setup entry', id);
  return found;
}

/** {@link setupReports} of several entries, by entry; those that there are not are left out. */
export async function setupReportsOf(
  journal: Journal,
  ids: readonly string[],
): Promise<ReadonlyMap<string, { readonly before: unknown; readonly after: unknown }>> {
  if (ids.length === 0) return new Map();
  const rows = await read(journal, (db) =>
    db.selectFrom('setups').select(['id', 'report_before', 'report_after']).where('id', 'in', ids).execute(),
  );
  const unpacked = (bytes: Uint8Array | null) => (bytes === null ? null : unpackJson(bytes));
  return new Map(
    rows.map((row) => [row.id, { before: unpacked(row.report_before), after: unpacked(row.report_after) }]),
  );
}

const COLUMNS = [
  'id',
  'frame',
  'at',
  'recorded',
  'who',
  'yarn',
  'lot',
  'given',
  'changes',
  'renewed',
  'note',
  'supersedes',
  'superseded_by',
] as const;

/** The setup history of a frame, newest first, inside a transaction or not. */
export async function loadSetups(
  db: Kysely<Tables>,
  frame: string,
  options: { readonly from?: string; readonly until?: string; readonly corrected?: boolean } = {},
): Promise<SetupRecord[]> {
  let query = db.selectFrom('setups').select(COLUMNS).where('frame', '=', frame);
  if (options.from !== undefined) query = query.where('at', '>=', readInstant('from', options.from));
  if (options.until !== undefined) query = query.where('at', '<', readInstant('until', options.until));
  if (options.corrected !== true) query = query.where('superseded_by', 'is', null).where('withdrawn', '=', 0);
  const rows = await query.orderBy('at', 'desc').orderBy('recorded', 'desc').orderBy('id', 'desc').execute();
  return rows.map(toSetup);
}

/** The entry that holds at a time, inside a transaction or not. */
export async function loadSetupAt(
  db: Kysely<Tables>,
  frame: string,
  at: string,
): Promise<SetupRecord | undefined> {
  const row = await db
    .selectFrom('setups')
    .select(COLUMNS)
    .where('frame', '=', frame)
    .where('at', '<=', at)
    .where('superseded_by', 'is', null)
    .where('withdrawn', '=', 0)
    .orderBy('at', 'desc')
    .orderBy('recorded', 'desc')
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst();
  return row === undefined ? undefined : toSetup(row);
}

async function addSetup(
  writing: Writing,
  input: SetupFields,
  at: string,
  supersedes: string | null,
): Promise<SetupRecord> {
  const { trx, who, recorded } = writing;
  await requireLinked(trx, input);
  const frame = await loadFrame(trx, input.frame);
  const id = `setup-${randomUUID()}`;
  await trx
    .insertInto('setups')
    .values({
      id,
      frame: input.frame,
      at,
      recorded,
      who,
      yarn: input.yarn,
      lot: input.lot,
      given: JSON.stringify(input.given),
      changes: JSON.stringify(input.changes),
      renewed: JSON.stringify(input.renewed),
      note: input.note,
      report_before: input.reportBefore === undefined ? null : packJson(input.reportBefore),
      report_after: input.reportAfter === undefined ? null : packJson(input.reportAfter),
      supersedes,
      superseded_by: null,
      withdrawn: 0,
    })
    .execute();
  for (const { part, positions, hours } of input.renewed) {
    const all = [...new Set(positions ?? Array.from({ length: frame.positions }, (_, n) => n + 1))];
    requirePositions(all, frame.positions);
    for (let start = 0; start < all.length; start += 500)
      await trx
        .insertInto('fittings')
        .values(
          all.slice(start, start + 500).map((position) => ({
            frame: input.frame,
            part,
            position,
            at,
            setup: id,
            hours_at_fitting: hours,
          })),
        )
        .onConflict((conflict) => conflict.doNothing())
        .execute();
  }
  const { given, changes, renewed, note, yarn, lot } = input;
  return {
    id,
    frame: input.frame,
    at,
    recorded,
    who,
    yarn,
    lot,
    given,
    changes,
    renewed,
    note,
    supersedes,
    supersededBy: null,
  };
}

function requirePositions(given: readonly number[], positions: number): void {
  const beyond = given.find((position) => position > positions);
  if (beyond !== undefined)
    throw new JournalInputError([
      {
        field: 'setup.renewed.positions',
        value: String(beyond),
        allowed: say('input.position-on-frame', { positions }),
      },
    ]);
}

const toSetup = (row: Pick<Tables['setups'], (typeof COLUMNS)[number]>): SetupRecord => ({
  id: row.id,
  frame: row.frame,
  at: row.at,
  recorded: row.recorded,
  who: row.who,
  yarn: row.yarn,
  lot: row.lot,
  given: JSON.parse(row.given) as GivenSetup,
  changes: JSON.parse(row.changes) as Change[],
  renewed: JSON.parse(row.renewed) as SetupFields['renewed'],
  note: row.note,
  supersedes: row.supersedes,
  supersededBy: row.superseded_by,
});
