import { describe, expect, expectTypeOf, it } from 'vitest';
import { foreignSpans, markForeign, unmark } from '../../src/language/foreign.js';
import { preferredLanguage } from '../../src/language/languages.js';
import type { ArgumentsOf } from '../../src/language/message-arguments.js';
import { pseudoMessage } from '../../src/language/pseudo.js';
import { keyPart, say, sayLoose, wordFor } from '../../src/language/say.js';
import { inLanguage, language } from '../../src/language/scope.js';
import { inSentence, joinWords, sentenceCase } from '../../src/language/words.js';

describe('messages', () => {
  it('are said in the language of the moment, also after waiting', async () => {
    const before = say('shell.bench');
    const german = await inLanguage('de', async () => {
      await new Promise((resolve) => setImmediate(resolve));
      return say('shell.bench');
    });
    expect([before, german, say('shell.bench'), language()]).toEqual(['Bench', 'Diagnose', 'Bench', 'en']);
  });

  it('do not mix languages that are in use at the same time', async () => {
    const speak = (one: 'en' | 'de', turns: number) =>
      inLanguage(one, async () => {
        for (let turn = 0; turn < turns; turn++) await Promise.resolve();
        return say('scope.position');
      });
    expect(await Promise.all([speak('de', 3), speak('en', 1), speak('de', 0), speak('en', 5)])).toEqual([
      'eine Spinnstelle',
      'one position',
      'eine Spinnstelle',
      'one position',
    ]);
  });

  it('put values in their places and refuse a key or value that is missing', () => {
    expect(say('shell.since', { when: 'noon' })).toBe('in use since noon.');
    expect(() => sayLoose('shell.since', {})).toThrow('when');
    expect(() => sayLoose('shell.no-such')).toThrow('no message');
    // @ts-expect-error a value is missing
    expect(() => say('shell.since')).toThrow();
    // @ts-expect-error there is no such message
    expect(() => say('shell.no-such')).toThrow();
    // @ts-expect-error there is no such value
    expect(say('shell.since', { when: 'noon', who: 'me' })).toBe('in use since noon.');
    const one: 'shell.since' | 'scope.position' = 'shell.since' as 'shell.since' | 'scope.position';
    // @ts-expect-error one of the two needs a value
    expect(() => say(one)).toThrow('when');
  });

  it('say words of ids that came with data, and make keys of ids', () => {
    expect(wordFor('fibre', 'cotton')).toBe('cotton');
    expect(wordFor('fibre', 'nettle')).toBeUndefined();
    // @ts-expect-error messages of that area need values
    expect(wordFor('shell', 'nothing')).toBeUndefined();
    expect(say(`setup-field.${keyPart('opening-roller.speed')}`)).toBe('Opening-roller speed');
  });

  it('are lengthened and bracketed in the language for tests, placeholders apart', () => {
    expect(inLanguage('ar-XB', () => say('shell.since', { when: 'noon' }))).toBe('[iin uusee siincee noon.]');
    expect(JSON.stringify(pseudoMessage('{n, plural, one {# end} other {# ends}}'))).toContain('eend');
  });

  it('tell the compiler what they must be given', () => {
    expectTypeOf<keyof ArgumentsOf<'plain'>>().toBeNever();
    expectTypeOf<ArgumentsOf<'{a} of {b}'>>().toEqualTypeOf<{
      readonly a: string | number;
      readonly b: string | number;
    }>();
    expectTypeOf<
      ArgumentsOf<'{n, plural, one {# {kind} sign} other {signs}} by {who} {way, select, a {A {x}} other {}}'>
    >().toEqualTypeOf<{
      readonly n: number;
      readonly kind: string | number;
      readonly who: string | number;
      readonly way: string;
      readonly x: string | number;
    }>();
  });
});

describe('a text that a language lacks', () => {
  it('is a span of its own language on a page, and plain text in tags, titles, options and pictures', () => {
    const one = markForeign('Trash');
    expect(foreignSpans(`<p title="${one}">Viel ${one}.</p>`)).toBe(
      '<p title="Trash">Viel <span lang="en" dir="ltr">Trash</span>.</p>',
    );
    expect(
      foreignSpans(`<title>${one}</title><svg><text>${one}</text></svg><option>${one}</option>${one}`),
    ).toBe(
      '<title>Trash</title><svg><text>Trash</text></svg><option>Trash</option><span lang="en" dir="ltr">Trash</span>',
    );
  });

  it('closes where it was cut short, and is never opened twice', () => {
    const one = markForeign('Trash');
    expect(foreignSpans(`<p>${one.slice(0, 3)}…</p>${one.slice(2)}`)).toBe(
      '<p><span lang="en" dir="ltr">Tr…</span></p>rash',
    );
    expect(markForeign(`a ${one}`)).toBe(markForeign('a Trash'));
    expect(unmark(one)).toBe('Trash');
  });

  it('keeps its marks through small and capital letters', () => {
    expect(sentenceCase(markForeign('trash'))).toBe(markForeign('Trash'));
    expect(inSentence('Fly at the frame')).toBe('fly at the frame');
    expect(inSentence('CV of mass')).toBe('CV of mass');
    expect(inLanguage('de', () => inSentence('Flug'))).toBe('Flug');
    expect(inLanguage('de', () => joinWords(['a', 'b', 'c']))).toBe('a, b und c');
  });
});

describe('the language a browser asks for', () => {
  it.each([
    ['de-AT,de;q=0.9,en;q=0.5', 'de'],
    ['fr, en-GB;q=0.8, de;q=0.9', 'de'],
    ['fr-FR,fr', undefined],
    ['de;q=0, en', 'en'],
    ['ar-XB', undefined],
    ['', undefined],
    [';;;q=,,', undefined],
  ])('%s', (header, wanted) => {
    expect(preferredLanguage(header)).toBe(wanted);
  });
});
