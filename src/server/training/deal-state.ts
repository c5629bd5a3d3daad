import { findPracticeCase, type Journal } from '../../journal/index.js';
import { type PracticeCase, readTrainerCase, TrainingError } from '../../rules/training/index.js';
import type { Site } from '../site.js';
import type { TrainingHall } from './hall.js';
import type { PracticeState } from './practice-state.js';

/** The case a practice is about: dealt from its number, or a kept one in the version that was begun. */
export async function dealState(
  site: Site,
  hall: TrainingHall,
  state: Pick<PracticeState, 'number' | 'own'>,
): Promise<PracticeCase> {
  if (state.number !== undefined) return hall.deal(state.number);
  if (state.own === undefined) throw new TrainingError('this address names no case');
  const open = await site.journal.state();
  if (open.kind !== 'open')
    throw new TrainingError('this case is kept in the journal, which cannot be used just now');
  return dealKept(hall, open.journal, state.own);
}

/**
 * A kept case made ready for practice; its key stays on the server.
 * @throws TrainingError when today’s rules cannot read it; JournalError `not-found`
 */
export async function dealKept(
  hall: TrainingHall,
  journal: Journal,
  { id, version }: { readonly id: string; readonly version: number },
): Promise<PracticeCase> {
  return hall.remember(`${id}.${version}`, async () => {
    const kept = await findPracticeCase(journal, id, version);
    const dealt = await hall.work.openOwn(readTrainerCase(kept.text, hall.room), `${id}.${version}`);
    return { ...dealt, title: kept.title };
  });
}
