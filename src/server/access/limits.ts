import { RateLimiterMemory, RateLimiterRes } from 'rate-limiter-flexible';

/**
 * Requests let through in a minute. Judgement: well above what a person at a screen, a hall behind one address at the
 * change of shift, or a panel that reports each break comes to; well below what would hold others up. Counted in this
 * process alone; what must hold over several (the waits after failed sign-ins) is kept in the journal.
 */
export const PER_MINUTE = {
  person: 900,
  stranger: 600,
  client: 6000,
  'sign-in': 60,
  'wrong-token': 60,
} as const;
export type LimitKind = keyof typeof PER_MINUTE;

/** Counts requests and says when there are too many. */
export interface Limits {
  /** Takes one from what is left in this minute. @returns seconds to wait; 0: go on */
  take(kind: LimitKind, key: string): Promise<number>;
}

export function startLimits(perMinute: Readonly<Record<LimitKind, number>> = PER_MINUTE): Limits {
  const counters = new Map(
    Object.entries(perMinute).map(([kind, points]) => [
      kind,
      new RateLimiterMemory({ points, duration: 60 }),
    ]),
  );
  const of = (kind: LimitKind) => counters.get(kind) as RateLimiterMemory;
  return {
    async take(kind, key) {
      try {
        await of(kind).consume(key);
        return 0;
      } catch (over) {
        if (over instanceof RateLimiterRes) return seconds(over);
        throw over;
      }
    },
  };
}

const seconds = (state: RateLimiterRes) => Math.max(1, Math.ceil(state.msBeforeNext / 1000));
