import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addToken } from '../../src/journal/clients/tokens.js';
import {
  addFrame,
  countCases,
  findCase,
  type Journal,
  JournalError,
  openCase,
  openJournal,
  recordStep,
} from '../../src/journal/index.js';
import { createApp } from '../../src/server/app.js';
import { openedJournal } from '../../src/server/journal/keeper.js';
import { startPostgres, type TestPostgres } from '../journal/postgres.js';
import { testSite, textOf } from '../server/site.js';

const who = { who: 'Ruth' };
let postgres: TestPostgres;
let journal: Journal;
beforeAll(async () => {
  postgres = await startPostgres();
  journal = await openJournal({ url: await postgres.newDatabase() });
  await addFrame(journal, { id: 'frame-1', name: 'Frame 1', positions: 8 }, who);
});
afterAll(async () => {
  await journal?.close();
  await postgres?.stop();
});

describe('PostgreSQL restarted under load', () => {
  it('loses nothing acknowledged, does nothing twice, answers plainly meanwhile, and needs no new start', async () => {
    const { diagnostician, mill } = testSite();
    const app = createApp({ diagnostician, mill, journal: openedJournal(journal), log: () => {} });
    const { secret } = await addToken(journal, 'load');
    const acknowledged: string[] = [];
    const refused: number[] = [];
    const other: string[] = [];
    let going = true;
    let sent = 0;
    /** Opens case after case over the API, each with a key; tries one again that was refused, as a client should. */
    const client = async (name: number) => {
      for (let n = 0; going; n++) {
        const body = JSON.stringify({ title: `Client ${name}, ${n}` });
        for (;;) {
          sent++;
          const response = await app.request('/api/v1/cases', {
            method: 'POST',
            headers: {
              Authorization: `Bearer ${secret}`,
              'Content-Type': 'application/json',
              'Idempotency-Key': `client-${name}-number-${n}`,
            },
            body,
          });
          const text = await response.text();
          const answer = (text.startsWith('{') ? JSON.parse(text) : { error: { code: text } }) as {
            id?: string;
            error?: { code: string };
          };
          if (response.status < 300) {
            acknowledged.push(String(answer.id));
            break;
          }
          refused.push(response.status);
          if (answer.error?.code !== 'unreachable') other.push(JSON.stringify(answer));
          if (!going) break;
          await new Promise((done) => setTimeout(done, 50));
        }
      }
    };
    const pages = async () => {
      while (going) {
        const response = await app.request('/cases');
        const text = textOf(await response.text());
        if (response.status !== 200) {
          refused.push(response.status);
          if (!text.includes('The journal cannot be used just now')) other.push(text);
        }
        await new Promise((done) => setTimeout(done, 20));
      }
    };
    const work = [client(1), client(2), client(3), pages()];
    await expect.poll(() => acknowledged.length, { timeout: 20_000 }).toBeGreaterThan(5);
    await postgres.restart();
    const before = acknowledged.length;
    await expect.poll(() => acknowledged.length, { timeout: 20_000 }).toBeGreaterThan(before + 5);
    await postgres.restart(3000);
    const then = acknowledged.length;
    await expect.poll(() => acknowledged.length, { timeout: 20_000 }).toBeGreaterThan(then + 5);
    going = false;
    await Promise.all(work);
    // The second time it was away for longer than a question is tried again.
    expect(refused.length).toBeGreaterThan(0);
    expect(new Set(refused)).toEqual(new Set([503]));
    expect(other).toEqual([]);
    expect(new Set(acknowledged).size).toBe(acknowledged.length);
    for (const id of acknowledged) expect((await findCase(journal, id)).id).toBe(id);
    // At most the last of each client, which it gave up, was carried out without its knowing.
    const count = await countCases(journal, {});
    expect(count - acknowledged.length).toBeLessThanOrEqual(3);
    expect(sent).toBeGreaterThan(acknowledged.length);
  }, 90_000);

  it('breaks a write without a key off rather than doing it twice', async () => {
    const record = await openCase(journal, { title: 'Without a key' }, who);
    const writes = Array.from({ length: 20 }, (_, n) =>
      recordStep(journal, { id: record.id, seen: record.version }, { step: 'noted', note: `${n}` }, who).then(
        () => 'done',
        (error: unknown) => (error instanceof JournalError ? error.fault : String(error)),
      ),
    );
    await postgres.restart();
    const outcomes = await Promise.all(writes);
    const { version } = await findCase(journal, record.id);
    expect(version - record.version).toBeLessThanOrEqual(1);
    expect(outcomes.filter((one) => one === 'done').length).toBeLessThanOrEqual(1);
    expect(outcomes.every((one) => ['done', 'stale', 'unreachable'].includes(one))).toBe(true);
  }, 60_000);
});
