import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { IntlMessageFormat } from 'intl-messageformat';
import { describe, expect, it } from 'vitest';
import { GERMAN } from '../../src/language/messages/de/index.js';
import { ENGLISH } from '../../src/language/messages/en/index.js';
import { isMessageKey } from '../../src/language/say.js';

type Areas = Readonly<Record<string, Readonly<Record<string, string | undefined>>>>;
const english: Areas = ENGLISH;
const german = GERMAN as Areas;

/** Names of the placeholders of a message, with the kind of each. */
function placeholders(message: string): string[] {
  const found = new Set<string>();
  const visit = (elements: readonly unknown[]): void => {
    for (const element of elements) {
      const { type, value, options } = element as {
        type: number;
        value?: string;
        options?: Record<string, { value: unknown[] }>;
      };
      if (type !== 0 && type !== 7 && value !== undefined) found.add(`${value}:${type}`);
      for (const option of Object.values(options ?? {})) visit(option.value);
    }
  };
  visit(new IntlMessageFormat(message, 'en').getAst());
  return [...found].sort();
}

const messages = (areas: Areas) =>
  Object.entries(areas).flatMap(([area, texts]) =>
    Object.entries(texts).map(([key, text]) => [`${area}.${key}`, text ?? ''] as const),
  );
const byKey = new Map<string, string>(messages(english));

describe('the catalogues', () => {
  it('hold messages that can be read, without quotes or blanks gone astray', () => {
    for (const [key, text] of [...messages(english), ...messages(german)]) {
      expect(() => placeholders(text), key).not.toThrow();
      expect(text, key).toBe(text.trim());
      expect(text, key).not.toMatch(/ {2}|'[{}]/);
    }
  });

  it('take the same values in every language, and hold nothing that English has not', () => {
    for (const [key, text] of messages(german)) {
      const source = byKey.get(key);
      expect(source, key).toBeDefined();
      expect(placeholders(text), key).toEqual(placeholders(source ?? ''));
    }
  });

  it('have a German text for everything of an area that has been begun', () => {
    const missing = Object.entries(german).flatMap(([area, texts]) =>
      Object.keys(english[area] ?? {})
        .filter((key) => texts[key] === undefined)
        .map((key) => `${area}.${key}`),
    );
    expect(missing).toEqual([]);
  });
});

const TEMPLATES = 'src/templates';
const templates = readdirSync(TEMPLATES, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.eta'))
  .sort();

describe('templates', () => {
  it('name messages that exist and give them what they need', () => {
    let calls = 0;
    for (const name of templates) {
      const text = readFileSync(join(TEMPLATES, name), 'utf8');
      for (const [, key = '', values = ''] of text.matchAll(
        /\bsay\(\s*'([^']+)'\s*(?:,\s*\{([^}]*)\})?\s*\)/g,
      )) {
        calls++;
        expect(isMessageKey(key), `${name}: ${key}`).toBe(true);
        const given = [...values.matchAll(/(?:^|,)\s*([\w-]+)\s*(?=[:,]|$)/g)]
          .map((match) => match[1])
          .sort();
        const needed = placeholders(byKey.get(key) ?? '').map((one) => one.split(':')[0]);
        expect(given, `${name}: ${key}`).toEqual([...new Set(needed)].sort());
      }
      expect(text.match(/\bsay\((?!\s*'[^']+'\s*(?:,\s*\{[^}]*\})?\s*\))/), name).toBeNull();
    }
    expect(calls).toBeGreaterThan(10);
  });
});
