import type { Tables } from '../tables.js';
import { minutesBetween } from '../time.js';
import { placeOf, type Ranked } from './ranked.js';
import type { CaseStanding, Closure } from './replay.js';
import type { CaseState, Confirmation } from './steps.js';

/** A case as lists and pages show it. */
export interface CaseRecord extends CaseStanding {
  readonly id: string;
  readonly number: number;
  readonly version: number;
  readonly changedAt: string;
  /** Minutes from opening to knowing the cause and to running well; null while open or when not found. */
  readonly findMinutes: number | null;
  readonly fixMinutes: number | null;
  /** What the first and the last ranking said; null without a diagnosis. */
  readonly firstRanking: KeptPlace | null;
  readonly lastRanking: KeptPlace | null;
}

/** What a kept ranking said, held against the root cause once that is known. */
export interface KeptPlace {
  readonly cause: string;
  readonly probability: number;
  /** Place and probability of the root cause in it; null while open, or when the ranking did not have it. */
  readonly place: number | null;
  readonly given: number | null;
}

/** The columns of a case that follow from its steps and rankings. */
export function caseRow(
  standing: CaseStanding,
  rankings: { readonly first: Ranked | undefined; readonly last: Ranked | undefined },
): Omit<Tables['cases'], 'id' | 'number' | 'version' | 'changed_at'> {
  const { closure, cost, partHours } = standing;
  const cause = closure?.cause ?? null;
  const first = keptPlace(rankings.first, cause);
  const last = keptPlace(rankings.last, cause);
  return {
    state: standing.state,
    title: standing.title,
    opened_at: standing.openedAt,
    closed_at: closure?.at ?? null,
    frame: standing.frame,
    position: standing.position,
    section: standing.section,
    lot: standing.lot,
    yarn: standing.yarn,
    assignee: standing.assignee,
    outcome: closure?.outcome ?? null,
    cause,
    how: closure?.how ?? null,
    symptom_gone: closure === null || closure.symptomGone === null ? null : closure.symptomGone ? 1 : 0,
    found_at: closure?.foundAt ?? null,
    fixed_at: closure?.fixedAt ?? null,
    find_minutes:
      closure === null || cause === null ? null : minutesBetween(standing.openedAt, closure.foundAt),
    fix_minutes:
      closure === null || cause === null ? null : minutesBetween(standing.openedAt, closure.fixedAt),
    minutes: cost.minutes,
    rotor_hours: cost.rotorHours,
    waste_kg: cost.wasteKg,
    nozzle_hours: partHours.nozzle,
    tube_hours: partHours.tube,
    rotor_part_hours: partHours.rotor,
    first_cause: first?.cause ?? null,
    first_probability: first?.probability ?? null,
    first_place: first?.place ?? null,
    first_given: first?.given ?? null,
    last_cause: last?.cause ?? null,
    last_probability: last?.probability ?? null,
    last_place: last?.place ?? null,
    last_given: last?.given ?? null,
    first_mille: milleOf(first?.probability),
    last_mille: milleOf(last?.probability),
    nozzle_age: partHours.nozzle === null ? null : Math.floor(partHours.nozzle / AGE_STEP),
  };
}

/** Width of an age group of nozzles, hours. The schema knows it too: it cannot be changed without a step of it. */
export const AGE_STEP = 5000;

const milleOf = (probability: number | undefined): number | null =>
  probability === undefined ? null : Math.floor(probability * 1000);

function keptPlace(ranked: Ranked | undefined, cause: string | null): KeptPlace | null {
  const [top] = ranked ?? [];
  if (ranked === undefined || top === undefined) return null;
  const found = cause === null ? undefined : placeOf(ranked, cause);
  return {
    cause: top[0],
    probability: top[1],
    place: found?.place ?? null,
    given: found?.probability ?? null,
  };
}

/** What the search looks through: number, words of the case, and what it hangs on, in lower case. */
export const searchText = (parts: readonly (string | null)[]): string =>
  parts
    .filter((part): part is string => part !== null && part !== '')
    .join(' \n')
    .toLowerCase()
    .slice(0, 4000);

/** Columns of a case that a record needs. */
export const CASE_COLUMNS = [
  'id',
  'number',
  'version',
  'state',
  'title',
  'opened_at',
  'changed_at',
  'closed_at',
  'frame',
  'position',
  'section',
  'lot',
  'yarn',
  'assignee',
  'outcome',
  'cause',
  'how',
  'symptom_gone',
  'found_at',
  'fixed_at',
  'find_minutes',
  'fix_minutes',
  'minutes',
  'rotor_hours',
  'waste_kg',
  'nozzle_hours',
  'tube_hours',
  'rotor_part_hours',
  'first_cause',
  'first_probability',
  'first_place',
  'first_given',
  'last_cause',
  'last_probability',
  'last_place',
  'last_given',
] as const;

/** A row as a record. Checks, contributing causes and the closing note come from the steps and are empty here. */
export function toCase(row: Pick<Tables['cases'], (typeof CASE_COLUMNS)[number]>): CaseRecord {
  return {
    id: row.id,
    number: row.number,
    version: row.version,
    state: row.state as CaseState,
    title: row.title,
    assignee: row.assignee,
    openedAt: row.opened_at,
    changedAt: row.changed_at,
    frame: row.frame,
    position: row.position,
    section: row.section,
    lot: row.lot,
    yarn: row.yarn,
    partHours: { nozzle: row.nozzle_hours, tube: row.tube_hours, rotor: row.rotor_part_hours },
    cost: { minutes: row.minutes, rotorHours: row.rotor_hours, wasteKg: row.waste_kg },
    checks: [],
    closure: closureOf(row),
    findMinutes: row.find_minutes,
    fixMinutes: row.fix_minutes,
    firstRanking: rankingOf(row.first_cause, row.first_probability, row.first_place, row.first_given),
    lastRanking: rankingOf(row.last_cause, row.last_probability, row.last_place, row.last_given),
  };
}

function closureOf(row: Pick<Tables['cases'], (typeof CASE_COLUMNS)[number]>): Closure | null {
  if (row.closed_at === null || row.outcome === null) return null;
  return {
    at: row.closed_at,
    outcome: row.outcome as Closure['outcome'],
    cause: row.cause,
    contributing: [],
    how: row.how as Confirmation | null,
    symptomGone: row.symptom_gone === null ? null : row.symptom_gone === 1,
    foundAt: row.found_at ?? row.closed_at,
    fixedAt: row.fixed_at ?? row.closed_at,
    note: '',
  };
}

const rankingOf = (
  cause: string | null,
  probability: number | null,
  place: number | null,
  given: number | null,
): KeptPlace | null => (cause === null || probability === null ? null : { cause, probability, place, given });
