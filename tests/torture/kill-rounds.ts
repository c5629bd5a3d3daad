import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  checkJournal,
  countBreaksByHour,
  countJournal,
  findCase,
  openJournal,
  recordBreaks,
} from '../../src/journal/index.js';
import { addSmallMill } from '../journal/fixtures.js';
import type { Acknowledged } from './writer.js';

/** What came of killing a writer again and again. */
export interface KillReport {
  readonly rounds: number;
  readonly acknowledged: number;
  /** Sentences; empty when nothing was lost and nothing half-written. */
  readonly losses: readonly string[];
}

/**
 * Kills a process that writes to a SQLite journal, with SIGKILL at a moment of chance after its first write, and looks
 * whether everything it acknowledged is there and nothing is there by half.
 */
export async function killRounds(rounds: number): Promise<KillReport> {
  const folder = mkdtempSync(join(tmpdir(), 'journal-kill-'));
  const losses: string[] = [];
  let acknowledged = 0;
  try {
    const journal = await openJournal({ folder });
    await addSmallMill(journal);
    await journal.close();
    for (let round = 0; round < rounds; round++) {
      const lines = await killWriter(folder, round);
      acknowledged += lines.length;
      losses.push(...(await lookForLosses(folder, lines)).map((loss) => `round ${round}: ${loss}`));
    }
    return { rounds, acknowledged, losses };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function killWriter(folder: string, round: number): Promise<Acknowledged[]> {
  return new Promise((done, failed) => {
    const writer = spawn(
      process.execPath,
      ['--import', 'tsx', join(import.meta.dirname, 'writer.ts'), folder, String(round)],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    let out = '';
    let complaints = '';
    let timer: NodeJS.Timeout | undefined;
    writer.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
      timer ??= setTimeout(() => writer.kill('SIGKILL'), Math.random() * 250);
    });
    writer.stderr.setEncoding('utf8').on('data', (text: string) => {
      complaints += text;
    });
    writer.once('close', (_, signal) => {
      clearTimeout(timer);
      if (signal !== 'SIGKILL') failed(new Error(`the writer ended by itself: ${complaints}`));
      // A last line without its end was cut off in the pipe; it says nothing.
      else
        done(
          out
            .split('\n')
            .slice(0, -1)
            .map((line) => JSON.parse(line) as Acknowledged),
        );
    });
  });
}

async function lookForLosses(folder: string, lines: readonly Acknowledged[]): Promise<string[]> {
  const journal = await openJournal({ folder });
  try {
    const losses: string[] = [];
    for (const line of lines)
      if ('case' in line) {
        const found = await findCase(journal, line.case).catch(() => undefined);
        if (found === undefined) losses.push(`${line.case} is gone`);
        else if (found.version < line.version) losses.push(`${line.case} has lost version ${line.version}`);
      }
    const check = await checkJournal(journal, 100_000);
    losses.push(...check.findings);
    const { rows } = await countJournal(journal);
    const hours = await countBreaksByHour(journal, 'frame-1', {
      from: '2025-01-01T00:00:00Z',
      until: '2035-01-01T00:00:00Z',
    });
    const summed = hours.reduce((sum, hour) => sum + hour.breaks, 0);
    if (summed !== rows.break_events)
      losses.push(`sums say ${summed} breaks, there are ${rows.break_events}`);
    const batches = lines.filter((line) => 'batch' in line);
    const last = batches.at(-1);
    // A batch that was acknowledged is known: sent again with other content it is refused.
    if (last !== undefined && 'batch' in last) {
      const other = [{ frame: 'frame-1', position: 1, at: '2025-06-01T00:00:00Z' }];
      const known = await recordBreaks(journal, last.batch, other, { who: 'check' }).then(
        () => false,
        () => true,
      );
      if (!known) losses.push(`${last.batch} is gone`);
    }
    return losses;
  } finally {
    await journal.close();
  }
}
