import { describe, expect, it } from 'vitest';
import { locateBreaks, scanNeighbours, screenPositions } from '../../src/statistics/index.js';
import { fitOrdinarySpread } from '../../src/statistics/ordinary-spread.js';
import { createRandom, scatterEvents } from '../../src/statistics/random.js';

/** Counts of `n` positions drawn at random with the given relative rates, total about `mean` a position. */
function draw(
  n: number,
  mean: number,
  seed: number,
  rate: (index: number) => number = () => 1,
  rotorHours = 48,
) {
  const random = createRandom(seed);
  let sum = 0;
  const cumulative = Array.from({ length: n }, (_, i) => {
    sum += rate(i);
    return sum;
  });
  const counts = scatterEvents(Math.round(mean * sum), cumulative, random, new Int32Array(n));
  return Array.from(counts, (count, i) => ({ id: `${i + 1}`, count, rotorHours }));
}

describe('position screen', () => {
  it('finds a bad position and ranks it first, with few innocent ones beside it', () => {
    let found = 0;
    let first = 0;
    let falseShare = 0;
    const frames = 100;
    for (let seed = 1; seed <= frames; seed++) {
      const screen = screenPositions(draw(240, 2, seed, (i) => (i === 77 ? 8 : 1)));
      if (screen.rogues.some((rogue) => rogue.id === '78')) found++;
      if (screen.ranked[0]?.id === '78') first++;
      const innocent = screen.rogues.filter((rogue) => rogue.id !== '78').length;
      falseShare += innocent / Math.max(1, screen.rogues.length) / frames;
      const bad = screen.positions[77];
      // Drawn towards the mean: less than counted, more than the frame.
      expect(bad?.shrunkenPer1000).toBeLessThan(bad?.rate.per1000 ?? 0);
      expect(bad?.shrunkenPer1000).toBeGreaterThan((1000 * 2) / 48);
    }
    expect(found).toBeGreaterThanOrEqual(90);
    expect(first).toBeGreaterThanOrEqual(90);
    expect(falseShare).toBeLessThan(0.1);
  });

  it('is not blinded by many bad positions', () => {
    // One position in sixteen breaks four times as often.
    let found = 0;
    let flagged = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const { rogues } = screenPositions(draw(240, 3, seed, (i) => (i % 16 === 0 ? 4 : 1)));
      found += rogues.filter((rogue) => (Number(rogue.id) - 1) % 16 === 0).length;
      flagged += rogues.length;
    }
    expect(found / (30 * 15)).toBeGreaterThan(0.65);
    expect((flagged - found) / flagged).toBeLessThan(0.1);
  });

  it('rarely flags anything on a healthy frame', () => {
    let frames = 0;
    for (let seed = 1; seed <= 150; seed++) {
      if (screenPositions(draw(120, 3, seed)).rogues.length > 0) frames++;
    }
    // At most 10 % of healthy frames should show a flag; 24 of 150 is 2.5 standard deviations above.
    expect(frames).toBeLessThan(24);
  });

  it('does not put a short run at the top', () => {
    const positions = [...draw(60, 5, 4), { id: 'short', count: 1, rotorHours: 1 }];
    const screen = screenPositions(positions);
    expect(screen.ranked[0]?.id).not.toBe('short');
    expect(screen.positions.at(-1)?.rate.per1000).toBe(1000);
  });

  it('judges against the ordinary spread when the frame is uneven all over', () => {
    // True rates spread threefold up and down, without any outlier.
    const uneven = draw(200, 10, 9, (i) => 3 ** Math.sin(i * 12.9898));
    const screen = screenPositions(uneven);
    expect(screen.judgedAgainstSpread).toBe(true);
    expect(screen.restDispersion?.overdispersed).toBe(true);
    expect(screen.rogues.length).toBeLessThan(10);
    const outlier = uneven.map((position, i) => (i === 50 ? { ...position, count: 120 } : position));
    expect(screenPositions(outlier).rogues.map((rogue) => rogue.id)).toContain('51');
  });

  it('estimates the ordinary spread although the worst fifth is left out', () => {
    // Gamma(2)-distributed true rates as sums of two exponentials; mean 10 breaks.
    const random = createRandom(17);
    const fits = Array.from({ length: 41 }, (_, frame) => {
      const rates = Array.from({ length: 240 }, () => -Math.log(1 - random()) - Math.log(1 - random()));
      return fitOrdinarySpread(draw(240, 5, 100 + frame, (i) => rates[i] ?? 0));
    });
    // Single fits scatter by some 15 % and lean upwards; their median is what must be right.
    const median = (values: number[]) => values.sort((a, b) => a - b)[20] ?? Number.NaN;
    expect(Math.abs(median(fits.map((fit) => fit.mean * 48)) - 10)).toBeLessThan(1);
    expect(median(fits.map((fit) => fit.shape))).toBeGreaterThan(1.5);
    expect(median(fits.map((fit) => fit.shape))).toBeLessThan(2.6);
    expect(fitOrdinarySpread([1, 2, 3].map(() => ({ count: 0, rotorHours: 10 }))).shape).toBe(
      Number.POSITIVE_INFINITY,
    );
  });

  it('works without any break and refuses doubled ids', () => {
    const none = [1, 2, 3].map((i) => ({ id: `${i}`, count: 0, rotorHours: 10 }));
    expect(screenPositions(none).rogues).toEqual([]);
    expect(() => screenPositions([...none, { id: '1', count: 0, rotorHours: 1 }])).toThrow('different ids');
    expect(() => screenPositions(none.slice(0, 2))).toThrow('3 or more');
  });
});

