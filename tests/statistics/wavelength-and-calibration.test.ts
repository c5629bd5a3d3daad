import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beliefFromShare,
  matchWavelength,
  scoreForecasts,
  shareInterval,
  summariseBelief,
  updateBelief,
} from '../../src/statistics/index.js';

describe('spectrogram peak', () => {
  const sources = {
    rotor: { diameterMm: 33, contraction: 0.02 },
    parts: [{ name: 'feed roller', circumferenceMm: 78.5, draftToYarn: 166 }],
    drafting: [{ name: 'draw frame', stapleMm: 28, draftToYarn: 166 }],
  };

  it('finds the rotor at once round the groove, and at half of it', () => {
    const once = Math.PI * 33 * 0.98;
    expect(matchWavelength({ value: once, unit: 'mm' }, sources)[0]).toMatchObject({
      kind: 'rotor',
      harmonic: 1,
    });
    expect(matchWavelength({ value: once / 20, unit: 'cm' }, sources)[0]).toMatchObject({
      kind: 'rotor',
      harmonic: 2,
    });
    expect(matchWavelength({ value: once * 1.04, unit: 'mm' }, sources)[0]?.deviation).toBeCloseTo(0.04, 9);
  });

  it('finds parts through their draft and drafting waves by their band', () => {
    const part = matchWavelength({ value: 13, unit: 'm' }, sources);
    expect(part.map((match) => match.source)).toEqual(['draw frame', 'feed roller']);
    expect(matchWavelength({ value: 12.5, unit: 'm' }, sources)[0]).toMatchObject({
      kind: 'drafting-wave',
      deviation: 0,
    });
  });

  it('finds nothing where nothing fits, and is the same in any unit', () => {
    expect(matchWavelength({ value: 700, unit: 'mm' }, sources)).toEqual([]);
    fc.assert(
      fc.property(fc.double({ min: 10, max: 20000, noNaN: true }), (mm) => {
        const ids = (matches: ReturnType<typeof matchWavelength>) =>
          matches.map((m) => `${m.source}${m.harmonic}`);
        expect(ids(matchWavelength({ value: mm / 1000, unit: 'm' }, sources, { tolerance: 0.051 }))).toEqual(
          ids(matchWavelength({ value: mm, unit: 'mm' }, sources, { tolerance: 0.051 })),
        );
      }),
      { numRuns: 60 },
    );
    expect(() => matchWavelength({ value: 0, unit: 'mm' }, sources)).toThrow('wavelength');
  });
});

describe('calibration', () => {
  it('splits the score into its parts without remainder', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ probability: fc.constantFrom(0.05, 0.3, 0.6, 0.9), happened: fc.boolean() }), {
          minLength: 1,
        }),
        (forecasts) => {
          const { score, reliability, resolution, uncertainty } = scoreForecasts(forecasts);
          expect(reliability - resolution + uncertainty).toBeCloseTo(score, 12);
        },
      ),
      { numRuns: 60 },
    );
    expect(() => scoreForecasts([{ probability: 1.2, happened: true }])).toThrow('forecasts[0].probability');
  });

  it('gives a share interval that inverts the score test', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (n, fraction) => {
          const x = Math.round(n * fraction);
          const { lower, upper } = shareInterval(x, n);
          for (const limit of [lower, upper]) {
            if (limit <= 0 || limit >= 1) continue;
            const z = (x / n - limit) / Math.sqrt((limit * (1 - limit)) / n);
            expect(Math.abs(z)).toBeCloseTo(1.959964, 5);
          }
        },
      ),
      { numRuns: 60 },
    );
    expect(() => shareInterval(3, 2)).toThrow('successes');
  });

  it('moves a belief by cases, less by discounted ones', () => {
    const prior = beliefFromShare(0.2, 20);
    const full = summariseBelief(updateBelief(prior, 8, 2));
    const half = summariseBelief(updateBelief(prior, 8, 2, 0.5));
    expect(full.mean).toBeCloseTo(12 / 30, 12);
    expect(half.mean).toBeCloseTo(8 / 25, 12);
    expect(full.interval.lower).toBeLessThan(full.mean);
    expect(full.interval.upper).toBeGreaterThan(full.mean);
  });
});
