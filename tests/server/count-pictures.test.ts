import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CountPicture } from '../../src/server/pictures/counts/count-picture.js';
import { sayFigure } from '../../src/server/pictures/counts/count-picture.js';
import { drawDayBars } from '../../src/server/pictures/counts/day-bars.js';
import { drawForest } from '../../src/server/pictures/counts/forest.js';
import { drawFrameStrip } from '../../src/server/pictures/counts/frame-strip.js';
import { drawAnalysis } from '../../src/server/pictures/counts/pictures-of-analysis.js';
import { drawTrend } from '../../src/server/pictures/counts/trend.js';
import { drawTrialProgress } from '../../src/server/pictures/counts/trial-progress.js';
import { analyseCounts } from '../../src/statistics/analysis/index.js';
import { logTable, positionTable } from '../statistics/analysis/simulated-mill.js';

/** Well-formed: every element is closed, no number is missing, nothing that the content policy forbids. */
function check({ picture, table }: CountPicture): string {
  const { markup } = picture;
  const open: string[] = [];
  for (const [, end, name = '', self] of markup.matchAll(/<(\/?)([a-zA-Z]+)(?:\s[^<>]*?)?(\/?)>/g)) {
    if (end === '/') expect(open.pop()).toBe(name);
    else if (self !== '/') open.push(name);
  }
  expect(open).toEqual([]);
  expect(markup).toMatch(
    /^<svg class="picture counts [a-z-]+" viewBox="0 0 340 \d+" role="img" aria-label="[^"]+"><title>/,
  );
  expect(markup).toContain('<desc>');
  expect(markup).not.toMatch(/NaN|Infinity|undefined| style=| on[a-z]+=/);
  expect(table.rows.length).toBeGreaterThan(0);
  for (const row of table.rows) {
    expect(row).toHaveLength(table.columns.length);
    expect(row.join(' ')).not.toMatch(/NaN|Infinity|undefined/);
  }
  return markup;
}

const rate = fc.double({ min: 0, max: 1e5, noNaN: true });

describe('pictures of counts', () => {
  it('draws intervals, open ends and ratios', () => {
    const rows = [
      { label: 'Frame <3> & "4"', value: 90, lower: 60, upper: 130 },
      { label: 'Frame 5', value: 0, lower: 0, upper: Number.POSITIVE_INFINITY, marked: true },
    ];
    const markup = check(
      drawForest(rows, { title: 'Rates', unit: 'per 1000', reference: { value: 80, label: 'the norm' } }),
    );
    expect(markup).toContain('&lt;3&gt;');
    expect(markup).toContain('open-end');
    expect(markup).toContain('class="reference"');
    check(
      drawForest(
        [{ label: 'a', value: Number.POSITIVE_INFINITY, lower: 0, upper: Number.POSITIVE_INFINITY }],
        { title: 'R', unit: '×', ratio: true },
      ),
    );
  });

  it('wraps the frame in rows of 24 and marks what stands out otherwise than by colour', () => {
    const positions = Array.from({ length: 500 }, (_, i) => ({
      id: String(i + 1),
      count: i % 5,
      ratio: (i % 5) / 2,
      per1000: undefined,
      mark: i === 30 ? ('position' as const) : i > 100 && i < 110 ? ('section' as const) : undefined,
    }));
    const drawn = drawFrameStrip('Frame', positions);
    const markup = check(drawn);
    expect(markup.match(/class="cell/g)).toHaveLength(500 + 5);
    expect(markup.match(/class="ring"/g)).toHaveLength(2);
    expect(markup.match(/class="run"/g)).toHaveLength(9 + 1);
    expect(markup).toContain('>481<');
    // The legend says what its figures are figures of, and fits above its colours.
    expect(markup).toContain('>Colour: break rate of the position against that of the others<');
    expect(markup).toContain('>1–2 ×<');
    const height = Number(/viewBox="0 0 [\d.]+ ([\d.]+)"/.exec(markup)?.[1]);
    for (const [, y] of markup.matchAll(/ y="([\d.]+)"/g)) expect(Number(y)).toBeLessThan(height);
    expect(drawn.table.rows).toHaveLength(500);
    expect(drawn.table.rows[30]).toEqual(['31', '0', '× 0', '–', 'stands out']);
  });

  it('draws whatever comes', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.string(), rate, rate), { minLength: 1, maxLength: 90 }),
        fc.option(rate, { nil: undefined }),
        (list, norm) => {
          const periods = list.map(([label, count, value]) => ({
            label,
            count: Math.round(count),
            rate: value,
          }));
          check(
            drawTrend({
              title: 'In time',
              unit: 'per 1000',
              periods,
              ...(norm === undefined ? {} : { norm }),
              ...(periods.length > 2 ? { step: { after: 1, from: 1, to: 2, before: 1, now: 2 } } : {}),
            }),
          );
          check(
            drawDayBars({
              title: 'By hour',
              unit: 'per 1000',
              mean: norm ?? 1,
              slots: list.map(([label, count, value], i) => ({
                label,
                count: Math.round(count),
                rate: value,
                ratio: 1,
                marked: i === 0,
              })),
            }),
          );
          check(
            drawForest(
              list.map(([label, a, b]) => ({
                label,
                value: a,
                lower: Math.min(a, b),
                upper: Math.max(a, b),
              })),
              { title: 'F', unit: 'u', ratio: list.length % 2 === 0 },
            ),
          );
          check(
            drawTrialProgress({
              title: 'Trial',
              worthwhile: 0.8,
              looks: list.map(([, a, b], i) => ({
                hours: 100 * (i + 1),
                ratio: i === 0 ? Number.NaN : a / 1000,
                lower: Math.min(a, b) / 1000,
                upper: i % 3 === 0 ? Number.POSITIVE_INFINITY : Math.max(a, b) / 1000,
                ahead: i > list.length / 2,
              })),
            }),
          );
        },
      ),
      { numRuns: 60 },
    );
  });

  it('draws an analysis: strip, course of the named positions and of all, hours of the day', () => {
    const table = logTable(10, 120, 14, (h, i) => (i === 50 && h >= 240 ? 1.5 : 0.06));
    const pictures = drawAnalysis(analyseCounts(table, { normPer1000: 60 }), 60);
    for (const one of pictures) check(one);
    expect(pictures.map((one) => one.table.caption)).toEqual([
      'Frame 3, position by position',
      'Breaks of the positions named, in time',
      'Breaks in time',
      'Breaks by hour of the day',
    ]);
    const frames = drawAnalysis(
      analyseCounts(positionTable(5, 6, 60, (_, k) => (k === 3 ? 5 : 2))),
      undefined,
    );
    for (const one of frames) check(one);
    expect(frames.map((one) => one.table.caption)).toContain('Break rates of the frames, highest first');
  });

  it('says figures briefly', () => {
    expect([0, 1234.5, 12.345, 0.01234, Number.POSITIVE_INFINITY, Number.NaN].map(sayFigure)).toEqual([
      '0',
      '1\u202f235',
      '12.3',
      '0.0123',
      'no limit',
      '–',
    ]);
  });
});
