import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const ASSETS = 'src/templates/assets';
const sheets = readdirSync(ASSETS).filter((name) => name.endsWith('.css'));

/** Declarations that name a side of the screen rather than the start or end of a line. */
function physicalSides(css: string): string[] {
  const bare = css.replace(/\/\*[\s\S]*?\*\//g, '');
  return [...bare.matchAll(/(?:^|[{;])\s*([\w-]+)\s*:\s*([^;{}]+)/g)].flatMap((match) => {
    const property = match[1] ?? '';
    const value = (match[2] ?? '').trim();
    const four = /^([^\s(]+)\s+([^\s(]+)\s+([^\s(]+)\s+([^\s(]+)$/.exec(value);
    const bad =
      /(^|-)(left|right)(-|$)/.test(property) ||
      (/^(?:text-align|float|clear)$/.test(property) && /\b(?:left|right)\b/.test(value)) ||
      (/^(?:margin|padding|border-width|inset)$/.test(property) && four !== null && four[2] !== four[4]);
    return bad ? [`${property}: ${value}`] : [];
  });
}

describe('style sheets', () => {
  it('lay everything out by the direction of the text', () => {
    expect(sheets.length).toBeGreaterThan(2);
    for (const name of sheets)
      expect(physicalSides(readFileSync(join(ASSETS, name), 'utf8')), name).toEqual([]);
  });

  it.each([
    'a { margin-left: 1px }',
    'a{left:0}',
    'a { text-align: right; }',
    'a { color: red; padding: 0 1px 2px 3px }',
    'a { border-right-color: red }',
  ])('would show a side of the screen: %s', (css) => {
    expect(physicalSides(css)).toHaveLength(1);
  });
});
