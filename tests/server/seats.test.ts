import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { EngineBusy, EngineTimeout, type Lane, type Seats, startSeats } from '../../src/server/seats.js';

const script = fileURLToPath(new URL('./workers/unruly.mjs', import.meta.url));
type Question = { readonly input: { readonly title: string } };
type Answer = { readonly title: string; readonly thread: number };
const lane = (more: Partial<Lane> = {}): Lane => ({
  patience: 0,
  most: 10,
  seconds: 30,
  waitSeconds: 30,
  ...more,
});
const titled = (title: string): Question => ({ input: { title } });

let seats: Seats<string, Question, Answer> | undefined;
afterEach(async () => seats?.close());
const open = (lanes: Record<string, Lane>, places: readonly (readonly string[])[]) => {
  seats = startSeats<string, Question, Answer>({
    script,
    start: {},
    lanes,
    seats: places.map((takes) => ({ takes })),
  });
  return seats;
};
/** Fills the queue of the only seat, and tells in which order the questions were answered. */
async function orderOf(asked: readonly (readonly [string, string])[], lanes: Record<string, Lane>) {
  const { ask } = open(lanes, [Object.keys(lanes)]);
  const order: string[] = [];
  await Promise.all(
    asked.map(async ([name, title]) => {
      await ask(name, titled(title));
      order.push(title);
    }),
  );
  return order;
}

describe('the seats of the threads', () => {
  it('begin with what is due first, not with what came first', async () => {
    const lanes = { quick: lane(), long: lane({ patience: 5000 }) };
    const asked = [
      ['quick', 'first'],
      ['long', 'long'],
      ['quick', 'second'],
      ['quick', 'third'],
    ] as const;
    expect(await orderOf(asked, lanes)).toEqual(['first', 'second', 'third', 'long']);
  });

  it('keep the order of coming within a lane', async () => {
    const titles = Array.from({ length: 9 }, (_, n) => `number ${n}`);
    expect(
      await orderOf(
        titles.map((title) => ['quick', title] as const),
        { quick: lane() },
      ),
    ).toEqual(titles);
  });

  it('do not let long work wait for ever', async () => {
    const { ask } = open({ quick: lane(), long: lane({ patience: 40 }) }, [['quick', 'long']]);
    let stop = false;
    // Somebody who ticks without a pause: there is always a short question waiting.
    const ticking = Promise.all(
      [1, 2, 3].map(async () => {
        while (!stop) await ask('quick', titled('tick'));
      }),
    );
    await expect(ask('long', titled('plan'))).resolves.toMatchObject({ title: 'plan' });
    stop = true;
    await ticking;
  });

  it('refuse what would wait too far back, and say when to ask again', async () => {
    const { ask, load, ready } = open({ quick: lane({ most: 2 }) }, [['quick']]);
    await ready();
    const kept = ['hang', 'a', 'b'].map((title) => ask('quick', titled(title)));
    for (const one of kept) one.catch(() => {});
    const error: unknown = await ask('quick', titled('one too many')).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(EngineBusy);
    expect((error as EngineBusy).retrySeconds).toBeGreaterThanOrEqual(1);
    expect(load()).toMatchObject({ busy: 1, waiting: 2 });
  });

  it('refuse as busy what waited too long, and as timed out what was worked on too long', async () => {
    const lanes = { quick: lane({ seconds: 0.4 }), brief: lane({ waitSeconds: 0.15 }) };
    const { ask, ready } = open(lanes, [['quick', 'brief']]);
    await ready();
    const hanging = ask('quick', titled('hang'));
    const waiting = ask('brief', titled('behind it'));
    hanging.catch(() => {});
    await expect(waiting).rejects.toThrow(EngineBusy);
    await expect(hanging).rejects.toThrow(EngineTimeout);
    // The thread that hung has been replaced.
    await expect(ask('quick', titled('next'))).resolves.toMatchObject({ title: 'next' });
  });

  it('leave a lane to the seats that take it', async () => {
    const { ask, load, ready } = open({ quick: lane(), long: lane() }, [['quick'], ['quick', 'long']]);
    await ready();
    const stuck = [ask('long', titled('hang')), ask('long', titled('hang'))];
    for (const one of stuck) one.catch(() => {});
    for (const title of ['a', 'b', 'c'])
      await expect(ask('quick', titled(title))).resolves.toMatchObject({ title });
    expect(load()).toMatchObject({ busy: 1, waiting: 1, threads: 2 });
  });

  it('send questions of one name to the thread that had the first, unless that one is long at work', async () => {
    const { ask, ready } = open({ quick: lane() }, [['quick'], ['quick']]);
    await ready();
    const near = (name: string, title = name, within: readonly string[] = []) =>
      ask('quick', titled(title), { near: [name, ...within] });
    // Both threads get one; what follows comes in the other order.
    const [a, b] = await Promise.all([near('a'), near('b')]);
    expect(a.thread).not.toBe(b.thread);
    for (let round = 0; round < 3; round++) {
      const [again, other] = await Promise.all([near('b'), near('a')]);
      expect([again.thread, other.thread]).toEqual([b.thread, a.thread]);
    }
    // A new name goes where the wider name it lies within is known; a narrower name that is known goes before a wider one.
    for (const [within, home] of [
      ['b', b],
      ['a', a],
    ] as const) {
      const first = await near(`new in ${within}`, 'new', [within]);
      expect(first.thread).toBe(home.thread);
    }
    expect((await near('new in a', 'known', ['b'])).thread).toBe(a.thread);
    const stuck = near('a', 'hang');
    stuck.catch(() => {});
    expect((await near('a')).thread).toBe(b.thread);
  });
});
