import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyRatio,
  decibansBetween,
  sayProbability,
  sayWeight,
} from '../../../src/rules/diagnosis/decibans.js';
import { shortfallShare } from '../../../src/rules/diagnosis/margins.js';
import { expectedSearchMinutes } from '../../../src/rules/diagnosis/search-minutes.js';

const probability = fc.double({ min: 0.001, max: 0.999, noNaN: true });

describe('weights of evidence', () => {
  it('undo what they do', () => {
    fc.assert(
      fc.property(probability, fc.double({ min: 0.01, max: 100, noNaN: true }), (p, ratio) => {
        expect(decibansBetween(p, applyRatio(p, ratio))).toBeCloseTo(10 * Math.log10(ratio), 6);
      }),
    );
  });

  it.each([
    [0.2, 'says nothing about it'],
    [2, 'speaks barely for it'],
    [-5, 'speaks somewhat against it'],
    [10, 'speaks clearly for it'],
    [-20, 'speaks strongly against it'],
  ])('%d decibans %s', (decibans, words) => {
    expect(sayWeight(decibans)).toBe(words);
  });

  it('words for a probability rise with it', () => {
    const words = [0.005, 0.03, 0.1, 0.3, 0.5, 0.8, 0.95].map(sayProbability);
    expect(new Set(words).size).toBe(words.length);
  });
});

describe('expected minutes of search', () => {
  it('is what a search by hand gives', () => {
    // 0.5 in 10 min, then 0.3 in 20 min, then hand over 0.2 at 100 min; nothing above one half, so no discount.
    expect(expectedSearchMinutes([0.5, 0.3], [10, 20], 100)).toBeCloseTo(0.5 * 10 + 0.3 * 30 + 0.2 * 130, 9);
  });

  it('never exceeds handing over at once, and is nothing when the cause is known', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(probability, fc.integer({ min: 1, max: 300 })), { maxLength: 8 }),
        (causes) => {
          const minutes = expectedSearchMinutes(
            causes.map(([p]) => p / Math.max(1, causes.length)),
            causes.map(([, t]) => t),
            180,
          );
          expect(minutes).toBeLessThanOrEqual(180 + 1e-9);
          expect(minutes).toBeGreaterThanOrEqual(0);
        },
      ),
    );
    expect(expectedSearchMinutes([1], [60], 180)).toBeLessThan(1);
  });

  it('does not grow when news arrives: the mean over answers is at most what it was', () => {
    // Exclusive causes, so that the answers' posteriors average to the prior.
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 3, maxLength: 5 }),
        fc.array(probability, { minLength: 5, maxLength: 5 }),
        (weights, answer) => {
          const total = weights.reduce((sum, w) => sum + w, 0);
          const prior = weights.map((w) => w / total);
          const minutes = prior.map((_, i) => 10 + 7 * i);
          const yes = prior.map((p, i) => p * (answer[i] ?? 0.5));
          const pYes = yes.reduce((sum, p) => sum + p, 0);
          const after =
            pYes *
              expectedSearchMinutes(
                yes.map((p) => p / pYes),
                minutes,
                180,
              ) +
            (1 - pYes) *
              expectedSearchMinutes(
                prior.map((p, i) => (p - (yes[i] ?? 0)) / (1 - pYes)),
                minutes,
                180,
              );
          expect(after).toBeLessThanOrEqual(expectedSearchMinutes(prior, minutes, 180) + 1.5);
        },
      ),
      { numRuns: 300, seed: 5 },
    );
  });
});

describe('the share of a shortfall', () => {
  it('is 1 where a change removes it, 0 where it does nothing or nothing is short', () => {
    const short = Float64Array.of(-0.2, -0.1, 0.3, 0.4);
    expect(shortfallShare(short, Float64Array.of(0.1, 0, 0.3, 0.4))).toBeCloseTo(0.5, 12);
    expect(shortfallShare(short, short)).toBe(0);
    expect(shortfallShare(Float64Array.of(0.1), Float64Array.of(0.9))).toBe(0);
    expect(shortfallShare(short, Float64Array.of(-0.1, -0.05, 1, 1))).toBeCloseTo(0.25, 12);
  });
});
