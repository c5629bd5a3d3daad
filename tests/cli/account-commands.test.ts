import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { findClient, findLink, openJournal, searchAudit } from '../../src/journal/index.js';
import { run, unwrapped } from './fake-terminal.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-accounts-'));
const data = join(root, 'data');
afterAll(() => rmSync(root, { recursive: true, force: true }));
const account = (...words: string[]) => run(['account', ...words, '--data', data]);
const secretIn = (out: string) => /\/set-password\?link=([\w-]{43})/.exec(out)?.[1] ?? '';

describe('accounts', () => {
  it('are made with a link, listed, changed, blocked and let in again', async () => {
    expect((await account('list')).out).toContain('There is no account');
    const made = await account('add', 'Ada', '--shown', 'Ada Lind', '--roles', 'administrator');
    expect(made.code).toBe(0);
    expect(made.out).toMatch(/^http:\/\/127\.0\.0\.1:4680\/set-password\?link=/);
    expect(unwrapped(made.err)).toContain('With this link Ada Lind sets the password');
    const sam = await account(
      'add',
      'sam',
      '--roles',
      'viewer',
      '--public-origin',
      'https://plant.test',
      '--json',
    );
    expect(JSON.parse(sam.out)).toMatchObject({ account: { name: 'sam', roles: ['viewer'] } });
    expect(sam.out).toContain('"https://plant.test/set-password?link=');

    const again = await account('reset', 'sam');
    const journal = await openJournal({ folder: data });
    expect(await findLink(journal, secretIn(sam.out))).toBeUndefined();
    expect((await findLink(journal, secretIn(again.out)))?.account?.name).toBe('sam');

    expect((await account('roles', 'sam', 'quality,supervisor')).out).toBe(
      'sam is active, as supervisor, quality.\n',
    );
    expect((await account('block', 'sam')).out).toContain('blocked');
    expect(await findLink(journal, secretIn(again.out))).toBeUndefined();
    expect((await account('unblock', 'sam')).out).toContain('active');
    const listed = (await account('list')).out;
    expect(unwrapped(listed)).toContain('no password yet');
    expect(listed).toContain('Ada Lind');
    const { rows } = await searchAudit(journal, { kind: 'account' });
    expect(rows.every((line) => line.via === 'command' && line.who === 'command line')).toBe(true);
    expect(rows.map((line) => line.action)).toEqual([
      'unblocked',
      'blocked',
      'changed',
      'link-made',
      'link-made',
      'added',
      'link-made',
      'added',
    ]);
    await journal.close();
  });

  it('say what cannot be used, and never leave a mill without an administrator', async () => {
    for (const [words, said] of [
      [['add', 'eve'], '--roles'],
      [['add', 'eve', '--roles', 'boss'], 'is not a role'],
      [['add', 'a b', '--roles', 'viewer'], 'name'],
      [['add', 'ada', '--roles', 'viewer'], 'no other account has'],
      [['add', 'eve', '--roles', 'viewer', '--public-origin', 'plant'], '--public-origin'],
      [['block', 'ada'], 'last administrator'],
      [['roles', 'ada', 'viewer'], 'last administrator'],
      [['reset', 'nobody'], 'There is no account "nobody"'],
    ] as const) {
      const result = await account(...words);
      expect(result.code, words.join(' ')).toBe(2);
      expect(unwrapped(result.err), words.join(' ')).toContain(said);
    }
  });

  it('go with tokens that may read unless told otherwise', async () => {
    const reading = await run(['token', 'add', 'panel', '--data', data]);
    const writing = await run(['token', 'add', 'line', '--rights', 'read,machine-data', '--data', data]);
    const journal = await openJournal({ folder: data });
    expect((await findClient(journal, reading.out.trim()))?.rights).toEqual(['read']);
    expect((await findClient(journal, writing.out.trim()))?.rights).toEqual(['read', 'machine-data']);
    const wrong = await run(['token', 'add', 'x', '--rights', 'all', '--data', data]);
    expect(wrong.code).toBe(2);
    expect(unwrapped(wrong.err)).toContain('machine-data');
    await journal.close();
  });

  it('are asked for before a server can be reached by others', async () => {
    const other = join(root, 'other');
    for (const words of [
      ['--host', '0.0.0.0'],
      ['--public-origin', 'https://plant.test'],
      ['--proxy', '10.0.0.1'],
    ]) {
      const refused = await run(['serve', '--port', '0', '--data', other, ...words]);
      expect(refused.code, words.join(' ')).toBe(2);
      expect(unwrapped(refused.err), words.join(' ')).toContain(
        'peelpoint account add NAME --roles administrator',
      );
    }
    const wrong = await run(['serve', '--port', '0', '--proxy', 'gate']);
    expect(unwrapped(wrong.err)).toContain('--proxy');
  });
});
