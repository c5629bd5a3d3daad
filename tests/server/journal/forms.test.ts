import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawBreakDays } from '../../../src/server/pictures/break-days.js';
import { drawPareto } from '../../../src/server/pictures/pareto-bars.js';
import { drawRatePairs } from '../../../src/server/pictures/rates-side-by-side.js';
import { drawReliability } from '../../../src/server/pictures/reliability.js';
import { formProblems, readTyped, startFields, typedFrom } from '../../../src/server/views/journal/form.js';
import {
  monthsBefore,
  readMoment,
  typedDay,
  typedMoment,
} from '../../../src/server/views/journal/moments.js';
import { saySpan } from '../../../src/server/views/journal/words.js';

const read = (fields: Record<string, string>) => readTyped(typedFrom(new URLSearchParams(fields)));

describe('what is typed', () => {
  it('is a number with point or comma and spaces between thousands, and nothing else', () => {
    for (const [text, value] of [
      ['12', 12],
      ['12,5', 12.5],
      ['12.5', 12.5],
      ['1 250', 1250],
      ['1 250,75', 1250.75],
      ['0', 0],
    ] as const)
      expect(read({ n: text }).amount('n', 'N'), text).toBe(value);
    for (const text of ['-1', '0x10', '1e3', '12 kg', 'NaN', '1.2.3', ',5', 'seven']) {
      const reader = read({ n: text });
      expect(reader.amount('n', 'N'), text).toBeNull();
      expect(reader.problems).toHaveLength(1);
      expect(reader.problems[0]?.message).toContain(text);
    }
    const empty = read({ n: '  ' });
    expect(empty.amount('n', 'N')).toBeNull();
    expect(empty.problems).toEqual([]);
  });

  it('is never read as a number it is not, whatever it is', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), (text) => {
        const reader = read({ n: text });
        const value = reader.amount('n', 'N');
        expect(value === null || (Number.isFinite(value) && value >= 0)).toBe(true);
        expect(value === null && text.trim() !== '').toBe(reader.problems.length === 1);
      }),
    );
  });

  it('is a time of the clock on the wall, and comes back as it was', () => {
    fc.assert(
      fc.property(
        fc.date({ min: new Date('2020-01-01'), max: new Date('2035-01-01'), noInvalidDate: true }),
        (date) => {
          const instant = new Date(Math.floor(date.getTime() / 60_000) * 60_000).toISOString();
          // An hour that the clock shows twice in autumn is taken as the first of the two.
          const again = readMoment(typedMoment(instant)) ?? '';
          expect(typedMoment(again)).toBe(typedMoment(instant));
          expect(typedDay(readMoment(typedDay(instant)) ?? '')).toBe(typedDay(instant));
        },
      ),
    );
    for (const text of ['2026-02-30', '2026-13-01', '24.11.2026', '2026-11-24T25:00', 'now', ''])
      expect(readMoment(text), text).toBeUndefined();
  });

  it('goes before the value given, and a problem stands at its control', () => {
    const problems = formProblems(
      [{ field: 'step.minutes', value: '"x"', allowed: 'a number' }],
      [startFields(new Map(), []).number('minutes', 'Working time')],
    );
    const make = startFields(new Map([['minutes', ['x']]]), problems);
    expect(make.number('minutes', 'Working time', { value: '5' })).toMatchObject({
      value: 'x',
      error: 'Working time: "x" cannot be used.',
    });
  });
});

describe('months back', () => {
  it('keeps the day where the month has it', () => {
    const local = (text: string) => new Date(text).toISOString();
    expect(typedDay(monthsBefore(local('2026-11-25T12:00'), 6))).toBe('2026-05-25');
    expect(typedDay(monthsBefore(local('2026-03-31T12:00'), 1))).toBe('2026-02-28');
    expect(typedDay(monthsBefore(local('2026-01-15T12:00'), 12))).toBe('2025-01-15');
  });

  it('spans are said as people say them', () => {
    expect([0.2, 40, 90, 3000, 9000].map(saySpan)).toEqual([
      '1\u00a0min',
      '40\u00a0min',
      '1.5\u00a0h',
      '2.1\u00a0days',
      '6.3\u00a0days',
    ]);
  });
});

describe('pictures of the journal', () => {
  const label = 'Too <rough> & "worn"';
  const pictures = {
    pareto: drawPareto('Causes', 'cases', [
      {
        label,
        value: 4,
        interval: { lower: 1.1, upper: 10.2 },
        cumulative: 0.8,
        figure: '4',
        href: '/cases?a=1&b=2',
      },
      { label: 'Other', value: 1, interval: undefined, cumulative: 1, figure: '1', href: '/cases' },
    ]),
    reliability: drawReliability('Said and come true', [
      { forecast: 0.7, share: 0.5, lower: 0.2, upper: 0.8, forecasts: 12 },
    ]),
    days: drawBreakDays(
      'Breaks',
      [
        { day: '2026-11-01', rate: 60, changed: false },
        { day: '2026-11-02', rate: undefined, changed: true },
      ],
      50,
    ),
    rates: drawRatePairs('Rates', [{ label, expert: 0.01, learned: 0.02, lower: 0, upper: 0.6 }]),
  };

  it.each(Object.entries(pictures))(
    '%s: escaped, titled, described, without inline styles',
    (_, { markup }) => {
      expect(markup).toContain('<title>');
      expect(markup).toContain('<desc>');
      expect(markup).not.toMatch(/style=|<script|<rough>|NaN|undefined/);
    },
  );

  it('a bar is a link to its cases and as long as its value', () => {
    const { markup } = pictures.pareto;
    expect(markup).toContain('href="/cases?a=1&amp;b=2"');
    const widths = [...markup.matchAll(/class="pareto-bar"[^>]*width="([\d.]+)"/g)].map(([, width]) =>
      Number(width),
    );
    expect((widths[0] ?? 0) / (widths[1] ?? 1)).toBeCloseTo(4, 1);
  });
});
