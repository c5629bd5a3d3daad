import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { type Journal, knowledgeInUse, listReplays, openJournal } from '../../src/journal/index.js';
import { run } from '../cli/fake-terminal.js';
import { removeSmallKnowledge, writeSmallKnowledge } from '../rules/workshop/small-knowledge.js';
import { closeSmallCases } from '../server/journal/closed-cases.js';
import { ensureBuilt, type ServerProcess, startServer } from './built-program.js';

const folder = mkdtempSync(join(tmpdir(), 'peelpoint-trial-'));
let root: string;
let file: string;
let server: ServerProcess | undefined;
beforeAll(async () => {
  ensureBuilt();
  root = writeSmallKnowledge();
  file = join(root, 'causes/worn.yaml');
  const journal = await openJournal({ folder });
  await closeSmallCases(journal, root, 24);
  await journal.close();
}, 180_000);
afterAll(() => {
  server?.child.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
  removeSmallKnowledge();
});

const start = async () => {
  server = await startServer(['--data', folder, '--knowledge', root, '--empty']);
  return server;
};
const get = async (path: string) => (await fetch(`${server?.address}${path}`)).text();
const versionOf = async () => /Knowledge version <a[^>]*>(\w+)/.exec(await get('/learning/versions'))?.[1];
async function inJournal<T>(look: (journal: Journal) => Promise<T>): Promise<T> {
  const journal = await openJournal({ folder });
  try {
    return await look(journal);
  } finally {
    await journal.close();
  }
}
const replay = (...more: string[]) =>
  run(['knowledge', 'replay', '--data', folder, '--knowledge', root, ...more]);

it('a server killed while it tries changed files starts again on the version before, and tries them anew', async () => {
  await start();
  await vi.waitFor(async () => expect(await inJournal(knowledgeInUse)).toBeDefined(), { timeout: 30_000 });
  const first = await versionOf();
  expect(await inJournal(knowledgeInUse)).toMatchObject({ id: first, how: 'first' });

  const same = await replay();
  expect(same.code).toBe(0);
  expect(same.out).toContain('all 24 closed cases with a proved cause');
  expect(same.out).toContain('No worse than is let pass');

  writeFileSync(file, readFileSync(file, 'utf8').replace('base: 0.3', 'base: 0.0006'));
  await vi.waitFor(
    async () => expect(await get('/learning/versions')).toContain('A new version is being tried'),
    {
      timeout: 30_000,
      interval: 10,
    },
  );
  server?.child.kill('SIGKILL');
  await server?.ended;
  expect(await inJournal(knowledgeInUse)).toMatchObject({ id: first });
  expect(await inJournal(listReplays)).toEqual([]);

  await start();
  // From its first answer on.
  expect(await versionOf()).toBe(first);
  await vi.waitFor(async () => expect(await get('/')).toContain('is held back'), { timeout: 60_000 });
  expect(await versionOf()).toBe(first);
  expect(await inJournal(knowledgeInUse)).toMatchObject({ id: first });

  const worse = await replay('--json');
  expect(worse.code).toBe(1);
  const [kept] = await inJournal(listReplays);
  const printed = JSON.parse(worse.out);
  expect(printed).toMatchObject({
    versions: { before: first, after: kept?.version },
    first: kept?.first,
    logScore: kept?.logScore,
    brier: kept?.brier,
    heldBecause: kept?.heldBecause,
  });
  expect(printed.worse.length).toBe(12);
  const told = await replay();
  expect(told.code).toBe(1);
  expect(told.out).toContain('12 got worse');
  expect(told.out.replace(/\s+/g, ' ')).toContain('A server holds it back until somebody accepts it.');
  // Trying changes nothing.
  expect(await inJournal(listReplays)).toHaveLength(1);

  server?.child.kill('SIGTERM');
  expect(await server?.ended).toBe(0);
}, 180_000);

it('the command says what it needs when there is nothing to hold the files against', async () => {
  const empty = mkdtempSync(join(tmpdir(), 'peelpoint-trial-'));
  try {
    const none = await run(['knowledge', 'replay', '--data', empty, '--knowledge', root]);
    expect(none.code).toBe(2);
    expect(none.err).toContain('holds no journal');
    await (await openJournal({ folder: empty })).close();
    const { code, err } = await run(['knowledge', 'replay', '--data', empty, '--knowledge', root]);
    expect(code).toBe(2);
    expect(err).toContain('--against');
    const against = await run([
      'knowledge',
      'replay',
      '--data',
      empty,
      '--knowledge',
      root,
      '--against',
      root,
    ]);
    expect(against.code).toBe(0);
    expect(against.out).toContain('all 0 closed cases');
  } finally {
    rmSync(empty, { recursive: true, force: true });
  }
}, 60_000);
