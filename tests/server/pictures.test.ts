import { describe, expect, it } from 'vitest';
import type { Chain, MarginResult } from '../../src/rules/index.js';
import { drawChains } from '../../src/server/pictures/chain-graph.js';
import { drawMargins } from '../../src/server/pictures/margin-bars.js';
import { element, markupOf, wrapText } from '../../src/server/pictures/svg.js';
import { drawWaterfall } from '../../src/server/pictures/waterfall.js';

describe('elements', () => {
  it('escape texts and attributes', () => {
    expect(markupOf(element('text', { 'aria-label': '"<&' }, '<b>&'))).toBe(
      '<text aria-label="&quot;&lt;&amp;">&lt;b&gt;&amp;</text>',
    );
  });

  it('refuse styles, scripts and events', () => {
    expect(() => element('rect', { style: 'fill:red' })).toThrow(RangeError);
    expect(() => element('rect', { onclick: 'x' })).toThrow(RangeError);
    expect(() => element('script', {})).toThrow(RangeError);
  });

  it('are the only pictures that get onto a page', () => {
    expect(() => markupOf({ markup: '<svg/>' })).toThrow(TypeError);
    expect(() => markupOf('<svg/>')).toThrow(TypeError);
  });

  it('wrap texts at words, and cut the last line', () => {
    expect(wrapText('one two three four', 9, 3)).toEqual(['one two', 'three', 'four']);
    expect(wrapText('one two three four', 9, 2)).toEqual(['one two', 'three…']);
    expect(wrapText('extraordinarily', 6, 3)).toEqual(['extrao', 'rdinar', 'ily']);
  });
});

describe('the waterfall', () => {
  const steps = [
    { label: 'Base rate', decibans: -20, level: -20 },
    { label: 'Signs <here>', decibans: 12, level: -8 },
    { label: 'Denied', decibans: -4, level: -12 },
  ];
  const markup = drawWaterfall('Reckoning', steps).markup;

  it('goes right for what speaks for it and left for what speaks against', () => {
    expect(markup.match(/class="fall for"/g)).toHaveLength(1);
    expect(markup.match(/class="fall against"/g)).toHaveLength(1);
    const levels = [...markup.matchAll(/class="level" x1="([\d.]+)"/g)].map((match) => Number(match[1]));
    expect(levels).toHaveLength(3);
    expect(levels[1]).toBeGreaterThan(levels[0] ?? 0);
    expect(levels[2]).toBeLessThan(levels[1] ?? 0);
    // Equal weights are equally long: 12 against 4.
    expect(((levels[1] ?? 0) - (levels[0] ?? 0)) / ((levels[1] ?? 0) - (levels[2] ?? 0))).toBeCloseTo(3, 1);
  });

  it('escapes labels', () => {
    expect(markup).toContain('Signs &lt;here&gt;');
  });
});

describe('the chains', () => {
  const chain = (end: string, value: number): Chain => ({
    weight: 1,
    words: '',
    steps: [
      { node: 'a', kind: 'cause', label: 'Cause', probability: 0.6 },
      {
        node: end,
        kind: 'symptom',
        label: `Sign ${end}`,
        probability: 1,
        link: { value, why: 'so', ground: { standing: 'judgement' }, strength: 'weak' },
      },
    ],
  });

  it('draw each node once and the stronger link heavier', () => {
    const markup = drawChains('Chains', [chain('b', 0.1), chain('c', 0.9)]).markup;
    expect(markup.match(/class="node /g)).toHaveLength(3);
    expect(markup).toMatch(/60\s%/);
    const widths = [...markup.matchAll(/stroke-width="([\d.]+)"/g)].map((match) => Number(match[1]));
    expect(widths).toHaveLength(2);
    expect(widths[1]).toBeGreaterThan(widths[0] ?? 0);
  });
});

describe('the margins', () => {
  const margin = (value: number, chanceNegative: number): MarginResult => ({
    id: 'twist',
    label: 'Twist margin',
    value,
    low: value - 0.2,
    high: value + 0.2,
    chanceNegative,
    meaning: '',
  });

  it('mark what is short and what is tight', () => {
    const markup = drawMargins('Margins', [
      margin(-0.1, 0.7),
      margin(0.1, 0.2),
      margin(0.5, 0),
      margin(9, 0),
    ]).markup;
    for (const kind of ['short', 'tight'])
      expect(markup.match(new RegExp(`class="margin ${kind}"`, 'g'))).toHaveLength(1);
    expect(markup.match(/class="margin ample"/g)).toHaveLength(2);
    // The last lies off the scale: an arrowhead, no dot.
    expect(markup.match(/<circle/g)).toHaveLength(3);
  });
});
