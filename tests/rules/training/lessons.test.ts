import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readCaseObject } from '../../../src/rules/case/case-file.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import { KnowledgeError } from '../../../src/rules/knowledge/errors.js';
import { defaultKnowledgeFolder } from '../../../src/rules/knowledge/load-knowledge.js';
import { loadTraining, playSetup } from '../../../src/rules/training/index.js';
import { trainingRoom } from './fixture.js';

const { material, vocabulary, reasoner } = trainingRoom();
const diagnostician = createDiagnostician(reasoner.knowledge);

const computed = async (lesson: (typeof material.lessons)[number], value: string | number) => {
  const reading = readCaseObject({ setup: playSetup(lesson, value) }, vocabulary);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return (await diagnostician.report(reading.case)).computed;
};

describe('lessons', () => {
  it('cover the mechanisms of the course in its order', () => {
    expect(material.lessons.map((lesson) => lesson.mechanism)).toEqual([
      'false-twist',
      'binding-in',
      'draw-off-tension',
      'twist-retention',
      'surface-raising',
      'wrappers',
      'groove-deposit',
    ]);
  });

  it.each(material.lessons.map((lesson) => [lesson.id, lesson] as const))(
    '%s is short, has three questions with one right answer each, and says why',
    (_, lesson) => {
      const words = [lesson.lead, ...lesson.steps.flatMap((step) => [step.title, step.text])]
        .join(' ')
        .split(/\s+/).length;
      expect(words).toBeGreaterThanOrEqual(200);
      expect(words).toBeLessThanOrEqual(350);
      for (const question of lesson.questions) {
        expect(question.answers.filter((answer) => answer.right === true)).toHaveLength(1);
        const texts = question.answers.map((answer) => answer.text);
        expect(new Set(texts).size).toBe(texts.length);
      }
    },
  );

  it('let the right answer stand in different places', () => {
    const places = material.lessons.flatMap((lesson) =>
      lesson.questions.map((question) => question.answers.findIndex((answer) => answer.right === true)),
    );
    expect(new Set(places).size).toBeGreaterThan(1);
  });

  // What a lesson says one sees must be what the model shows: quantity, and whether it rises along the values.
  it.each([
    ['false-twist', 'false-twist', 'rises'],
    ['false-twist', 'twist-margin', 'rises'],
    ['false-twist', 'hairiness', 'rises'],
    ['binding-in', 'binding-in-length', 'rises'],
    ['binding-in', 'wrapper-share', 'rises'],
    ['binding-in', 'twist-margin', 'rises'],
    ['tension', 'arm-tension-per-tex', 'rises'],
    ['tension', 'tension-share', 'rises'],
    ['tension', 'tension-margin', 'falls'],
    ['twist-retention', 'arm-twist', 'rises'],
    ['twist-retention', 'twist-margin', 'rises'],
    ['twist-retention', 'fly', 'rises'],
    ['surface-raising', 'hairiness', 'rises'],
    ['surface-raising', 'fly', 'rises'],
    ['surface-raising', 'softness', 'rises'],
    ['wrappers', 'wrapper-share', 'falls'],
    ['wrappers', 'binding-in-length', 'rises'],
    ['groove-deposits', 'groove-dirt', 'rises'],
  ])('%s: %s %s from the first value to the last', async (id, quantity, way) => {
    const lesson = material.lessons.find((one) => one.id === id);
    if (lesson === undefined) throw new Error(`no lesson ${id}`);
    expect(lesson.play.watch).toContain(quantity);
    const [first, last] = [lesson.play.values[0] ?? '', lesson.play.values.at(-1) ?? ''];
    const [before, after] = [await computed(lesson, first), await computed(lesson, last)];
    const [a = 0, b = 0] = [before[quantity]?.value, after[quantity]?.value];
    if (way === 'rises') expect(b).toBeGreaterThan(a);
    else expect(b).toBeLessThan(a);
  });
});

describe('the glossary', () => {
  it('has some sixty terms, each spelling once', () => {
    const entries = Object.values(material.glossary);
    expect(entries.length).toBeGreaterThanOrEqual(60);
    const spellings = entries.flatMap((entry) => [entry.term, ...(entry.forms ?? [])]);
    expect(spellings.filter((one, i) => spellings.indexOf(one) !== i)).toEqual([]);
  });

  it('does not explain a term by itself', () => {
    for (const entry of Object.values(material.glossary))
      expect(entry.plain.toLowerCase().split(/\W+/), entry.term).not.toContain(entry.term.toLowerCase());
  });
});

describe('loading', () => {
  const root = mkdtempSync(join(tmpdir(), 'peelpoint-training-'));
  afterAll(() => rmSync(root, { recursive: true, force: true }));

  it('reports every mistake with its file', () => {
    const from = defaultKnowledgeFolder();
    for (const name of ['practice.yaml', 'glossary.yaml', 'lessons'])
      cpSync(join(from, name), join(root, name), { recursive: true });
    const change = (name: string, what: string, by: string) => {
      const text = readFileSync(join(root, name), 'utf8');
      expect(text).toContain(what);
      writeFileSync(join(root, name), text.replace(what, by));
    };
    change('practice.yaml', 'twist-too-low:', 'twist-to-low:');
    change('glossary.yaml', 'see: [groove, nozzle]', 'see: [grove, nozzle]');
    change('lessons/tension.yaml', 'mechanism: draw-off-tension', 'mechanism: pull');
    change('lessons/tension.yaml', 'fibre: cotton', 'fibre: flax-ish');
    try {
      loadTraining(root, reasoner.knowledge, vocabulary);
      expect.unreachable();
    } catch (error) {
      if (!(error instanceof KnowledgeError)) throw error;
      const places = error.problems.map((problem) => `${problem.file} ${problem.field}`).join('\n');
      expect(places).toContain('practice.yaml setup-faults.twist-to-low');
      expect(places).toContain('glossary.yaml rotor.see');
      expect(places).toContain('lessons/tension.yaml mechanism');
      expect(places).toContain('lessons/tension.yaml play.values');
    }
  });
});
