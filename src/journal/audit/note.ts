import { currentActor } from '../acting.js';
import { type Journal, write } from '../store.js';
import { addAudit, type NewAudit } from './add-audit.js';

/**
 * Notes something that changes nothing in the journal: a sign-in that failed, a refusal, an export, a backup.
 * @param who the name to put to it where nobody is known for sure
 */
export async function noteAudit(journal: Journal, line: NewAudit, who = 'unknown'): Promise<void> {
  const name = currentActor().name ?? who;
  await write(journal, { who: name }, { noteAudit: true }, (writing) => addAudit(writing, line));
}
