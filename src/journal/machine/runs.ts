import type { Transaction } from 'kysely';
import { z } from 'zod';
import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { JournalInputError } from '../errors.js';
import { amountSchema, type By, idSchema, readInput } from '../input.js';
import { loadFrame } from '../mill/frames.js';
import { type Journal, write } from '../store.js';
import type { Tables } from '../tables.js';
import { dayOf, dayStart, instantSchema } from '../time.js';
import { type BatchReceipt, receiveBatch } from './batches.js';

/** How long a frame ran in a period, and, where they were counted by hand or by the panel, its breaks. */
export const runSchema = z.strictObject({
  frame: idSchema,
  from: instantSchema,
  until: instantSchema,
  /** Positions × hours run. */
  rotorHours: amountSchema,
  /** Counted breaks; left out where each break is reported as an event. */
  breaks: z.number().int().min(0).max(1e6).nullable().default(null),
});
export type RunInput = z.input<typeof runSchema>;

/**
 * Takes in a batch of running periods. A batch is taken once; a period of a frame that begins when a known one does is
 * not taken again.
 * @throws JournalInputError when a period is longer than 31 days, ends before it begins, or holds more rotor-hours than
 * the frame has; JournalError `reused-key`, `not-found`
 */
export async function recordRuns(
  journal: Journal,
  batch: string,
  runs: readonly RunInput[],
  by: By,
): Promise<BatchReceipt> {
  const id = readInput(idSchema, batch, 'batch');
  const input = readInput(z.array(runSchema).min(1).max(20_000), runs, 'runs');
  return write(journal, by, { recordRuns: id }, (writing) =>
    receiveBatch(writing, { id, kind: 'runs', content: input }, async () => {
      const { trx } = writing;
      const positions = new Map<string, number>();
      for (const frame of new Set(input.map((run) => run.frame)))
        positions.set(frame, (await loadFrame(trx, frame)).positions);
      const rows = input
        .map((run, n) => toRun(run, n, positions.get(run.frame) ?? 1, id))
        .sort((a, b) => (a.frame + a.from_at < b.frame + b.from_at ? -1 : 1));
      let added = 0;
      for (let start = 0; start < rows.length; start += 500) {
        const fresh = await trx
          .insertInto('runs')
          .values(rows.slice(start, start + 500))
          .onConflict((conflict) => conflict.columns(['frame', 'from_at']).doNothing())
          .returningAll()
          .execute();
        added += fresh.length;
        await addToDays(trx, fresh);
      }
      return added;
    }),
  );
}

function toRun(run: z.output<typeof runSchema>, n: number, positions: number, batch: string): Tables['runs'] {
  const hours = (Date.parse(run.until) - Date.parse(run.from)) / 3_600_000;
  if (!(hours > 0 && hours <= 744))
    throw new JournalInputError([
      { field: `runs[${n}].until`, value: run.until, allowed: say('input.run-until') },
    ]);
  // A thousandth more is rounding at the machine.
  if (run.rotorHours > positions * hours * 1.001)
    throw new JournalInputError([
      {
        field: `runs[${n}].rotorHours`,
        value: String(run.rotorHours),
        allowed: say('input.run-hours', {
          positions,
          hours: localDecimal(String(Math.round(hours * 100) / 100)),
        }),
      },
    ]);
  return {
    frame: run.frame,
    from_at: run.from,
    until_at: run.until,
    rotor_hours: run.rotorHours,
    frame_hours: run.rotorHours / positions,
    breaks: run.breaks,
    batch,
  };
}

/** Shares out periods over the days they touch and adds them to the sums. Counted breaks go to the day of the start. */
async function addToDays(trx: Transaction<Tables>, fresh: readonly Tables['runs'][]): Promise<void> {
  const days = new Map<string, Tables['running_days']>();
  const add = (frame: string, day: string, rotor: number, hours: number, breaks: number, counted: number) => {
    const key = `${frame} ${day}`;
    const known = days.get(key);
    days.set(key, {
      frame,
      day,
      rotor_hours: (known?.rotor_hours ?? 0) + rotor,
      frame_hours: (known?.frame_hours ?? 0) + hours,
      counted_breaks: (known?.counted_breaks ?? 0) + breaks,
      counted_rotor_hours: (known?.counted_rotor_hours ?? 0) + counted,
    });
  };
  for (const run of fresh) {
    const from = Date.parse(run.from_at);
    const until = Date.parse(run.until_at);
    for (let start = from; start < until; ) {
      const midnight = Date.parse(dayStart(new Date(start).toISOString())) + 86_400_000;
      const end = Math.min(until, midnight);
      const share = (end - start) / (until - from);
      const day = dayOf(new Date(start).toISOString());
      const counted = run.breaks === null ? 0 : run.rotor_hours * share;
      add(
        run.frame,
        day,
        run.rotor_hours * share,
        run.frame_hours * share,
        start === from ? (run.breaks ?? 0) : 0,
        counted,
      );
      start = end;
    }
  }
  const rows = [...days].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
  if (rows.length === 0) return;
  await trx
    .insertInto('running_days')
    .values(rows)
    .onConflict((conflict) =>
      conflict.columns(['frame', 'day']).doUpdateSet((eb) => ({
        rotor_hours: eb('running_days.rotor_hours', '+', eb.ref('excluded.rotor_hours')),
        frame_hours: eb('running_days.frame_hours', '+', eb.ref('excluded.frame_hours')),
        counted_breaks: eb('running_days.counted_breaks', '+', eb.ref('excluded.counted_breaks')),
        counted_rotor_hours: eb(
          'running_days.counted_rotor_hours',
          '+',
          eb.ref('excluded.counted_rotor_hours'),
        ),
      })),
    )
    .execute();
}
