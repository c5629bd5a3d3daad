import { afterAll, describe, expect, it } from 'vitest';
import { loadBooks } from '../../src/rules/books.js';
import { vocabularyOf } from '../../src/rules/diagnosis/diagnose.js';
import { KnowledgeError } from '../../src/rules/knowledge/errors.js';
import { readAllTexts } from '../../src/rules/knowledge/knowledge-files.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { removeSmallKnowledge, writeSmallKnowledge } from './workshop/small-knowledge.js';

const root = defaultKnowledgeFolder();
const texts = readAllTexts(root);
const knowledge = loadKnowledge(root);
const vocabulary = vocabularyOf(knowledge);

/** The texts with one of them changed. */
const changed = (file: string, what: string | RegExp, by: string) => {
  const text = texts.get(file) ?? '';
  const next = text.replace(what, by);
  if (next === text) throw new Error(`${file} was not changed`);
  return new Map(texts).set(file, next);
};
const problemsOf = (files: ReadonlyMap<string, string>) => {
  try {
    loadBooks(files, knowledge, vocabulary);
    return [];
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    return error.problems.map(({ file, field, message }) => `${file} ${field}: ${message}`);
  }
};

describe('a knowledge base read from texts', () => {
  it('is the one read from its folder', () => {
    expect(loadKnowledge(texts)).toEqual(knowledge);
    expect(loadBooks(texts, knowledge, vocabulary)).toEqual(loadBooks(root, knowledge, vocabulary));
  });

  it('says which folder and which file is missing', () => {
    const without = new Map([...texts].filter(([path]) => !path.startsWith('checks/')));
    without.delete('cautions.yaml');
    expect(() => loadKnowledge(without)).toThrow(
      /checks: this folder is missing.*cautions\.yaml: .*missing/s,
    );
  });
});

describe('the version of the knowledge', () => {
  const root = writeSmallKnowledge();
  afterAll(removeSmallKnowledge);
  const small = readAllTexts(root);
  const before = loadKnowledge(small);

  it.each([
    'plans.yaml',
    'places.yaml',
    'card.yaml',
    'practice.yaml',
    'glossary.yaml',
    'lessons/tension.yaml',
  ])('changes with %s, while what rankings rest on stays', (file) => {
    const other = loadKnowledge(new Map(small).set(file, 'anything: here\n'));
    expect(other.version).not.toBe(before.version);
    expect(other.reasoning).toBe(before.reasoning);
  });

  it('changes with a rule, and so does what rankings rest on; neither with a situation', () => {
    const rule = loadKnowledge(new Map(small).set('cautions.yaml', `${small.get('cautions.yaml')}# more\n`));
    expect(rule.version).not.toBe(before.version);
    expect(rule.reasoning).not.toBe(before.reasoning);
    const situation = loadKnowledge(new Map(small).set('cases/some.yaml', 'anything: here\n'));
    expect([situation.version, situation.reasoning]).toEqual([before.version, before.reasoning]);
  });
});

describe('plans, places, card and training material', () => {
  it('are all there in the base supplied', () => {
    expect(Object.keys(loadBooks(texts, knowledge, vocabulary))).toEqual([
      'plans',
      'places',
      'card',
      'training',
    ]);
  });

  it('may be left out', () => {
    const books = ['plans.yaml', 'places.yaml', 'card.yaml', 'practice.yaml', 'glossary.yaml'];
    const without = new Map(
      [...texts].filter(([path]) => !books.includes(path) && !path.startsWith('lessons/')),
    );
    expect(loadBooks(without, knowledge, vocabulary)).toEqual({});
  });

  it('are checked against the rules, all problems told at once', () => {
    const files = changed('places.yaml', 'nozzle-worn', 'nozzle-warn');
    files.set(
      'plans.yaml',
      (texts.get('plans.yaml') ?? '').replaceAll('do: lower-twist', 'do: lower-twists'),
    );
    files.delete('glossary.yaml');
    const problems = problemsOf(files).join('\n');
    expect(problems).toMatch(/places\.yaml [a-z-]+\.causes: there is no cause "nozzle-warn"/);
    expect(problems).toContain('there is no action "lower-twists"');
    expect(problems).toContain('glossary.yaml : this file is missing or cannot be read');
  });
});
