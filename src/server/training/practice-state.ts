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
  readonly number: PracticeNumber;
  readonly moves: readonly Move[];
  readonly closed: boolean;
  readonly trainee: string;
}

const MOST_MOVES = 40;
const ID = '[a-z0-9]+(?:-[a-z0-9]+)*';
const CHECK = new RegExp(`^c:(${ID})(?:\\.(${ID}))?(:s)?$`);
const PROPOSAL = new RegExp(`^p:(${ID}=\\d{1,3}(?:,${ID}=\\d{1,3}){0,4})$`);
const ACTION = new RegExp(`^a:(${ID}(?:\\+${ID}){0,4}):(trial|everywhere)(:s)?$`);

/** Reads a state; undefined when the address names no case. Moves that cannot be read are passed over. */
export function readPracticeState(params: URLSearchParams): PracticeState | undefined {
  const number = readPracticeCode(params.get('case') ?? '');
  if (number === undefined) return undefined;
  return {
    number,
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
  const params = new URLSearchParams({ case: practiceCode(state.number) });
  for (const move of state.moves) params.append('m', writeMove(move));
  if (state.trainee !== '') params.set('trainee', state.trainee);
  if (state.closed) params.set('closed', 'yes');
  for (const [name, value] of Object.entries(more)) params.set(name, value);
  return `?${params}`;
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