describe('neighbour scan', () => {
  it('finds a run of raised neighbours', () => {
    const scan = scanNeighbours(draw(240, 2, 3, (i) => (i >= 100 && i < 112 ? 3 : 1)));
    expect(scan.best?.p).toBeLessThanOrEqual(0.01);
    expect(scan.best?.start).toBeGreaterThan(96);
    expect((scan.best?.start ?? 0) + (scan.best?.length ?? 0)).toBeLessThan(117);
    expect(scan.clusters.length).toBeGreaterThan(0);
  });

  it('is repeatable', () => {
    const positions = draw(100, 2, 8);
    expect(scanNeighbours(positions)).toEqual(scanNeighbours(positions));
  });

  it('raises a false alarm no more often than stated', () => {
    let alarms = 0;
    for (let seed = 1; seed <= 120; seed++) {
      if (scanNeighbours(draw(40, 2, 1000 + seed), { replications: 99, maxWindow: 8 }).clusters.length > 0)
        alarms++;
    }
    // 5 % of 120 is 6; 14 is over three standard deviations above.
    expect(alarms).toBeLessThan(14);
  });

  it('goes round the ring only where there is one, and stays inside sections', () => {
    const ends = draw(60, 3, 5, (i) => (i < 4 || i >= 56 ? 5 : 1));
    const ring = scanNeighbours(ends, { layout: 'ring' });
    expect(ring.best?.ids).toContain('60');
    expect(ring.best?.ids).toContain('1');
    const crossing = draw(60, 3, 6, (i) => (i >= 8 && i < 12 ? 6 : 1));
    const sections = scanNeighbours(crossing, { layout: 'sections', sectionSize: 10 });
    for (const run of sections.clusters) {
      expect(Math.floor(run.start / 10)).toBe(Math.floor((run.start + run.length - 1) / 10));
    }
    expect(sections.clusters.length).toBe(2);
    expect(() => scanNeighbours(ends, { layout: 'sections' })).toThrow('sectionSize');
  });

  it('weighs positions by their hours', () => {
    // The same counts everywhere; one stretch ran a third of the time, so its rate is threefold.
    const positions = draw(60, 0, 1).map((position, i) => ({
      ...position,
      count: 4,
      rotorHours: i >= 20 && i < 28 ? 16 : 48,
    }));
    const scan = scanNeighbours(positions);
    expect(scan.best?.start).toBe(20);
    expect(scan.best?.length).toBe(8);
    expect(scan.best?.ratioToRest).toBeCloseTo(3, 12);
  });
});

describe('where the breaks are', () => {
  const layout = { layout: 'sections', sectionSize: 24 } as const;

  it('calls one bad position a position, not a section', () => {
    const location = locateBreaks(
      draw(240, 2, 11, (i) => (i === 30 ? 12 : 1)),
      layout,
    );
    expect(location.scope).toBe('position');
    expect(location.positionIds).toEqual(['31']);
    expect(location.sections).toEqual([]);
  });

  it('calls a raised section a section', () => {
    const location = locateBreaks(
      draw(240, 2, 12, (i) => (i >= 48 && i < 72 ? 2.5 : 1)),
      layout,
    );
    expect(location.scope).toBe('section');
    expect(location.sections[0]?.ids).toContain('60');
    expect(location.words).toContain('together');
  });

  it('names both when both are there', () => {
    const location = locateBreaks(
      draw(240, 2, 13, (i) => (i >= 48 && i < 72 ? 3 : i === 200 ? 12 : 1)),
      layout,
    );
    expect(location.scope).toBe('section');
    expect(location.positionIds).toContain('201');
  });

  it('needs a norm to tell a raised frame from a quiet one', () => {
    const even = draw(240, 2, 14);
    const norm = (1000 * 2) / 48;
    expect(locateBreaks(even, layout).scope).toBeUndefined();
    expect(locateBreaks(even, { ...layout, normPer1000: norm }).scope).toBe('none');
    const raised = locateBreaks(even, { ...layout, normPer1000: norm / 2 });
    expect(raised.scope).toBe('frame');
    expect(raised.restAboveNorm).toBe(true);
  });
});
