/**
 * Writes to a journal until it is killed and says on standard output what has been acknowledged, a line each. Run by the
 * kill tests: `node --import tsx tests/torture/writer.ts FOLDER ROUND`.
 */
import { writeSync } from 'node:fs';
import { openCase, openJournal, recordBreaks, recordStep } from '../../src/journal/index.js';
import { diagnosis } from '../journal/fixtures.js';

/** Something the journal said it had. */
export type Acknowledged =
  | { readonly case: string; readonly version: number }
  | { readonly batch: string; readonly added: number };

const [folder, round = '0'] = process.argv.slice(2);
const journal = await openJournal({ folder });
// Straight to the pipe: what is written here was acknowledged before.
const acknowledge = (what: Acknowledged) => writeSync(1, `${JSON.stringify(what)}\n`);
const who = { who: `writer ${round}` };
const start = Date.parse('2026-01-01T00:00:00Z') + Number(round) * 86_400_000;

for (let n = 0; ; n++) {
  let record = await openCase(
    journal,
    { title: `Round ${round}, ${n}`, diagnosis: diagnosis(0.3, 0.5, 0.2) },
    who,
  );
  acknowledge({ case: record.id, version: record.version });
  record = await recordStep(
    journal,
    { id: record.id, seen: record.version },
    { step: 'check-made', check: 'nozzle-look', outcomes: ['polished'] },
    who,
  );
  acknowledge({ case: record.id, version: record.version });
  const events = Array.from({ length: 400 }, (_, k) => ({
    frame: 'frame-1',
    position: 1 + (k % 8),
    at: new Date(start + n * 60_000 + k * 100).toISOString(),
  }));
  const receipt = await recordBreaks(journal, `batch-${round}-${n}`, events, who);
  acknowledge({ batch: receipt.batch, added: receipt.added });
}
