import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { warmUp } from '../../src/server/warm-up.js';

describe('warming up', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  const start = (options: { busy?: () => boolean; fail?: number } = {}) => {
    const done: number[] = [];
    const stop = warmUp({
      cases: [1, 2, 3],
      work: async (one) => {
        done.push(one);
        if (one === options.fail) throw new Error('cannot be worked out');
      },
      idle: () => !(options.busy?.() ?? false),
      after: 100,
      pause: 10,
    });
    return { done, stop };
  };

  it('works the cases out one after the other, after a while', async () => {
    const { done } = start();
    await vi.advanceTimersByTimeAsync(99);
    expect(done).toEqual([]);
    await vi.advanceTimersByTimeAsync(1);
    expect(done).toEqual([1]);
    await vi.advanceTimersByTimeAsync(100);
    expect(done).toEqual([1, 2, 3]);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('waits while somebody else is served, and goes on after a case that failed', async () => {
    let busy = true;
    const { done } = start({ busy: () => busy, fail: 2 });
    await vi.advanceTimersByTimeAsync(500);
    expect(done).toEqual([]);
    busy = false;
    await vi.advanceTimersByTimeAsync(100);
    expect(done).toEqual([1, 2, 3]);
  });

  it('can be stopped', async () => {
    const { done, stop } = start();
    await vi.advanceTimersByTimeAsync(100);
    stop();
    await vi.advanceTimersByTimeAsync(500);
    expect(done).toEqual([1]);
  });
});
