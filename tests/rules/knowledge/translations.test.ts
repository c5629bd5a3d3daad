import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { markForeign } from '../../../src/language/foreign.js';
import { inLanguage } from '../../../src/language/scope.js';
import { KnowledgeError } from '../../../src/rules/knowledge/errors.js';
import type { Knowledge } from '../../../src/rules/knowledge/knowledge.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import {
  countTranslated,
  localise,
  plainKnowledge,
  speaking,
} from '../../../src/rules/knowledge/localise.js';

let root = '';
beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), 'translations-'));
  cpSync('knowledge-base', root, { recursive: true });
  rmSync(join(root, 'languages'), { recursive: true, force: true });
  mkdirSync(join(root, 'languages', 'de'), { recursive: true });
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

const load = (text: string): Knowledge => {
  writeFileSync(join(root, 'languages', 'de', 'texts.yaml'), text);
  return loadKnowledge(root);
};
const problemsOf = (text: string): string => {
  try {
    load(text);
  } catch (error) {
    if (error instanceof KnowledgeError)
      return error.problems.map((one) => `${one.field} ${one.message}`).join('\n');
    throw error;
  }
  return '';
};

describe('texts of the knowledge base in another language', () => {
  it('take the place of the English ones, which stay where there are none and are marked', () => {
    const english = load('symptoms: {harsh: {label: Harter Griff}}\ncautions: {nips: {text: Finger weg}}');
    const german = localise(english, 'de');
    expect(german.book.symptoms.get('harsh')?.label).toBe('Harter Griff');
    expect(german.book.symptoms.get('harsh')?.look).toBe(
      markForeign(english.book.symptoms.get('harsh')?.look ?? ''),
    );
    expect(german.book.cautions.get('nips')?.text).toBe('Finger weg');
    const cause = english.book.causes.get('twist-too-low');
    expect(german.book.causes.get('twist-too-low')?.['leads-to'][0]?.strength).toBe(
      cause?.['leads-to'][0]?.strength,
    );
    expect(german.book.causes.get('twist-too-low')?.rules?.[0]?.when).toBe(cause?.rules?.[0]?.when);
    expect(localise(english, 'en')).toBe(english);
  });

  it('reach every text: nothing that is read is left unmarked', () => {
    const { done, of } = countTranslated(load('symptoms: {harsh: {label: Harter Griff}}'), 'de').symptoms;
    expect([done, of > 60]).toEqual([1, true]);
  });

  it('are read in the language of the moment', () => {
    const knowledge = speaking(load('symptoms: {harsh: {label: Harter Griff}}'));
    expect(knowledge.book.symptoms.get('harsh')?.label).toBe('Harsh yarn or stiff fabric');
    expect(inLanguage('de', () => knowledge.book.symptoms.get('harsh')?.label)).toBe('Harter Griff');
    expect(inLanguage('de', () => plainKnowledge(knowledge).book.symptoms.get('harsh')?.label)).toBe(
      'Harsh yarn or stiff fabric',
    );
  });

  it.each([
    ['symptoms: {harsch: {label: x}}', 'symptoms.harsch there is no such entry'],
    ['symptoms: {harsh: {lable: x}}', 'symptoms.harsh.lable the entry has no such text'],
    ['checks: {broken-tail: {how: [x]}}', 'has 1 items where the English text has 4'],
    ['checks: {broken-tail: {how: {"2": um 7 cm}}}', 'has other figures (7)'],
    [
      'actions: {raise-twist: {label: Drehung um 5 % erhöhen}}',
      'has other figures (5) than the English text (4)',
    ],
    ['causes: {twist-too-low: {rules: {no-such: {because: x}}}}', 'the entry has no such text'],
    ['sources: {a: {cite: x}}', 'sources'],
  ])('are refused when they do not fit: %s', (text, words) => {
    expect(problemsOf(text)).toContain(words);
  });

  it('are refused when one is given twice', () => {
    writeFileSync(join(root, 'languages', 'de', 'more.yaml'), 'symptoms: {harsh: {label: Harsch}}');
    expect(problemsOf('symptoms: {harsh: {label: Hart}}')).toContain('symptoms.harsh.label is given twice');
    rmSync(join(root, 'languages', 'de', 'more.yaml'));
  });
});
