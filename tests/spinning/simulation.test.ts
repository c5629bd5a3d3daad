import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawFrom, openDraws, parameterDraws, uniformColumn } from '../../src/spinning/draws.js';
import { computeState } from '../../src/spinning/model.js';
import { centralParameters } from '../../src/spinning/parameters.js';
import type { DrawSource, UncertainSetup } from '../../src/spinning/setup.js';
import {
  certainSetup,
  probabilityButFor,
  type SetupVariant,
  simulate,
  variantColumns,
} from '../../src/spinning/simulation.js';
import { QUANTITY_FIELDS } from '../../src/spinning/state.js';
import { summarise, summariseChange, summariseColumn } from '../../src/spinning/summary.js';
import { readTable, WEFT } from './knowledge.js';

const TABLE = readTable();
const DOUBTFUL: UncertainSetup = {
  central: WEFT,
  sample: (draw: DrawSource) => ({
    ...WEFT,
    stapleMm: 25 + 6 * draw.next('staple'),
    twistPerMetre: 700 + 110 * draw.next('twist'),
  }),
};
const VARIANTS: Record<string, SetupVariant> = {
  same: (setup) => setup,
  'eight notches': (setup) => ({ ...setup, nozzleSurface: 'notched', notches: 8 }),
  slower: (setup) => ({ ...setup, rotorSpeedRpm: setup.rotorSpeedRpm * 0.85 }),
};

describe('draws', () => {
  it('put one number into each slice, in an order that goes by the name', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 400 }), (name, draws) => {
        const column = uniformColumn(name, draws);
        const slices = new Set([...column].map((u) => Math.floor(u * draws)));
        expect(slices.size).toBe(draws);
        expect([...column].every((u) => u > 0 && u < 1)).toBe(true);
      }),
    );
    expect(uniformColumn('a', 64)).not.toEqual(uniformColumn('b', 64));
  });

  it('are hardly correlated between names', () => {
    const centred = ['staple', 'twist', 'parameter:packing', 'parameter:grooveFriction'].map((name) =>
      [...uniformColumn(name, 256)].map((u) => u - 0.5),
    );
    for (const [i, a] of centred.entries()) {
      for (const b of centred.slice(i + 1)) {
        const product = a.reduce((sum, x, k) => sum + x * (b[k] ?? 0), 0) / 256;
        expect(Math.abs(product * 12)).toBeLessThan(0.25);
      }
    }
  });

  it('follow their spread', () => {
    expect(drawFrom(5, { kind: 'uniform', low: 4, high: 8 }, 0.25)).toBe(5);
    expect(drawFrom(5, { kind: 'normal', sd: 2 }, 0.5)).toBeCloseTo(5, 12);
    expect(drawFrom(5, { kind: 'normal', sd: 2 }, 0.975)).toBeCloseTo(5 + 2 * 1.959964, 5);
    expect(drawFrom(5, { kind: 'lognormal', sd: 0.2 }, 0.975)).toBeCloseTo(5 * Math.exp(0.2 * 1.959964), 5);
    const source = openDraws(16);
    source.index = 3;
    expect(source.next('x')).toBe(source.next('x'));
    expect(source.next('x')).toBe(uniformColumn('x', 16)[3]);
  });

  it('give every parameter the mean and spread of its entry', () => {
    const drawn = parameterDraws(TABLE, 512);
    const limits = TABLE.model.tensionShareLimit;
    const values = drawn.map((p) => p.tensionShareLimit);
    const mean = values.reduce((a, b) => a + b) / values.length;
    expect(mean).toBeCloseTo(limits.value, 3);
    expect(Math.min(...values)).toBeLessThan(0.1605);
    expect(Math.max(...values)).toBeGreaterThan(0.2795);
    const gains = drawn.map((p) => p.axialGainShare);
    expect(Math.min(...gains)).toBeLessThan(0.01);
    expect(Math.max(...gains)).toBeGreaterThan(0.99);
  });
});

