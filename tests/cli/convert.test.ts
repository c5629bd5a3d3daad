import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conversionRule } from '../../src/cli/conversion-rule.js';
import { convertQuantity } from '../../src/spinning/units/conversion.js';
import { QUANTITY_KINDS } from '../../src/spinning/units/quantity.js';
import { run, unwrapped } from './fake-terminal.js';

describe('peelpoint convert', () => {
  it('shows value, factor and definitions', async () => {
    const { code, out } = await run(['convert', '20 Ne', 'tex']);
    expect(code).toBe(0);
    expect(out).toBe(
      [
        '20 Ne = 29.5271 tex',
        '  Ne × tex = 590.5412474',
        '  Ne: hanks of 840 yards in a pound; 1 yard = 0.9144 m, 1 pound = 453.59237 g,',
        '    both exact',
        '  tex: grams a kilometre',
        '',
      ].join('\n'),
    );
  });

  it('needs only ASCII where the screen shows nothing else', async () => {
    const { out } = await run(['convert', '20 Ne', 'tex'], { unicode: false });
    expect(out).toContain('Ne x tex = 590.5412474');
  });

  it('converts a twist multiplier with the count', async () => {
    const { code, out } = await run(['convert', '4.3 alpha-e', 't/m', '--count', '20 Ne', '--json']);
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    // tpi = 4.3·√20, and 39.3701 inches a metre.
    expect(answer.value).toBeCloseTo((4.3 * Math.sqrt(20)) / 0.0254, 9);
    expect(answer).toMatchObject({ from: 'alpha-e', unit: 't/m', rule: { kind: 'factor' } });
    expect(answer.countTex).toBeCloseTo(590.5412474 / 20, 6);
  });

  it('converts temperatures, which have no single factor', async () => {
    const { out } = await run(['convert', '-40 C', 'F']);
    expect(out).toContain('-40 C = -40 F');
    expect(out).toContain('F = C × 1.8 + 32');
  });

  it.each([
    [['convert', '4.3 alpha-e', 't/m'], '--count is missing'],
    [['convert', '4.3 alpha-e', 't/m', '--count', '0 Ne'], 'must be above 0'],
    [['convert', '20 Ne', 'mm'], 'cannot be converted into mm'],
    [['convert', '20 Ne', 'furlong'], '"furlong" is not a known unit'],
    [['convert', 'twenty Ne', 'tex'], 'is not a number'],
    [['convert', '20 Ne'], 'UNIT is missing'],
    [['convert', '20', 'Ne', 'tex'], 'is one more than "convert" takes'],
  ])('refuses %j', async (argv, message) => {
    const { code, out, err } = await run(argv);
    expect([code, out]).toEqual([2, '']);
    expect(unwrapped(err)).toContain(message);
    expect(err).toContain('Allowed: ');
  });
});

describe('the rule shown', () => {
  const kinds = Object.values(QUANTITY_KINDS).filter((kind) => kind.units.length > 1);
  const pairs = kinds.flatMap((kind) =>
    kind.units.flatMap((from) => kind.units.map((to) => [from, to] as const)),
  );

  it('agrees with the conversion itself for every pair of units', () => {
    expect(pairs.length).toBeGreaterThan(100);
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.double({ min: 1500, max: 9000, noNaN: true }),
        fc.double({ min: 10, max: 200, noNaN: true }),
        ([from, to], value, tex) => {
          const rule = conversionRule(from, to, tex);
          const result = convertQuantity(`${value.toFixed(6)} ${from}`, to, { count: tex });
          if (!result.ok) throw new Error(`${value} ${from} → ${to}: ${result.reason}`);
          const given = Number(value.toFixed(6));
          if (rule.factor === undefined) {
            expect(rule.kind).toBe('formula');
            expect([from, to].every((unit) => ['C', 'F', 'K'].includes(unit))).toBe(true);
          } else {
            const expected = rule.kind === 'factor' ? given * rule.factor : rule.factor / given;
            expect(result.value / expected).toBeCloseTo(1, 9);
          }
        },
      ),
    );
  });
});
