import type { Kysely } from 'kysely';
import { poissonAtLeast } from '../../statistics/distributions.js';
import { adjustPValues, type Interval, poissonInterval } from '../../statistics/index.js';
import { AGE_STEP } from '../cases/case-rows.js';
import { readInput } from '../input.js';
import { sumRotorHours } from '../machine/running-hours.js';
import { type Journal, read } from '../store.js';
import type { Tables } from '../tables.js';
import { type CaseFilter, caseCondition, caseFilterSchema, type ReadCaseFilter } from './filters.js';

/** What cases are gathered under. */
export type OffenderKind = 'frame' | 'position' | 'lot' | 'part-age';

/** A frame, position, lot or age of a part with the cases it had. */
export interface Offender {
  /** `frame-3`, `frame-3/117`, a lot, or hours run: `5000–10000`. */
  readonly what: string;
  readonly frame: string | null;
  readonly position: number | null;
  readonly cases: number;
  /** 95 % interval of the number (Garwood). */
  readonly interval: Interval;
  /** Cases it would have had by an even share; null where it is not known how much ran there. */
  readonly expected: number | null;
  /** Chance of so many or more by an even share, corrected for the number of places looked at; null without `expected`. */
  readonly adjustedP: number | null;
  /** The cause met most often there, and how often. */
  readonly topCause: { readonly cause: string; readonly cases: number } | null;
}

/**
 * Where cases come back: most cases first, those with one case left out (except part ages, of which all are given).
 *
 * Expected numbers: frames by the rotor-hours they ran in the period of the filter where these are known, else equally;
 * positions equally among those of their frame; lots equally among those that had a case (a lower bound of suspicion).
 * Part ages have none: how long parts of each age ran is not in the cases. Corrected by Benjamini and Hochberg, among
 * all frames or positions of the mill.
 * @throws JournalInputError
 */
export async function findRepeatOffenders(
  journal: Journal,
  kind: OffenderKind,
  filter: CaseFilter = {},
): Promise<Offender[]> {
  const wanted = readInput(caseFilterSchema, filter, 'filter');
  return read(journal, async (db) => {
    if (kind === 'part-age') return byPartAge(db, wanted);
    const groups = await gather(db, kind, wanted);
    const shares = await expectedShares(db, kind, wanted, groups);
    const total = groups.reduce((sum, group) => sum + group.cases, 0);
    const expected = groups.map((group) => {
      const share = shares.of(group);
      return share === undefined ? undefined : share * (kind === 'position' ? shares.totalOf(group) : total);
    });
    // Most positions have one of a few numbers of cases.
    const intervalOf = remember((cases: number) => poissonInterval(cases));
    const chanceOf = remember((key: string) => {
      const [cases = 0, mean = 0] = key.split(' ').map(Number);
      return poissonAtLeast(cases, mean);
    });
    const p = groups.map((group, n) => chanceOf(`${group.cases} ${expected[n] ?? group.cases}`));
    // Places without a case were looked at as well: their chance of "none or more" is 1.
    const adjusted = adjustPValues(
      [...p, ...Array<number>(Math.max(0, shares.places - p.length)).fill(1)],
      'bh',
    );
    return groups
      .map(
        (group, n): Offender => ({
          what: group.what,
          frame: group.frame,
          position: group.position,
          cases: group.cases,
          interval: intervalOf(group.cases),
          expected: expected[n] ?? null,
          adjustedP: expected[n] === undefined ? null : (adjusted[n] ?? 1),
          topCause: group.topCause,
        }),
      )
      .filter((offender) => offender.cases > 1)
      .sort((a, b) => b.cases - a.cases || (a.what < b.what ? -1 : 1));
  });
}

/** A function that works each answer out once. */
function remember<K, V>(work: (key: K) => V): (key: K) => V {
  const known = new Map<K, V>();
  return (key) => {
    const answer = known.get(key) ?? work(key);
    known.set(key, answer);
    return answer;
  };
}

interface Group {
  readonly what: string;
  readonly frame: string | null;
  readonly position: number | null;
  readonly cases: number;
  readonly topCause: { readonly cause: string; readonly cases: number } | null;
}

const NAMES: Record<Exclude<OffenderKind, 'part-age'>, (row: GroupRow) => string> = {
  frame: (row) => row.frame ?? '',
  position: (row) => `${row.frame}/${row.position}`,
  lot: (row) => row.lot ?? '',
};

interface GroupRow {
  readonly frame: string | null;
  readonly position: number | null;
  readonly lot: string | null;
  readonly cause: string | null;
  readonly cases: number;
}

