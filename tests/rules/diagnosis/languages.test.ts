import { describe, expect, it } from 'vitest';
import { inLanguage } from '../../../src/language/scope.js';
import { rememberAnswers } from '../../../src/server/remember.js';
import { caseOf, diagnostician, LOW_TWIST_SMOOTH } from './fixture.js';

/** Everything of an answer but its texts. */
const numbersOf = (value: unknown): unknown =>
  JSON.parse(
    JSON.stringify(value, (key, one) =>
      key === 'milliseconds' ||
      (typeof one === 'string' && !['id', 'direction', 'stops', 'who'].includes(key))
        ? undefined
        : one,
    ),
  );

describe('a diagnosis in another language', () => {
  it('has the same numbers in the same order, and other words', async () => {
    const input = caseOf(LOW_TWIST_SMOOTH);
    const kept = rememberAnswers(diagnostician());
    const [english, german, again] = await Promise.all([
      kept.diagnose(input),
      inLanguage('de', () => kept.diagnose(input)),
      kept.diagnose(input),
    ]);
    expect(numbersOf(german)).toEqual(numbersOf(english));
    // Kept, with the time it took then, and not mixed up with the other language's.
    expect(again).toEqual(english);
    expect(german.summary).not.toBe(english.summary);
    expect(german.summary).toMatch(/wahrscheinlich|Ursache|sicher|möglich/);
    const first = german.causes[0];
    expect(first?.label).not.toBe(english.causes[0]?.label);
    expect(first?.ledger[0]?.label).toContain('Grundhäufigkeit');
    // Nothing that the reasoning says by itself is left in English; what a text base lacks is marked.
    const names = ['cite', 'address', 'unit', 'family', 'id', 'cause', 'node'];
    const said = JSON.stringify(german, (key, one) => (names.includes(key) ? undefined : one));
    expect(said.replace(/\uE000[^\uE001]*\uE001/g, '')).not.toMatch(/[ "](?:the|would|which|with)[ "]/);
  });
});
