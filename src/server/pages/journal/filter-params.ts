import type { CaseFilter, ComplaintFilter } from '../../../journal/index.js';
import { monthsBefore, nextDay, readMoment } from '../../views/journal/moments.js';

/** Cases that are not closed. */
export const NOT_CLOSED = ['open', 'checking', 'acting', 'on-trial', 'tried'] as const;
const CASE_STATES = [...NOT_CLOSED, 'closed'] as const;
const COMPLAINT_STATES = ['open', 'contained', 'traced', 'corrected', 'verified', 'closed'] as const;

const ID = /^[a-zA-Z0-9][a-zA-Z0-9._-]{0,79}$/;
const id = (params: URLSearchParams, name: string) => {
  const value = params.get(name) ?? '';
  return ID.test(value) ? value : undefined;
};

/** The months looked back over: 1 to 120; undefined for all time. */
export function monthsFrom(params: URLSearchParams): number | undefined {
  const text = params.get('months') ?? '';
  const months = /^\d{1,3}$/.test(text) ? Number(text) : 0;
  return months >= 1 && months <= 120 ? months : undefined;
}

/** The instant from which a search begins: a day, or so many months back. */
export function fromInstant(params: URLSearchParams, now: string): string | undefined {
  const day = readMoment(params.get('from') ?? '');
  if (day !== undefined) return day;
  const months = monthsFrom(params);
  return months === undefined ? undefined : monthsBefore(now, months);
}

/** The instant before which a search ends: the end of the day given. */
function untilInstant(params: URLSearchParams): string | undefined {
  const day = readMoment(params.get('until') ?? '');
  return day === undefined ? undefined : nextDay(day);
}

/** An address's search for cases; what it says wrongly is left out. */
export function caseFilterFrom(params: URLSearchParams, now: string): CaseFilter {
  const state = params.get('state') ?? '';
  const outcome = (['confirmed', 'suspected', 'not-found'] as const).find(
    (one) => one === params.get('outcome'),
  );
  const position = Number(params.get('position') ?? Number.NaN);
  const one = CASE_STATES.find((word) => word === state);
  return dropUndefined({
    text: params.get('q')?.trim().slice(0, 200) || undefined,
    frame: id(params, 'frame'),
    position: Number.isInteger(position) && position >= 1 && position <= 5000 ? position : undefined,
    yarn: id(params, 'yarn'),
    lot: id(params, 'lot'),
    cause: id(params, 'cause'),
    customer: params.get('customer')?.trim().slice(0, 200) || undefined,
    complaint: id(params, 'complaint'),
    state: state === 'not-closed' ? [...NOT_CLOSED] : one,
    outcome,
    openedFrom: fromInstant(params, now),
    openedUntil: untilInstant(params),
  });
}

/** An address's search for complaints. */
export function complaintFilterFrom(params: URLSearchParams, now: string): ComplaintFilter {
  const state = params.get('state') ?? '';
  return dropUndefined({
    text: params.get('q')?.trim().slice(0, 200) || undefined,
    customer: params.get('customer')?.trim().slice(0, 200) || undefined,
    frame: id(params, 'frame'),
    yarn: id(params, 'yarn'),
    lot: id(params, 'lot'),
    cause: id(params, 'cause'),
    case: id(params, 'case'),
    state:
      state === 'not-closed'
        ? COMPLAINT_STATES.filter((one) => one !== 'closed')
        : COMPLAINT_STATES.find((word) => word === state),
    receivedFrom: fromInstant(params, now),
    receivedUntil: untilInstant(params),
  });
}

type Defined<T> = { [K in keyof T]: Exclude<T[K], undefined> };

function dropUndefined<T extends object>(object: T): Partial<Defined<T>> {
  return Object.fromEntries(Object.entries(object).filter(([, value]) => value !== undefined)) as Partial<
    Defined<T>
  >;
}
