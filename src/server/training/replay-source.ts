import { findCase, findDiagnosis, type Journal } from '../../journal/index.js';
import { say } from '../../language/say.js';
import type { CaseInput } from '../../rules/case/types.js';
import { readState, writeQuery } from '../bench-state.js';
import { readCaseForm } from '../case-form.js';
import { readKept } from '../journal/kept-case.js';
import type { Site } from '../site.js';
import { dealState } from './deal-state.js';
import type { TrainingHall } from './hall.js';
import { practiceQuery, readPracticeState } from './practice-state.js';

/** A case to be replayed. */
export interface ReplaySource {
  readonly input: CaseInput;
  readonly title: string;
  /** Query that names the case, with its question mark. */
  readonly query: string;
  /** What a reader must know of it; empty for nothing. */
  readonly note: string;
}

const KEPT = /^(case-[0-9]{1,9})\.([0-9]{1,6})$/;

/** Which diagnosis of which kept case an address names; undefined when it names none. */
export function readKeptName(
  params: URLSearchParams,
): { readonly id: string; readonly number: number } | undefined {
  const match = KEPT.exec(params.get('kept') ?? '');
  return match === null ? undefined : { id: match[1] ?? '', number: Number(match[2]) };
}

/** A diagnosis kept with a case, replayed by today's rules. @throws JournalError `not-found` */
export async function keptSource(
  site: Site,
  journal: Journal,
  name: { readonly id: string; readonly number: number },
): Promise<ReplaySource | undefined> {
  const record = await findCase(journal, name.id);
  const kept = await findDiagnosis(journal, record.id, name.number);
  const { case: input, leftOut } = readKept(kept.input, site.vocabulary);
  if (input === undefined) return undefined;
  const notes = [
    ...(kept.knowledgeVersion === site.knowledge.version ? [] : [say('replay.changed')]),
    ...(leftOut.length === 0 ? [] : [say('replay.left-out', { parts: leftOut.join(', ') })]),
  ];
  return {
    input,
    title: say('replay.kept', { case: record.number, n: kept.number }),
    query: `?kept=${record.id}.${kept.number}`,
    note: notes.join(' '),
  };
}

/** The case of an address: one from the bench, or one from practice with the checks made on it. */
export async function openSource(
  site: Site,
  hall: TrainingHall,
  params: URLSearchParams,
): Promise<ReplaySource> {
  const practice = readPracticeState(params);
  if (practice === undefined) {
    const state = readState(params, site.mill);
    const { case: input } = readCaseForm(state, site.vocabulary);
    const query = writeQuery(state);
    return {
      input,
      title: input.title ?? state.frame?.name ?? say('replay.in-hand'),
      query: query === '' ? '?' : query,
      note: '',
    };
  }
  const dealt = await dealState(site, hall, practice);
  const asked = practice.moves.filter((move) => 'check' in move);
  const input = asked.length === 0 ? dealt.input : await hall.work.known(dealt, asked);
  return { input, title: dealt.title, query: practiceQuery(practice), note: '' };
}
