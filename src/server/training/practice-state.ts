/**
 * The state of a practice case: its number and the moves made. It lives in the address alone, so nothing has to be
 * stored and an attempt can be sent to the trainer as a link. The hidden truth is in no address and on no page: the
 * server deals it anew from the number.
 */
import { PARTS } from '../../rules/knowledge/vocabulary.js';
import {
  type Move,
  type PracticeNumber,
  practiceCode,
  readPracticeCode,
} from '../../rules/training/index.js';

export interface PracticeState {
  /** What the case is called in an address: `2-7`, or `own-3.2` for version 2 of a kept case. */
  readonly code: string;
  /** Absent for a kept case. */
  readonly number?: PracticeNumber;
  /** A practice case of the journal. */
  readonly own?: { readonly id: string; readonly version: number };
  /** The part of a course that it is worked for. */
  readonly course?: CoursePlace;
  readonly moves: readonly Move[];
  readonly closed: boolean;
  readonly trainee: string;
}

/** Where in a course an attempt belongs, and which attempt it is: the same one is handed in once only. */
export interface CoursePlace {
  readonly id: string;
  readonly item: string;
  readonly run: string;
}

const OWN = /^(own-[0-9]{1,9})\.([0-9]{1,6})$/;
const MOST_MOVES = 40;
const ID = '[a-z0-9]+(?:-[a-z0-9]+)*';
const CHECK = new RegExp(`^c:(${ID})(?:\\.(${ID}))?(:s)?$`);
const PROPOSAL = new RegExp(`^p:(${ID}=\\d{1,3}(?:,${ID}=\\d{1,3}){0,4})$`);
const ACTION = new RegExp(`^a:(${ID}(?:\\+${ID}){0,4}):(trial|everywhere)(:s)?$`);

/** Reads a state; undefined when the address names no case. Moves that cannot be read are passed over. */
export function readPracticeState(params: URLSearchParams): PracticeState | undefined {
  const written = (params.get('case') ?? '').trim();
  const number = readPracticeCode(written);
  const own = OWN.exec(written);
  if (number === undefined && own === null) return undefined;
  const course = readPlace(params);
  return {
    code: number === undefined ? written : practiceCode(number),
    ...(number === undefined ? {} : { number }),
    ...(own === null ? {} : { own: { id: own[1] ?? '', version: Number(own[2]) } }),
    ...(course === undefined ? {} : { course }),
    moves: params
      .getAll('m')
      .slice(0, MOST_MOVES)
      .flatMap((token) => readMove(token) ?? []),
    closed: params.get('closed') === 'yes',
    trainee: (params.get('trainee') ?? '').trim().slice(0, 100),
  };
}

/** The state as a query with its question mark; `more` fields stand behind. */
export function practiceQuery(state: PracticeState, more: Readonly<Record<string, string>> = {}): string {
  const params = new URLSearchParams({ case: state.code });
  for (const move of state.moves) params.append('m', writeMove(move));
  if (state.trainee !== '') params.set('trainee', state.trainee);
  if (state.closed) params.set('closed', 'yes');
  for (const [name, value] of Object.entries(placeFields(state))) params.set(name, value);
  for (const [name, value] of Object.entries(more)) params.set(name, value);
  return `?${params}`;
}

/** The fields that keep a practice in its course. */
export const placeFields = ({ course }: Pick<PracticeState, 'course'>): Readonly<Record<string, string>> =>
  course === undefined ? {} : { course: course.id, part: course.item, run: course.run };

function readPlace(params: URLSearchParams): CoursePlace | undefined {
  const place = {
    id: params.get('course') ?? '',
    item: params.get('part') ?? '',
    run: params.get('run') ?? '',
  };
  return /^course-[0-9]{1,9}$/.test(place.id) &&
    /^[a-z0-9-]{1,40}$/.test(place.item) &&
    /^[0-9a-f-]{36}$/.test(place.run)
    ? place
    : undefined;
}

/** One move as it stands in an address: `c:groove-look:s`, `c:part-exchange.rotor:s`, `p:twist-too-low=70`, `a:raise-twist:trial`. */
export function writeMove(move: Move): string {
  if ('check' in move)
    return `c:${move.check}${move.part === undefined ? '' : `.${move.part}`}${move.standstill === true ? ':s' : ''}`;
  if ('propose' in move)
    return `p:${Object.entries(move.propose)
      .map(([cause, confidence]) => `${cause}=${Math.round(100 * confidence)}`)
      .join(',')}`;
  return `a:${move.act.join('+')}:${move.on ?? 'trial'}${move.standstill === true ? ':s' : ''}`;
}

/** Reads one move; undefined when it is none. */
export function readMove(token: string): Move | undefined {
  const check = CHECK.exec(token);
  if (check !== null) {
    const part = PARTS.find((one) => one === check[2]);
    if (check[2] !== undefined && part === undefined) return undefined;
    return {
      check: check[1] ?? '',
      ...(part === undefined ? {} : { part }),
      ...(check[3] === undefined ? {} : { standstill: true }),
    };
  }
  const proposal = PROPOSAL.exec(token);
  if (proposal !== null)
    return {
      propose: Object.fromEntries(
        (proposal[1] ?? '').split(',').map((one): [string, number] => {
          const [cause = '', confidence = '0'] = one.split('=');
          return [cause, Math.min(100, Number(confidence)) / 100];
        }),
      ),
    };
  const action = ACTION.exec(token);
  if (action === null) return undefined;
  return {
    act: (action[1] ?? '').split('+'),
    on: action[2] === 'everywhere' ? 'everywhere' : 'trial',
    ...(action[3] === undefined ? {} : { standstill: true }),
  };
}
