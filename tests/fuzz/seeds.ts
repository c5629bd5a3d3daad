import { randomInt } from 'node:crypto';

/** The seed of every run, so that what is found stays found. */
export const FIXED_SEED = 20_260_302;

/** A seed of this run alone; FUZZ_SEED repeats one. */
export const FRESH_SEED = Number(process.env.FUZZ_SEED ?? randomInt(2 ** 31 - 1));

/** How many times as many inputs as usual; longer rounds set FUZZ_SCALE. */
export const SCALE = Number(process.env.FUZZ_SCALE ?? 1);
