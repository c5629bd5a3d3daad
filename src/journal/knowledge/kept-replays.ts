import { nextNumber } from '../entries.js';
import { packJson, unpackJson } from '../json.js';
import type { ReplayedCase } from '../learning/replay-closed-cases.js';
import { type Journal, read, write } from '../store.js';
import type { VersionReplay } from './replay-versions.js';
import { PROGRAM_NAME } from './versions.js';

/** The figures of a kept replay; its cases are read apart. */
export interface KeptReplay extends Omit<VersionReplay, 'cases' | 'unreadable'> {
  readonly number: number;
  readonly at: string;
  readonly version: string;
  /** The version that was in use. */
  readonly against: string;
  /** Number of cases tried. */
  readonly tried: number;
  /** Number of cases that the version in use could not read. */
  readonly unread: number;
  /** Why the version was held back; empty when it was taken over. */
  readonly heldBecause: readonly string[];
}

/** Keeps a replay. @returns its number */
export async function keepReplay(
  journal: Journal,
  replay: VersionReplay,
  of: { readonly version: string; readonly against: string; readonly heldBecause: readonly string[] },
): Promise<number> {
  return write(journal, { who: PROGRAM_NAME }, { keepReplay: of.version }, async (writing) => {
    const number = await nextNumber(writing, 'knowledge-replay');
    await writing.trx
      .insertInto('knowledge_replays')
      .values({
        number,
        version: of.version,
        against: of.against,
        at: writing.recorded,
        closed: replay.closed,
        newest: replay.sample.newest,
        random: replay.sample.random,
        seed: replay.sample.seed,
        cases: replay.cases.length,
        unreadable: replay.unreadable.length,
        first_before: replay.first.before,
        first_after: replay.first.after,
        three_before: replay.firstThree.before,
        three_after: replay.firstThree.after,
        log_before: replay.logScore.before,
        log_after: replay.logScore.after,
        brier_before: replay.brier.before,
        brier_after: replay.brier.after,
        gain_lower: replay.gain?.lower ?? null,
        gain_upper: replay.gain?.upper ?? null,
        held_because: JSON.stringify(of.heldBecause),
        details: packJson({ cases: replay.cases, unreadable: replay.unreadable }),
      })
      .execute();
    return number;
  });
}

const COLUMNS = [
  'number',
  'version',
  'against',
  'at',
  'closed',
  'newest',
  'random',
  'seed',
  'cases',
  'unreadable',
  'first_before',
  'first_after',
  'three_before',
  'three_after',
  'log_before',
  'log_after',
  'brier_before',
  'brier_after',
  'gain_lower',
  'gain_upper',
  'held_because',
] as const;

/** Kept replays, the last first. @param of of one version only */
export async function listReplays(
  journal: Journal,
  of: { readonly version?: string; readonly most?: number } = {},
): Promise<KeptReplay[]> {
  const rows = await read(journal, (db) => {
    const query = db.selectFrom('knowledge_replays').select(COLUMNS);
    return (of.version === undefined ? query : query.where('version', '=', of.version))
      .orderBy('number', 'desc')
      .limit(of.most ?? 50)
      .execute();
  });
  return rows.map((row) => ({
    number: row.number,
    at: row.at,
    version: row.version,
    against: row.against,
    sample: { newest: row.newest, random: row.random, seed: row.seed },
    closed: row.closed,
    tried: row.cases,
    unread: row.unreadable,
    first: { before: row.first_before, after: row.first_after },
    firstThree: { before: row.three_before, after: row.three_after },
    logScore: { before: row.log_before, after: row.log_after },
    brier: { before: row.brier_before, after: row.brier_after },
    gain:
      row.gain_lower === null || row.gain_upper === null
        ? null
        : { lower: row.gain_lower, upper: row.gain_upper, confidence: 0.95 },
    heldBecause: JSON.parse(row.held_because) as string[],
  }));
}

/** The cases of a kept replay; none when there is no such replay. */
export async function casesOfReplay(
  journal: Journal,
  number: number,
): Promise<{ readonly cases: readonly ReplayedCase[]; readonly unreadable: readonly string[] }> {
  const row = await read(journal, (db) =>
    db.selectFrom('knowledge_replays').select('details').where('number', '=', number).executeTakeFirst(),
  );
  return row === undefined
    ? { cases: [], unreadable: [] }
    : (unpackJson(row.details) as { cases: ReplayedCase[]; unreadable: string[] });
}