async function gather(
  db: Kysely<Tables>,
  kind: Exclude<OffenderKind, 'part-age'>,
  filter: ReadCaseFilter,
): Promise<Group[]> {
  // In the order of the indexes, so that nothing need be sorted.
  const columns =
    kind === 'frame'
      ? (['frame', 'cause'] as const)
      : kind === 'lot'
        ? (['lot', 'cause'] as const)
        : (['frame', 'cause', 'position'] as const);
  const rows = await db
    .selectFrom('cases')
    .select([...columns])
    .select((eb) => eb.fn.countAll<number>().as('cases'))
    .where(caseCondition(filter))
    .groupBy([...columns])
    .execute();
  const groups = new Map<string, Group>();
  for (const partial of rows as readonly Partial<GroupRow>[]) {
    const row: GroupRow = { frame: null, position: null, lot: null, cause: null, cases: 0, ...partial };
    // Left out here and not in the question: the engine would take an index for it that leads it to every row.
    if (row[kind] === null) continue;
    const what = NAMES[kind](row);
    const known = groups.get(what);
    const best = known?.topCause ?? { cause: '', cases: 0 };
    // Of causes met equally often the first by name, whatever order the engine gives them in.
    const better =
      row.cause !== null && (row.cases > best.cases || (row.cases === best.cases && row.cause < best.cause));
    groups.set(what, {
      what,
      frame: row.frame,
      position: row.position,
      cases: (known?.cases ?? 0) + row.cases,
      topCause:
        better && row.cause !== null ? { cause: row.cause, cases: row.cases } : (known?.topCause ?? null),
    });
  }
  return [...groups.values()];
}

interface Shares {
  /** How many places were looked at. */
  readonly places: number;
  of(group: Group): number | undefined;
  /** Cases among which a position's share counts: those of its frame. */
  totalOf(group: Group): number;
}

async function expectedShares(
  db: Kysely<Tables>,
  kind: Exclude<OffenderKind, 'part-age'>,
  filter: ReadCaseFilter,
  groups: readonly Group[],
): Promise<Shares> {
  if (kind === 'lot')
    return { places: groups.length, of: () => 1 / Math.max(1, groups.length), totalOf: () => 0 };
  const frames = await db.selectFrom('frames').select(['id', 'positions']).execute();
  const within = filter.frame === undefined ? frames : frames.filter((one) => filter.frame?.includes(one.id));
  if (kind === 'position') {
    const inFrame = new Map<string, number>();
    for (const group of groups)
      inFrame.set(group.frame ?? '', (inFrame.get(group.frame ?? '') ?? 0) + group.cases);
    return {
      places: within.reduce((sum, frame) => sum + frame.positions, 0),
      of: (group) => {
        const frame = frames.find((one) => one.id === group.frame);
        return frame === undefined ? undefined : 1 / frame.positions;
      },
      totalOf: (group) => inFrame.get(group.frame ?? '') ?? 0,
    };
  }
  const running = await sumRotorHours(db, {
    ...(filter.openedFrom === undefined ? {} : { from: filter.openedFrom }),
    ...(filter.openedUntil === undefined ? {} : { until: filter.openedUntil }),
  });
  const known = within.length > 0 && within.every((frame) => (running.get(frame.id) ?? 0) > 0);
  const weight = (id: string) => (known ? (running.get(id) ?? 0) : 1);
  const total = within.reduce((sum, frame) => sum + weight(frame.id), 0);
  return {
    places: within.length,
    of: (group) => (group.frame === null || total === 0 ? undefined : weight(group.frame) / total),
    totalOf: () => 0,
  };
}

async function byPartAge(db: Kysely<Tables>, filter: ReadCaseFilter): Promise<Offender[]> {
  const rows = await db
    .selectFrom('cases')
    .select((eb) => ['nozzle_age as age', 'cause', eb.fn.countAll<number>().as('cases')])
    .where('nozzle_age', 'is not', null)
    .where(caseCondition(filter))
    .groupBy(['nozzle_age', 'cause'])
    .execute();
  const ages = new Map<number, Map<string, number>>();
  for (const { age, cause, cases } of rows) {
    if (age === null) continue;
    const causes = ages.get(age) ?? new Map<string, number>();
    causes.set(cause ?? '', cases);
    ages.set(age, causes);
  }
  return [...ages]
    .sort(([a], [b]) => a - b)
    .map(([age, causes]) => {
      const cases = [...causes.values()].reduce((sum, n) => sum + n, 0);
      const [top] = [...causes]
        .filter(([cause]) => cause !== '')
        .sort(([one, a], [other, b]) => b - a || (one < other ? -1 : 1));
      return {
        what: `${age * AGE_STEP}–${(age + 1) * AGE_STEP} h`,
        frame: null,
        position: null,
        cases,
        interval: poissonInterval(cases),
        expected: null,
        adjustedP: null,
        topCause: top === undefined ? null : { cause: top[0], cases: top[1] },
      };
    });
}