describe('simulate', () => {
  it('gives the same numbers every time', () => {
    const again = { ...TABLE };
    expect(simulate(DOUBTFUL, again, { variants: VARIANTS })).toEqual(
      simulate(DOUBTFUL, TABLE, { variants: VARIANTS }),
    );
  });

  it('shows a variant the draws of the base', () => {
    const simulation = simulate(DOUBTFUL, TABLE, { variants: VARIANTS });
    expect(variantColumns(simulation, 'same')).toEqual(simulation.base);
    expect(summariseChange(simulation, 'falseTwistPct', 'same')).toEqual({
      median: 0,
      low: 0,
      high: 0,
      negative: 0,
    });
    expect(summariseChange(simulation, 'falseTwistPct', 'eight notches').low).toBeGreaterThan(0);
    expect(simulate(DOUBTFUL, TABLE).base).toEqual(simulation.base);
  });

  it('keep of the variants what they were asked for, the same numbers, and give nothing else', () => {
    const whole = simulate(DOUBTFUL, TABLE, { variants: VARIANTS });
    const part = simulate(DOUBTFUL, TABLE, {
      variants: VARIANTS,
      variantFields: ['twistMargin', 'flyIndex'],
    });
    expect(part.base).toEqual(whole.base);
    for (const name of Object.keys(VARIANTS)) {
      const columns = variantColumns(part, name);
      expect(columns.twistMargin).toEqual(whole.variants[name]?.twistMargin);
      expect(columns.flyIndex).toEqual(whole.variants[name]?.flyIndex);
      expect(() => columns.heatMargin).toThrow('heatMargin');
    }
  });

  it('is the model at each draw, and at the centre', () => {
    const simulation = simulate(certainSetup(WEFT), TABLE, { draws: 32 });
    const drawn = parameterDraws(TABLE, 32)[7];
    if (drawn === undefined) throw new Error('no draw');
    const state = computeState(WEFT, drawn);
    for (const field of QUANTITY_FIELDS) expect(simulation.base[field][7]).toBe(state[field]);
    expect(simulation.central).toEqual(computeState(WEFT, centralParameters(TABLE)));
  });

  it('widens with doubt about the setup', () => {
    const sure = summarise(simulate(certainSetup(WEFT), TABLE).base).effectiveStapleMm;
    const unsure = summarise(simulate(DOUBTFUL, TABLE).base).effectiveStapleMm;
    expect(sure.high - sure.low).toBe(0);
    expect(unsure.high - unsure.low).toBeGreaterThan(5);
  });

  it('carries the doubt about the rise of tension at the nozzle', () => {
    const { base, draws } = simulate(certainSetup(WEFT), TABLE);
    const shares = Array.from({ length: draws }, (_unused, i) => {
      const low = base.takeUpTensionLowerCnPerTex[i] ?? 0;
      const high = base.takeUpTensionUpperCnPerTex[i] ?? 0;
      return ((base.takeUpTensionCnPerTex[i] ?? 0) - low) / (high - low);
    }).sort((a, b) => a - b);
    expect(shares[0]).toBeLessThan(0.02);
    expect(shares[draws - 1]).toBeGreaterThan(0.98);
    expect(shares[draws / 2]).toBeCloseTo(0.5, 1);
  });

  it('agrees with many more draws', () => {
    const few = summarise(simulate(DOUBTFUL, TABLE).base);
    const many = summarise(simulate(DOUBTFUL, TABLE, { draws: 4096 }).base);
    for (const field of ['twistMargin', 'tensionMargin', 'falseTwistPct'] as const) {
      expect(Math.abs(few[field].median / many[field].median - 1)).toBeLessThan(0.1);
      expect(Math.abs(few[field].negative - many[field].negative)).toBeLessThan(0.05);
    }
  });

  it('refuses draws that make no sense and variants it has not run', () => {
    expect(() => simulate(DOUBTFUL, TABLE, { draws: 1 })).toThrow(/draws: 1/);
    expect(() => simulate(DOUBTFUL, TABLE, { draws: 2.5 })).toThrow(RangeError);
    const simulation = simulate(DOUBTFUL, TABLE, { draws: 8, variants: VARIANTS });
    expect(() => probabilityButFor(simulation, 'twistMargin', 'faster')).toThrow(/faster.*slower/);
    expect(() => variantColumns(simulation, 'toString')).toThrow(RangeError);
  });
});

describe('probabilityButFor', () => {
  it('is the share of draws that the change cures', () => {
    const fast: UncertainSetup = certainSetup({ ...WEFT, rotorSpeedRpm: 130000 });
    const simulation = simulate(fast, TABLE, { variants: VARIANTS });
    const negative = summariseColumn(simulation.base.tensionMargin).negative;
    const still = summariseColumn(variantColumns(simulation, 'slower').tensionMargin).negative;
    expect(negative).toBeGreaterThan(0.4);
    // Slowing down never hurts the tension margin, so what is cured is the difference.
    expect(probabilityButFor(simulation, 'tensionMargin', 'slower')).toBeCloseTo(negative - still, 12);
    expect(probabilityButFor(simulation, 'tensionMargin', 'same')).toBe(0);
  });
});

describe('summariseColumn', () => {
  it('takes quantiles with straight lines between neighbours', () => {
    const column = Float64Array.from([4, -1, 0, 2, 1]);
    const summary = summariseColumn(column);
    expect(summary).toMatchObject({ median: 1, negative: 0.2 });
    expect(summary.low).toBeCloseTo(-0.8, 12);
    expect(summary.high).toBeCloseTo(3.6, 12);
    expect([...column]).toEqual([4, -1, 0, 2, 1]);
  });
});
