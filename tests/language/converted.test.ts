import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const TEMPLATES = 'src/templates';
const templates = readdirSync(TEMPLATES, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.eta'))
  .map((name) => name.replaceAll('\\', '/'))
  .sort();

/** Words that are the same in every language. */
const NAMES = /^(?:(?:– )?Peelpoint|YAML|JSON|CSV|PDF|SVG)$/;

/** Texts of a template that are written in it: between tags, and in attributes that are read out. */
function ownTexts(template: string): string[] {
  const shown = template
    .replace(/<%[\s\S]*?%>/g, '\u0000')
    // What is typed as it stands is the same in every language.
    .replace(/<(script|style|code|kbd)\b[\s\S]*?<\/\1>/g, '');
  const between = [...shown.matchAll(/>([^<]*)</g)].map((match) => match[1] ?? '');
  const attributes = [...shown.matchAll(/\s(?:aria-label|title|alt|placeholder|data-title)="([^"]*)"/g)].map(
    (match) => match[1] ?? '',
  );
  return [...between, ...attributes]
    .flatMap((text) => text.split('\u0000'))
    .map((text) => text.trim())
    .filter((text) => /\p{L}{2}/u.test(text) && !NAMES.test(text));
}

describe('texts of templates', () => {
  it('come from the catalogue', () => {
    const found = templates.filter(
      (name) => ownTexts(readFileSync(join(TEMPLATES, name), 'utf8')).length > 0,
    );
    expect(templates.length).toBeGreaterThan(80);
    expect(found).toEqual([]);
  });

  it('are seen between tags and in attributes that are read out', () => {
    expect(ownTexts('<p><%= it.a %> and more</p><b aria-label="Main"></b><i class="left">→ 3</i>')).toEqual([
      'and more',
      'Main',
    ]);
  });
});
