import type { Change, Onset } from '../../rules/knowledge/vocabulary.js';
import { readInstant } from '../input.js';
import { type Journal, read } from '../store.js';
import { loadFrame } from './frames.js';
import { compareSetups, type SetupDifference } from './setup-differences.js';
import { loadSetupAt, loadSetups, type SetupRecord } from './setups.js';

/** One entry of the setup history held against the one before it. */
export interface LateChange {
  readonly setup: string;
  readonly at: string;
  readonly who: string;
  readonly note: string;
  readonly changes: readonly Change[];
  readonly differences: readonly SetupDifference[];
  /** Lot and yarn before and after, where they differ. */
  readonly lot?: { readonly before: string | null; readonly after: string | null };
  readonly yarn?: { readonly before: string | null; readonly after: string | null };
}

/** What was changed on a frame since a time. */
export interface WhatChanged {
  readonly frame: string;
  readonly since: string;
  /** For a case's `changed`: `none` only when the history reaches back far enough to say so; empty when it does not. */
  readonly changed: readonly Change[];
  /** Offered as a case's `onset`. */
  readonly onset: Onset | null;
  /** Newest first. */
  readonly entries: readonly LateChange[];
  /** What held at `since` and holds now: `before` and `setup` of a case. */
  readonly before: SetupRecord | null;
  readonly present: SetupRecord | null;
}

const RENEWED = { nozzle: 'nozzle-renewed', tube: 'tube', rotor: 'rotor' } as const satisfies Record<
  string,
  Change
>;

/**
 * What was changed on a frame since an instant, in the words of a case file and as setup differences.
 * @throws JournalError `not-found` for the frame
 */
export async function whatChangedLately(
  journal: Journal,
  frame: string,
  since: string,
): Promise<WhatChanged> {
  return read(journal, async (db) => {
    await loadFrame(db, frame);
    const start = readInstant('since', since);
    const before = (await loadSetupAt(db, frame, start)) ?? null;
    const later = (await loadSetups(db, frame, { from: start })).filter((setup) => setup.id !== before?.id);
    const entries = later.map((setup, n) => holdAgainst(setup, later[n + 1] ?? before));
    const changed = [...new Set(entries.flatMap((entry) => entry.changes))];
    return {
      frame,
      since: start,
      changed: changed.length > 0 ? changed : before === null ? [] : ['none'],
      onset: changed.length > 0 ? 'since-change' : null,
      entries,
      before,
      present: later[0] ?? before,
    };
  });
}

function holdAgainst(setup: SetupRecord, earlier: SetupRecord | null): LateChange {
  const compared =
    earlier === null ? { differences: [], changes: [] } : compareSetups(earlier.given, setup.given);
  const changes = new Set<Change>([
    ...setup.changes,
    ...compared.changes,
    ...setup.renewed.map((one) => RENEWED[one.part]),
  ]);
  const lotChanged = earlier !== null && setup.lot !== null && earlier.lot !== setup.lot;
  const yarnChanged = earlier !== null && setup.yarn !== null && earlier.yarn !== setup.yarn;
  if (lotChanged) changes.add('lot');
  return {
    setup: setup.id,
    at: setup.at,
    who: setup.who,
    note: setup.note,
    changes: [...changes],
    differences: compared.differences,
    ...(lotChanged ? { lot: { before: earlier.lot, after: setup.lot } } : {}),
    ...(yarnChanged ? { yarn: { before: earlier.yarn, after: setup.yarn } } : {}),
  };
}
