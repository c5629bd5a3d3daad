import { describe, expect, test } from 'vitest';
import {
  describeTexture,
  insertRank,
  stepOnLadder,
  textureAt,
  textureOf,
  textureRank,
} from '../../../src/rules/case/ladders.js';
import { INSERTS } from '../../../src/rules/case/setup-fields.js';
import { TEXTURES } from '../../../src/rules/knowledge/end-use-schema.js';

const notched = (notches: number) => ({ surface: 'notched', notches }) as const;

describe('texture ladder', () => {
  test('smooth, spiral, 3, 4, 6, 8 notches, knurled stand on whole rungs', () => {
    expect(TEXTURES.map((word) => textureRank(textureOf(word)))).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(TEXTURES.map((word) => describeTexture(textureOf(word)))).toEqual([
      'smooth',
      'spiral',
      '3 notches',
      '4 notches',
      '6 notches',
      '8 notches',
      'knurled',
    ]);
  });

  test('other notch counts lie between, always rising, and never reach knurled', () => {
    const ranks = [1, 2, 3, 4, 5, 6, 7, 8].map((notches) => textureRank(notched(notches)));
    expect(ranks).toEqual([...ranks].sort((a, b) => a - b));
    expect(new Set(ranks).size).toBe(8);
    expect(textureRank(notched(5))).toBe(3.5);
    expect(textureRank(notched(7))).toBe(4.5);
    expect(textureRank(notched(1))).toBeGreaterThan(1);
    expect(textureRank(notched(12))).toBe(5);
  });

  test('textureAt undoes textureRank on the rungs and keeps to the ladder', () => {
    for (let rung = 0; rung < 7; rung++) expect(textureRank(textureAt(rung))).toBe(rung);
    expect(textureAt(-3)).toEqual({ surface: 'smooth', notches: 0 });
    expect(textureAt(99)).toEqual({ surface: 'knurled', notches: 0 });
  });
});

describe('steps', () => {
  test('stop at the ends and count what was taken', () => {
    expect(stepOnLadder(3, 1, 7)).toEqual({ rung: 4, taken: 1 });
    expect(stepOnLadder(5, 3, 7)).toEqual({ rung: 6, taken: 1 });
    expect(stepOnLadder(0, -1, 7)).toEqual({ rung: 0, taken: 0 });
    expect(stepOnLadder(2, 0, 7)).toEqual({ rung: 2, taken: 0 });
  });

  test('from between two rungs the first step goes to the next rung', () => {
    expect(stepOnLadder(3.5, 1, 7).rung).toBe(4);
    expect(stepOnLadder(3.5, -1, 7).rung).toBe(3);
    expect(stepOnLadder(3.5, 2, 7).rung).toBe(5);
  });

  test('inserts rise from none', () => {
    expect(INSERTS.map(insertRank)).toEqual([0, 1, 2, 3, 4]);
  });
});
