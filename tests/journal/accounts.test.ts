import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import { WAIT_RULES, waitAfter } from '../../src/journal/accounts/tries.js';
import {
  actAs,
  addAccount,
  addFrame,
  changeAccount,
  changePassword,
  endSessions,
  findAccount,
  findForSignIn,
  findFrame,
  findLink,
  findSession,
  forgiveTry,
  hasAccounts,
  hasAdministrator,
  historyOfFrame,
  type Journal,
  listAccounts,
  listSessions,
  makeFirstLink,
  makeLink,
  openJournal,
  rightsOf,
  searchAudit,
  startSession,
  takeTry,
  useFirstLink,
  useLink,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';

const TIMES = { idleMs: 3_600_000, longestMs: 12 * 3_600_000 };
const FROM = { address: '192.0.2.7', agent: 'Browser', how: 'password' };

describeOnBothEngines('accounts', (on) => {
  let journal: Journal;
  beforeEach(async () => {
    journal = await on.newJournal();
  });
  const admin = () => addAccount(journal, { name: 'Ada', shown: 'Ada Lind', roles: ['administrator'] }, by());

  it('have a name of their own, roles in a fixed order, and no password at first', async () => {
    expect(await hasAccounts(journal)).toBe(false);
    const made = await addAccount(
      journal,
      { name: ' Ruth.B ', shown: 'Ruth  Berg', roles: ['quality', 'supervisor', 'quality'] },
      by(),
    );
    expect(made).toMatchObject({ name: 'ruth.b', roles: ['supervisor', 'quality'], hasPassword: false });
    expect(await hasAccounts(journal)).toBe(true);
    expect(await hasAdministrator(journal)).toBe(false);
    for (const twice of [
      { name: 'RUTH.B', shown: 'Another', roles: ['viewer'] as const },
      { name: 'other', shown: 'ruth berg', roles: ['viewer'] as const },
    ])
      await expect(addAccount(journal, { ...twice, roles: [...twice.roles] }, by())).rejects.toMatchObject({
        fault: 'input',
      });
    for (const [field, wrong] of [
      ['name', { name: 'a b', roles: ['viewer'] }],
      ['name', { name: '', roles: ['viewer'] }],
      ['roles', { name: 'x', roles: [] }],
      ['roles', { name: 'x', roles: ['boss'] }],
    ] as const)
      await expect(addAccount(journal, wrong as never, by())).rejects.toThrow(field);
    expect(await listAccounts(journal)).toHaveLength(1);
    await expect(findAccount(journal, 'nobody')).rejects.toMatchObject({ fault: 'not-found' });
  });

  it('always leave one administrator, also when two are changed at once', async () => {
    const first = await admin();
    await expect(changeAccount(journal, first.id, { state: 'blocked' }, by())).rejects.toThrow(
      'last administrator',
    );
    await expect(changeAccount(journal, first.id, { roles: ['viewer'] }, by())).rejects.toThrow(
      'last administrator',
    );
    const second = await addAccount(journal, { name: 'bo', roles: ['administrator'] }, by());
    const both = await Promise.allSettled([
      changeAccount(journal, first.id, { roles: ['viewer'] }, by()),
      changeAccount(journal, second.id, { state: 'blocked' }, by()),
    ]);
    expect(both.map((one) => one.status).sort()).toEqual(['fulfilled', 'rejected']);
    expect(await hasAdministrator(journal)).toBe(true);
  });

  it('keep sessions by their hash, end them by time, and end them when roles or state change', async () => {
    const account = await admin();
    await addAccount(journal, { name: 'other', roles: ['administrator'] }, by());
    const secret = await startSession(journal, account, FROM, TIMES);
    expect(secret).toMatch(/^[\w-]{43}$/);
    expect((await findSession(journal, secret, TIMES))?.account.id).toBe(account.id);
    const [kept] = await listSessions(journal, account.id, TIMES);
    expect(kept).toMatchObject({ address: '192.0.2.7', agent: 'Browser' });
    expect(JSON.stringify([kept, await searchAudit(journal)])).not.toContain(secret);
    for (const wrong of ['', secret.slice(1), `${secret}x`])
      expect(await findSession(journal, wrong, TIMES)).toBeUndefined();
    const now = Date.now();
    expect(await findSession(journal, secret, TIMES, now + TIMES.idleMs + 1)).toBeUndefined();
    // Used all along it lasts longer, but not for ever.
    for (let at = now; at < now + TIMES.longestMs - 1_800_000; at += 1_800_000)
      expect(await findSession(journal, secret, TIMES, at), String(at - now)).toBeDefined();
    expect(await findSession(journal, secret, TIMES, now + TIMES.longestMs + 1000)).toBeUndefined();

    const next = await startSession(journal, account, { ...FROM, old: secret }, TIMES);
    expect(await findSession(journal, secret, TIMES)).toBeUndefined();
    await changeAccount(journal, account.id, { shown: 'Ada L.' }, by());
    expect(await findSession(journal, next, TIMES)).toBeDefined();
    await changeAccount(journal, account.id, { roles: ['viewer'] }, by());
    expect(await findSession(journal, next, TIMES)).toBeUndefined();
    const third = await startSession(journal, account, FROM, TIMES);
    await changeAccount(journal, account.id, { state: 'blocked' }, by());
    expect(await findSession(journal, third, TIMES)).toBeUndefined();
  });

  it('are signed out here, elsewhere, or everywhere', async () => {
    const account = await admin();
    const [one, two, three] = [
      await startSession(journal, account, FROM, TIMES),
      await startSession(journal, account, FROM, TIMES),
      await startSession(journal, account, FROM, TIMES),
    ];
    const idOf = async (secret: string) => (await findSession(journal, secret, TIMES))?.session ?? '';
    expect(await endSessions(journal, account, { only: await idOf(one) })).toBe(1);
    expect(await findSession(journal, one, TIMES)).toBeUndefined();
    expect(await endSessions(journal, account, { except: await idOf(two) })).toBe(1);
    expect(await findSession(journal, three, TIMES)).toBeUndefined();
    await changePassword(journal, account, 'hash', await idOf(two));
    expect(await findSession(journal, two, TIMES)).toBeDefined();
    expect(await endSessions(journal, account, 'all')).toBe(1);
    expect(await findSession(journal, two, TIMES)).toBeUndefined();
  });

  it('get their password by a link that works once, ends, and gives way to a newer one', async () => {
    const account = await admin();
    const old = await makeLink(journal, 'ada', by());
    const { secret } = await makeLink(journal, account.id, by());
    expect(await findLink(journal, old.secret)).toBeUndefined();
    expect((await findLink(journal, secret))?.account?.id).toBe(account.id);
    const session = await startSession(journal, account, FROM, TIMES);
    const both = await Promise.allSettled([useLink(journal, secret, 'h1'), useLink(journal, secret, 'h2')]);
    expect(both.filter((one) => one.status === 'fulfilled')).toHaveLength(1);
    expect(await findSession(journal, session, TIMES)).toBeUndefined();
    expect((await findForSignIn(journal, 'ada'))?.hash).toMatch(/^h[12]$/);
    await expect(useLink(journal, secret, 'h3')).rejects.toThrow('no longer good');
    const { secret: third } = await makeLink(journal, account.id, by());
    await addAccount(journal, { name: 'other', roles: ['administrator'] }, by());
    await changeAccount(journal, account.id, { state: 'blocked' }, by());
    expect(await findLink(journal, third)).toBeUndefined();
    await expect(useLink(journal, third, 'h4')).rejects.toThrow('no longer good');
    await expect(makeLink(journal, account.id, by())).rejects.toThrow('blocked');
  });

  it('begin with one administrator made by a link, of which one is good', async () => {
    const first = await makeFirstLink(journal);
    const second = await makeFirstLink(journal);
    expect((await findLink(journal, first?.secret ?? ''))?.account).toBeNull();
    await expect(useLink(journal, first?.secret ?? '', 'hash')).rejects.toThrow('no longer good');
    const both = await Promise.allSettled([
      useFirstLink(journal, first?.secret ?? '', { name: 'ada', shown: 'Ada' }, 'hash'),
      useFirstLink(journal, second?.secret ?? '', { name: 'eve', shown: 'Eve' }, 'hash'),
    ]);
    expect(both.filter((one) => one.status === 'fulfilled')).toHaveLength(1);
    expect(await listAccounts(journal)).toHaveLength(1);
    expect(await hasAdministrator(journal)).toBe(true);
    expect(await makeFirstLink(journal)).toBeUndefined();
    expect(await findLink(journal, second?.secret ?? '')).toBeUndefined();
  });

  it('wait after failures, by name and by address, many at once as well', async () => {
    const tried = { name: 'ada', address: '192.0.2.1' };
    const waits = await Promise.all(Array.from({ length: 12 }, () => takeTry(journal, tried)));
    expect(waits.filter((wait) => wait === 0)).toHaveLength(WAIT_RULES.account.free);
    // The name waits from everywhere, another name does not.
    expect(await takeTry(journal, { ...tried, address: '192.0.2.2' })).toBeGreaterThan(20_000);
    expect(await takeTry(journal, { ...tried, name: 'bo' })).toBe(0);
    await forgiveTry(journal, tried);
    expect(await takeTry(journal, tried)).toBe(0);
    for (let n = 0; n < WAIT_RULES.address.free; n++)
      await takeTry(journal, { name: `guess-${n}`, address: '192.0.2.9' });
    expect(await takeTry(journal, { name: 'bo', address: '192.0.2.9' })).toBeGreaterThan(0);
  });

  it('write under their own name whatever is typed, and leave a line for everything', async () => {
    const account = await admin();
    const who = { via: 'session', name: account.shown, account: account.id, address: '192.0.2.7' } as const;
    await actAs(who, () =>
      addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 10 }, by(undefined, 'Somebody Else')),
    );
    expect((await findFrame(journal, 'frame-1')).id).toBe('frame-1');
    expect((await historyOfFrame(journal, 'frame-1'))[0]?.who).toBe('Ada Lind');
    const { rows } = await searchAudit(journal, { kind: 'frame' });
    expect(rows).toMatchObject([
      {
        who: 'Ada Lind',
        account: account.id,
        via: 'session',
        address: '192.0.2.7',
        action: 'added',
        subject: 'frame-1',
      },
    ]);
    const all = (await searchAudit(journal)).rows.map((one) => `${one.kind}.${one.action}`);
    expect(all).toEqual(['frame.added', 'account.added']);
  });

  it('are found again in the log by page, time, kind, outcome and text', async () => {
    for (let n = 0; n < 7; n++)
      await addFrame(
        journal,
        { id: `frame-${n}`, name: `Frame ${n}`, positions: 10 },
        by(undefined, 'Per_cent%'),
      );
    for (let n = 0; n < 5; n++) await addAccount(journal, { name: `a${n}`, roles: ['viewer'] }, by());
    const whole = (await searchAudit(journal, {}, { size: 1000 })).rows;
    expect(whole).toHaveLength(12);
    const paged: string[] = [];
    for (let after: string | undefined, turn = 0; turn < 20; turn++) {
      const page = await searchAudit(journal, {}, { size: 2, ...(after === undefined ? {} : { after }) });
      paged.push(...page.rows.map((one) => one.id));
      after = page.next;
      if (after === undefined) break;
    }
    expect(paged).toEqual(whole.map((one) => one.id));
    const count = async (filter: Parameters<typeof searchAudit>[1]) =>
      (await searchAudit(journal, filter)).rows.length;
    expect(await count({ text: 'FRAME-3' })).toBe(1);
    expect(await count({ text: 'per_cent%' })).toBe(7);
    expect(await count({ text: '%' })).toBe(7);
    expect(await count({ kind: 'account' })).toBe(5);
    expect(await count({ outcome: 'refused' })).toBe(0);
    expect(await count({ from: new Date(Date.now() + 60_000).toISOString() })).toBe(0);
    expect(await count({ until: new Date(Date.now() + 60_000).toISOString() })).toBe(12);
  });

  it('cannot have their log rewritten', async () => {
    await admin();
    const { storeOf } = await import('../../src/journal/store.js');
    const { db } = storeOf(journal);
    await addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 10 }, by());
    for (const table of ['audit', 'entries'] as const) {
      await expect(db.deleteFrom(table).execute()).rejects.toThrow('append-only');
      await expect(db.updateTable(table).set({ who: 'x' }).execute()).rejects.toThrow('append-only');
    }
  });

  it('come to a journal that had none, whose history stays', async () => {
    const place = await on.newPlace();
    const old = await openJournal({ ...place, schemaStep: '0005-clients' });
    const { storeOf } = await import('../../src/journal/store.js');
    await storeOf(old)
      .db.insertInto('entries')
      .values({
        kind: 'frame',
        subject: 'frame-1',
        version: 1,
        at: '2026-01-01T00:00:00.000Z',
        recorded: '2026-01-01T00:00:00.000Z',
        who: 'Ruth',
        step: 'added',
        data: '{}',
        supersedes: null,
      } as never)
      .execute();
    await storeOf(old)
      .db.insertInto('tokens')
      .values({
        id: 'token-1',
        name: 'panel',
        digest: 'x',
        made_at: '2026-01-01T00:00:00.000Z',
        used_at: null,
        revoked_at: null,
      } as never)
      .execute();
    await old.close();
    const now = await openJournal(place);
    expect((await searchAudit(now)).rows).toMatchObject([{ who: 'Ruth', via: '', address: '' }]);
    const { listTokens } = await import('../../src/journal/clients/tokens.js');
    expect((await listTokens(now))[0]?.rights).toContain('cases');
    await now.close();
  });
});

describe('rights and waits', () => {
  it('add up over roles; administrators look after accounts and nothing else', () => {
    expect([...rightsOf(['viewer'])]).toEqual(['read']);
    expect(rightsOf(['administrator']).has('cases')).toBe(false);
    expect(rightsOf(['administrator', 'supervisor']).has('cases')).toBe(true);
    expect(rightsOf([]).size).toBe(0);
    for (const role of ['supervisor', 'quality', 'trainer', 'technologist', 'viewer'] as const)
      for (const right of ['accounts', 'audit', 'settings'] as const)
        expect(rightsOf([role]).has(right), `${role} ${right}`).toBe(false);
  });

  it('grow from failure to failure and stay below the longest', () => {
    fc.assert(
      fc.property(fc.nat(5000), fc.constantFrom('account' as const, 'address' as const), (failures, kind) => {
        const rule = WAIT_RULES[kind];
        const wait = waitAfter(failures, rule);
        expect(wait).toBeGreaterThanOrEqual(0);
        expect(wait).toBeLessThanOrEqual(rule.mostMs);
        expect(waitAfter(failures + 1, rule)).toBeGreaterThanOrEqual(wait);
        expect(wait === 0).toBe(failures < rule.free);
      }),
    );
  });
});
