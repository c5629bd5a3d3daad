import { createRandom } from '../../../src/statistics/random.js';

/** The mill of the benchmark: what its journal is filled with, and what is then asked of it. */
export const FRAMES = 12;
export const POSITIONS = 240;
export const DAYS = 365;
export const LOTS = 40;
const START = Date.parse('2025-11-25T00:00:00Z');

const random = createRandom(1);

/** A number from 0 up to 1. */
export const draw = (): number => random();
/** A whole number from 0 up to below n. */
export const whole = (n: number): number => Math.floor(random() * n);
/** A moment of the year, days from its beginning. */
export const instant = (day: number): string => new Date(START + day * 86_400_000).toISOString();
/** The same, as milliseconds since 1970. */
export const startMillis = START;

export const causes: readonly string[] = Array.from({ length: 60 }, (_, n) => `cause-${n}`);
/** Few causes are common and most are rare. */
export const cause = (): string => causes[Math.floor(60 * random() ** 2.5)] ?? 'cause-0';
export const frame = (): string => `frame-${1 + whole(FRAMES)}`;

/** Seconds since a moment of `performance.now()`, in words. */
export const seconds = (from: number): string => `${((performance.now() - from) / 1000).toFixed(1)} s`;
