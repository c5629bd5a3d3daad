import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundleWriter } from './bundle-writer.js';
import type { Acknowledged, KillPlace } from './kind.js';
import { KINDS } from './kinds.js';

/** What came of killing a writer again and again. */
export interface KillReport {
  readonly kind: string;
  readonly rounds: number;
  readonly acknowledged: number;
  /** Sentences; empty when nothing was lost and nothing half-written. */
  readonly losses: readonly string[];
}

/**
 * Kills a process that writes to a journal, with SIGKILL at a moment of chance after its first word, and looks whether
 * everything it acknowledged is there and nothing is there by half.
 * The build must be there.
 * @param url a database to write to in place of a file
 */
export async function killRounds(kind: string, rounds: number, url?: string): Promise<KillReport> {
  const steps = KINDS[kind];
  if (steps === undefined) throw new Error(`there is no kind "${kind}"`);
  const folder = mkdtempSync(join(tmpdir(), 'journal-kill-'));
  const place: KillPlace = url === undefined ? { folder } : { folder, url };
  const losses: string[] = [];
  let acknowledged = 0;
  try {
    const writer = await bundleWriter(folder);
    await steps.prepare(place);
    for (let round = 0; round < rounds; round++) {
      const said = await killWriter(writer, kind, round, place);
      acknowledged += said.length;
      losses.push(...(await steps.check(place, said)).map((loss) => `${kind}, round ${round}: ${loss}`));
    }
    return { kind, rounds, acknowledged, losses };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Longest time a writer is left alone after its first word, ms. */
const LONGEST = 300;

function killWriter(file: string, kind: string, round: number, place: KillPlace): Promise<Acknowledged[]> {
  return new Promise((done, failed) => {
    const writer = spawn(process.execPath, [file, kind, String(round), JSON.stringify(place)], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let out = '';
    let complaints = '';
    let timer: NodeJS.Timeout | undefined;
    writer.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text;
      timer ??= setTimeout(() => writer.kill('SIGKILL'), Math.random() * LONGEST);
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
