import { createHash } from 'node:crypto';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  buildDemoMill,
  checkJournal,
  countJournal,
  exportJournal,
  importJournal,
  JournalError,
  type Moved,
  openJournal,
  restoreJournal,
} from '../../src/journal/index.js';
import { productEngine } from '../journal/product-engine.js';
import { changedBytes, changedJson, changedText, hostileJson } from './hostile.js';
import { FIXED_SEED, FRESH_SEED, SCALE } from './seeds.js';

const scratch = mkdtempSync(join(tmpdir(), 'peelpoint-exports-'));
const emptyFolder = join(scratch, 'empty');
let nothing: Moved;
let lines: readonly string[] = [];
let database: Buffer;
beforeAll(async () => {
  const folder = join(scratch, 'mill');
  const journal = await openJournal({ folder });
  await buildDemoMill(journal, productEngine(), { cases: 6, rankings: 2, days: 30, eventDays: 1 });
  const file = join(scratch, 'export.jsonl');
  await exportJournal(journal, file);
  await journal.close();
  lines = readFileSync(file, 'utf8').split('\n').slice(0, -1);
  const empty = await openJournal({ folder: emptyFolder });
  nothing = await countJournal(empty);
  await empty.close();
  database = readFileSync(join(folder, 'journal.sqlite'));
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

/** Lines with a last line that fits them, as somebody would write it who altered the file on purpose. */
function sealed(some: readonly string[]): string {
  const rows: Record<string, number> = {};
  for (const line of some.slice(1)) {
    try {
      const [table] = JSON.parse(line);
      rows[String(table)] = (rows[String(table)] ?? 0) + 1;
    } catch {
      // Counted or not, it is refused.
    }
  }
  const sha256 = createHash('sha256')
    .update(some.map((line) => `${line}\n`).join(''))
    .digest('hex');
  return [...some, JSON.stringify({ end: true, rows, sha256 }), ''].join('\n');
}

/** Must be refused with words. */
function mustBeToldOf(error: unknown): void {
  if (!(error instanceof JournalError)) throw error;
  expect(error.message).toMatch(/hostile|target/);
  expect(error.message.length).toBeLessThan(1500);
}

/** Reads an export into an empty journal: refused with words and nothing kept, or taken whole. */
async function readIn(bytes: string | Uint8Array): Promise<void> {
  const [folder, file] = [join(scratch, 'target'), join(scratch, 'hostile')];
  rmSync(folder, { recursive: true, force: true });
  cpSync(emptyFolder, folder, { recursive: true });
  writeFileSync(file, bytes);
  const journal = await openJournal({ folder });
  try {
    await importJournal(journal, file);
    await checkJournal(journal);
  } catch (error) {
    mustBeToldOf(error);
    expect(await countJournal(journal)).toEqual(nothing);
  } finally {
    await journal.close();
  }
}

/** Puts a database back: refused with words, or opened. */
async function restore(bytes: Uint8Array): Promise<void> {
  const [folder, file] = [join(scratch, 'target'), join(scratch, 'hostile')];
  rmSync(folder, { recursive: true, force: true });
  writeFileSync(file, bytes);
  try {
    const { journal } = await restoreJournal(file, { folder });
    try {
      await checkJournal(journal);
    } finally {
      await journal.close();
    }
  } catch (error) {
    mustBeToldOf(error);
  }
}

// Each opens a journal: some hundred inputs here, more with FUZZ_SCALE.
const both = async (property: () => fc.IAsyncProperty<unknown>, runs: number) => {
  for (const seed of [FIXED_SEED, FRESH_SEED])
    await fc.assert(property(), { seed, numRuns: Math.ceil((runs * SCALE) / 2), endOnFailure: false });
};

describe('exports and backups that were altered', () => {
  it('are read in when they were not', async () => {
    await readIn(`${lines.join('\n')}\n`);
    await readIn(sealed(lines.slice(0, -1)));
    await restore(database);
  });

  it('exports with changed characters or bytes: refused, or taken whole', async () => {
    await both(() => fc.asyncProperty(changedText([`${lines.join('\n')}\n`]), readIn), 10);
    await both(() => fc.asyncProperty(changedBytes([`${lines.join('\n')}\n`]), readIn), 10);
  }, 120_000);

  it('rows changed on purpose, with counts and digest that fit: refused, or taken whole', async () => {
    const body = lines.slice(1, -1);
    const changed = fc
      .tuple(
        fc.nat(body.length - 1),
        fc.oneof(changedJson(body.map((line) => JSON.parse(line))), hostileJson),
      )
      .map(([at, value]) => [
        lines[0] as string,
        ...body.slice(0, at),
        JSON.stringify(value) ?? 'null',
        ...body.slice(at + 1),
      ]);
    await both(() => fc.asyncProperty(changed, (some) => readIn(sealed(some))), 30);
  }, 120_000);

  it('first lines changed on purpose: refused, or taken whole', async () => {
    const head = changedJson([JSON.parse(lines[0] as string)]);
    await both(
      () =>
        fc.asyncProperty(head, (first) =>
          readIn(sealed([JSON.stringify(first) ?? '', ...lines.slice(1, -1)])),
        ),
      10,
    );
  }, 120_000);

  it('databases with changed bytes: refused, or opened', async () => {
    const spots = fc.array(fc.tuple(fc.nat(database.length - 1), fc.nat(255)), {
      minLength: 1,
      maxLength: 40,
    });
    await both(
      () =>
        fc.asyncProperty(spots, fc.boolean(), async (changes, cut) => {
          const bytes = Buffer.from(database);
          for (const [at, byte] of changes) bytes[at] = byte;
          await restore(cut ? bytes.subarray(0, changes[0]?.[0]) : bytes);
        }),
      20,
    );
  }, 120_000);
});
