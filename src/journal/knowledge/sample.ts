import { createRandom } from '../../statistics/random.js';
import { type Journal, read } from '../store.js';

/** Which closed cases a version is tried on when there are too many to try all. */
export interface SampleSize {
  /** The newest so many, since they are most like what comes next. */
  readonly newest: number;
  /** So many of the rest, drawn at random. */
  readonly random: number;
  /** Of the drawing; whole number. The same seed on the same cases draws the same. */
  readonly seed: number;
}

/** The cases drawn, newest first, and how many there are. */
export interface CaseSample {
  readonly cases: readonly { readonly id: string; readonly cause: string }[];
  /** Closed cases with a confirmed cause and a kept diagnosis. */
  readonly closed: number;
}

/** Draws closed, confirmed cases that kept what was told when they were opened. */
export async function sampleClosedCases(journal: Journal, size: SampleSize): Promise<CaseSample> {
  const rows = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .innerJoin('diagnoses', (join) =>
        join.onRef('diagnoses.case_id', '=', 'cases.id').on('diagnoses.number', '=', 1),
      )
      .select(['cases.id as id', 'cases.cause as cause'])
      .where('cases.outcome', '=', 'confirmed')
      .where('cases.cause', 'is not', null)
      .orderBy('cases.closed_at', 'desc')
      .orderBy('cases.id', 'desc')
      .execute(),
  );
  const cases = rows.map(({ id, cause }) => ({ id, cause: cause ?? '' }));
  const newest = cases.slice(0, size.newest);
  return { cases: [...newest, ...draw(cases.slice(size.newest), size)], closed: cases.length };
}

/** So many of a list at random, in its order. */
function draw<T>(all: readonly T[], { random, seed }: SampleSize): T[] {
  if (all.length <= random) return [...all];
  const next = createRandom(seed);
  const places = all.map((_, place) => place);
  for (let n = 0; n < random; n++) {
    const other = n + Math.floor(next() * (places.length - n));
    [places[n], places[other]] = [places[other] ?? 0, places[n] ?? 0];
  }
  return places
    .slice(0, random)
    .sort((a, b) => a - b)
    .flatMap((place) => all[place] ?? []);
}

/** Number of closed, confirmed cases that a version can be tried on. */
export async function countTriedCases(journal: Journal): Promise<number> {
  const row = await read(journal, (db) =>
    db
      .selectFrom('cases')
      .innerJoin('diagnoses', (join) =>
        join.onRef('diagnoses.case_id', '=', 'cases.id').on('diagnoses.number', '=', 1),
      )
      .select((eb) => eb.fn.countAll<number>().as('count'))
      .where('cases.outcome', '=', 'confirmed')
      .where('cases.cause', 'is not', null)
      .executeTakeFirstOrThrow(),
  );
  return row.count;
}
