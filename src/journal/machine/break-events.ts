import type { Transaction } from 'kysely';
import { z } from 'zod';
import { say } from '../../language/say.js';
import { JournalInputError } from '../errors.js';
import { type By, idSchema, readInput } from '../input.js';
import { requireLinked } from '../mill/linked.js';
import { type Journal, write } from '../store.js';
import type { Tables } from '../tables.js';
import { dayOf } from '../time.js';
import { type BatchReceipt, receiveBatch } from './batches.js';
import { quarterOf } from './quarters.js';

/** One end break as a machine reports it. */
export interface BreakEvent {
  readonly frame: string;
  readonly position: number;
  /** When it happened, ISO 8601 with its offset. */
  readonly at: string;
}

/** Most events of one batch; a longer report is sent in several. */
export const MOST_EVENTS = 50_000;

/** Rows of one insert: three values each, well below what both engines take. */
const CHUNK = 2000;

/** For describing a batch of break events in the API. */
export const breakEventsSchema = z.array(
  z.strictObject({
    frame: idSchema,
    position: z.number().int().min(1),
    at: z.iso.datetime({ offset: true }),
  }),
);

/**
 * Takes in a batch of break events. A batch is taken once: sent again it changes nothing and gets the same receipt. An
 * event already known (same frame, position and time) is not counted twice, so overlapping batches do no harm. The
 * sums by day and by quarter of an hour are kept in the same transaction.
 * @throws JournalInputError naming the first event that cannot be used; JournalError `reused-key`, `not-found`
 */
export async function recordBreaks(
  journal: Journal,
  batch: string,
  events: readonly BreakEvent[],
  by: By,
): Promise<BatchReceipt> {
  const id = readInput(idSchema, batch, 'batch');
  const rows = readEvents(events);
  return write(journal, by, { recordBreaks: id }, (writing) =>
    receiveBatch(writing, { id, kind: 'breaks', content: rows }, async () => {
      const furthest = new Map<string, number>();
      for (const row of rows) furthest.set(row.frame, Math.max(row.position, furthest.get(row.frame) ?? 0));
      for (const [frame, position] of furthest) await requireLinked(writing.trx, { frame, position });
      let added = 0;
      for (let start = 0; start < rows.length; start += CHUNK) {
        const fresh = await writing.trx
          .insertInto('break_events')
          .values(rows.slice(start, start + CHUNK))
          .onConflict((conflict) => conflict.columns(['frame', 'at', 'position']).doNothing())
          .returning(['frame', 'at', 'position'])
          .execute();
        added += fresh.length;
        await addToSums(writing.trx, fresh);
      }
      return added;
    }),
  );
}

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d+)?)?(Z|[+-]\d\d:?\d\d)$/;

/** Checked by hand and not by schema: batches are long. Rows come back in the order of their key. */
function readEvents(events: readonly BreakEvent[]): Tables['break_events'][] {
  if (events.length === 0 || events.length > MOST_EVENTS)
    throw new JournalInputError([
      {
        field: 'events',
        value: say('input.events', { n: events.length }),
        allowed: say('input.events-in-batch', { most: MOST_EVENTS }),
      },
    ]);
  const rows = events.map(({ frame, position, at }, n) => {
    if (typeof frame !== 'string') throw badEvent(n, 'frame', frame, say('input.id-of-frame'));
    if (!Number.isInteger(position) || position < 1)
      throw badEvent(n, 'position', position, say('input.whole-from-1'));
    const instant = typeof at === 'string' && INSTANT.test(at) ? Date.parse(at) : Number.NaN;
    if (Number.isNaN(instant)) throw badEvent(n, 'at', at, say('input.time'));
    return { frame, position, at: new Date(instant).toISOString() };
  });
  return rows.sort((a, b) => compare(a.frame, b.frame) || compare(a.at, b.at) || a.position - b.position);
}

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

const badEvent = (n: number, field: string, value: unknown, allowed: string): JournalInputError =>
  new JournalInputError([{ field: `events[${n}].${field}`, value: String(value).slice(0, 60), allowed }]);

/** Adds new events to the sums, in the order of the keys, so that two batches never wait for each other crosswise. */
async function addToSums(trx: Transaction<Tables>, fresh: readonly Tables['break_events'][]): Promise<void> {
  const days = new Map<string, Tables['break_days']>();
  const quarters = new Map<string, Tables['break_quarters']>();
  const totals = new Map<string, Tables['break_totals']>();
  for (const { frame, at, position } of fresh) {
    const day = dayOf(at);
    const dayKey = `${frame} ${day} ${String(position).padStart(5, '0')}`;
    const inDay = days.get(dayKey);
    days.set(dayKey, { frame, day, position, breaks: (inDay?.breaks ?? 0) + 1 });
    const quarter = quarterOf(at);
    const quarterKey = `${frame} ${String(quarter).padStart(9, '0')}`;
    const inQuarter = quarters.get(quarterKey);
    quarters.set(quarterKey, { frame, quarter, breaks: (inQuarter?.breaks ?? 0) + 1 });
    const totalKey = `${frame} ${day}`;
    totals.set(totalKey, { frame, day, breaks: (totals.get(totalKey)?.breaks ?? 0) + 1 });
  }
  const sorted = <V>(map: Map<string, V>) => [...map].sort(([a], [b]) => compare(a, b)).map(([, row]) => row);
  const dayRows = sorted(days);
  const quarterRows = sorted(quarters);
  const totalRows = sorted(totals);
  if (quarterRows.length > 0)
    await trx
      .insertInto('break_quarters')
      .values(quarterRows)
      .onConflict((conflict) =>
        conflict
          .columns(['frame', 'quarter'])
          .doUpdateSet((eb) => ({ breaks: eb('break_quarters.breaks', '+', eb.ref('excluded.breaks')) })),
      )
      .execute();
  if (totalRows.length > 0)
    await trx
      .insertInto('break_totals')
      .values(totalRows)
      .onConflict((conflict) =>
        conflict
          .columns(['frame', 'day'])
          .doUpdateSet((eb) => ({ breaks: eb('break_totals.breaks', '+', eb.ref('excluded.breaks')) })),
      )
      .execute();
  if (dayRows.length > 0)
    await trx
      .insertInto('break_days')
      .values(dayRows)
      .onConflict((conflict) =>
        conflict
          .columns(['frame', 'day', 'position'])
          .doUpdateSet((eb) => ({ breaks: eb('break_days.breaks', '+', eb.ref('excluded.breaks')) })),
      )
      .execute();
}
