import normal from '@stdlib/stats-base-dists-normal';
import { type ModelParameters, type ParameterTable, pickParameters, type Spread } from './parameters.js';
import type { DrawSource } from './setup.js';

/** Seed of every simulation: the same setup and table always give the same answer. */
const SEED = 0x9e3779b9;

/**
 * Uniform numbers for one named quantity, by Latin hypercube: one number in each of `draws` equal slices of (0, 1),
 * in an order that depends on the name alone. Each name thus has the same numbers whatever else is drawn, which
 * gives variants of a setup common random numbers.
 *
 * @param name name of the quantity
 * @param draws how many numbers, 1 or more
 * @returns numbers in (0, 1); shared, not to be written to
 */
export function uniformColumn(name: string, draws: number): Float64Array {
  let columns = uniformColumns.get(draws);
  if (columns === undefined) {
    columns = new Map();
    uniformColumns.set(draws, columns);
  }
  let column = columns.get(name);
  if (column === undefined) {
    column = latinColumn(seedOf(name), draws);
    columns.set(name, column);
  }
  return column;
}

const uniformColumns = new Map<number, Map<string, Float64Array>>();

/** A draw source that a simulation moves from draw to draw. */
export interface MovableDraw extends DrawSource {
  /** The present draw, from 0. */
  index: number;
}

/** Opens a source over {@link uniformColumn}. */
export function openDraws(draws: number): MovableDraw {
  return {
    index: 0,
    next(name: string): number {
      return uniformColumn(name, draws)[this.index] ?? 0.5;
    },
    normal(name: string): number {
      return normalColumn(name, draws)[this.index] ?? 0;
    },
  };
}

/** {@link uniformColumn} as standard normal deviates; kept too, since every setup asks for the same. */
function normalColumn(name: string, draws: number): Float64Array {
  const ofDraws = normalColumns.get(draws) ?? new Map<string, Float64Array>();
  normalColumns.set(draws, ofDraws);
  const column = ofDraws.get(name) ?? uniformColumn(name, draws).map((u) => normal.quantile(u, 0, 1));
  ofDraws.set(name, column);
  return column;
}

const normalColumns = new Map<number, Map<string, Float64Array>>();

/**
 * The value of a spread at a uniform number.
 *
 * @param value central value
 * @param u uniform number in (0, 1)
 */
export function drawFrom(value: number, spread: Spread, u: number): number {
  switch (spread.kind) {
    case 'normal':
      return value + spread.sd * normal.quantile(u, 0, 1);
    case 'lognormal':
      return value * Math.exp(spread.sd * normal.quantile(u, 0, 1));
    case 'uniform':
      return spread.low + (spread.high - spread.low) * u;
  }
}

/** {@link drawFrom} at the number that a source gives for a name. */
export function drawNamed(value: number, spread: Spread, source: DrawSource, name: string): number {
  switch (spread.kind) {
    case 'normal':
      return value + spread.sd * source.normal(name);
    case 'lognormal':
      return value * Math.exp(spread.sd * source.normal(name));
    case 'uniform':
      return spread.low + (spread.high - spread.low) * source.next(name);
  }
}

/**
 * Draws every parameter of a table, `draws` times. Kept for each table, since every diagnosis needs the same.
 *
 * @throws ParameterError when the table is incomplete
 */
export function parameterDraws(table: ParameterTable, draws: number): readonly ModelParameters[] {
  let kept = parameterCache.get(table);
  if (kept === undefined) {
    kept = new Map();
    parameterCache.set(table, kept);
  }
  let list = kept.get(draws);
  if (list === undefined) {
    list = Array.from({ length: draws }, (_unused, index) =>
      pickParameters(table, (name, entry) =>
        drawFrom(entry.value, entry.spread, uniformColumn(`parameter:${name}`, draws)[index] ?? 0.5),
      ),
    );
    kept.set(draws, list);
  }
  return list;
}

const parameterCache = new WeakMap<ParameterTable, Map<number, readonly ModelParameters[]>>();

function latinColumn(seed: number, draws: number): Float64Array {
  const random = generator(seed);
  const column = new Float64Array(draws);
  for (let i = 0; i < draws; i++) column[i] = i;
  for (let i = draws - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    const held = column[i] ?? 0;
    column[i] = column[j] ?? 0;
    column[j] = held;
  }
  for (let i = 0; i < draws; i++) {
    // Kept off the ends, where a normal quantile would be infinite.
    const inside = 0.001 + 0.998 * random();
    column[i] = ((column[i] ?? 0) + inside) / draws;
  }
  return column;
}

/** FNV-1a hash of a name, mixed with the seed. */
function seedOf(name: string): number {
  let hash = 0x811c9dc5 ^ SEED;
  for (let i = 0; i < name.length; i++) {
    hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  }
  return hash >>> 0;
}

/** Small 32-bit generator (mulberry32, public domain), uniform on [0, 1); ample for a few hundred shuffles. */
function generator(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}
