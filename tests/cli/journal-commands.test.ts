import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findClient } from '../../src/journal/clients/tokens.js';
import { addFrame, listFrames, openJournal } from '../../src/journal/index.js';
import { run, unwrapped } from './fake-terminal.js';

const root = mkdtempSync(join(tmpdir(), 'peelpoint-commands-'));
const data = join(root, 'data');
beforeAll(async () => {
  const journal = await openJournal({ folder: data });
  await addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 10 }, { who: 'Test' });
  await journal.close();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

describe('tokens', () => {
  it('are shown once, listed without their secret, and end when revoked', async () => {
    const { code, out, err } = await run(['token', 'add', 'frame panel 3', '--data', data]);
    expect(code).toBe(0);
    const secret = out.trim();
    expect(secret).toMatch(/^peelpoint_[\w-]{43}$/);
    expect(err).toContain('not shown again');
    const journal = await openJournal({ folder: data });
    expect((await findClient(journal, secret))?.name).toBe('frame panel 3');
    expect(await findClient(journal, `${secret.slice(0, -1)}x`)).toBeUndefined();
    const again = await run(['token', 'add', 'frame panel 3', '--data', data]);
    expect(again.code).toBe(2);
    expect(unwrapped(again.err)).toContain('There is a token "frame panel 3" already');
    const listed = await run(['token', 'list', '--data', data]);
    expect(listed.out).toContain('frame panel 3');
    expect(listed.out).not.toContain(secret.slice(10, 30));
    expect((await run(['token', 'revoke', 'frame panel 3', '--data', data])).code).toBe(0);
    expect(await findClient(journal, secret)).toBeUndefined();
    expect((await run(['token', 'revoke', 'frame panel 3', '--data', data])).code).toBe(2);
    await journal.close();
  });
});

describe('backup, restore and move', () => {
  const file = join(root, 'mill.backup');

  it('save the journal while it is open, and bring it back into an empty folder only', async () => {
    const open = await openJournal({ folder: data });
    const saved = await run(['backup', file, '--data', data, '--json']);
    expect(saved.code).toBe(0);
    expect(JSON.parse(saved.out)).toMatchObject({ kind: 'sqlite', rows: { frames: 1 } });
    await open.close();
    expect((await run(['backup', file, '--data', data])).code).toBe(2);
    const back = join(root, 'back');
    expect((await run(['restore', file, '--data', back])).code).toBe(0);
    const journal = await openJournal({ folder: back });
    expect((await listFrames(journal)).map((frame) => frame.id)).toEqual(['frame-1']);
    await journal.close();
    const onTop = await run(['restore', file, '--data', back]);
    expect(onTop.code).toBe(2);
    expect(unwrapped(onTop.err)).toContain('There is a journal already');
  });

  it('refuse a folder without a journal and make none there', async () => {
    const nowhere = join(root, 'mistyped');
    for (const words of [
      ['backup', join(root, 'nothing.backup')],
      ['move', '--to', join(root, 'nothing')],
      ['course', 'list'],
      ['time-zone'],
    ]) {
      const { code, err } = await run([...words, '--data', nowhere]);
      expect(code).toBe(2);
      expect(unwrapped(err)).toContain('holds no journal');
      expect(existsSync(nowhere)).toBe(false);
    }
  });

  it('copy the journal elsewhere, with its counts', async () => {
    const other = join(root, 'other');
    const moved = await run(['move', '--data', data, '--to', other]);
    expect(moved.code).toBe(0);
    expect(moved.out).toMatch(/frames +1 rows/);
    expect(unwrapped(moved.out)).toContain('counted on both sides');
    const journal = await openJournal({ folder: other });
    expect(await listFrames(journal)).toHaveLength(1);
    await journal.close();
    expect((await run(['move', '--data', data, '--to', other])).code).toBe(2);
    expect((await run(['move', '--data', data])).code).toBe(2);
  });

  it('say what is wrong with a file or a folder', async () => {
    const missing = await run(['restore', join(root, 'none'), '--data', join(root, 'x')]);
    expect(missing.code).toBe(2);
    expect(unwrapped(missing.err)).toContain('There is no backup at');
    const text = join(root, 'text');
    writeFileSync(text, 'no journal\n');
    const damaged = await run(['restore', text, '--data', join(root, 'y')]);
    expect(damaged.code).toBe(2);
    const nowhere = await run(['backup', join(root, 'z'), '--data', join(root, 'no', 'such')]);
    expect(nowhere.code).toBe(2);
    expect(unwrapped(nowhere.err)).toContain('holds no journal');
    expect(existsSync(join(root, 'z'))).toBe(false);
  });
});

describe('the time zone of the mill', () => {
  it('is shown, set, and refused when there is none of that name', async () => {
    expect((await run(['time-zone', '--data', data])).code).toBe(0);
    const set = await run(['time-zone', 'Asia/Kolkata', '--data', data]);
    expect(set).toMatchObject({ code: 0, out: 'Asia/Kolkata\n' });
    expect((await run(['time-zone', '--data', data])).out).toBe('Asia/Kolkata\n');
    const wrong = await run(['time-zone', 'Mars/Base', '--data', data]);
    expect(wrong.code).toBe(2);
    expect(unwrapped(wrong.err)).toContain('a time zone such as Europe/Istanbul');
    const served = await run(['serve', '--time-zone', 'Mars/Base', '--data', data]);
    expect(served.code).toBe(2);
    expect(unwrapped(served.err)).toContain('is not a known time zone');
  });
});
