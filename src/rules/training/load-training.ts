import { readCaseObject } from '../case/case-file.js';
import type { CaseVocabulary } from '../case/types.js';
import { KnowledgeError, type KnowledgeProblem } from '../knowledge/errors.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { KnowledgeFiles } from '../knowledge/knowledge-files.js';
import { openReader, readById, readOne } from '../knowledge/load.js';
import { type Glossary, glossarySchema } from './glossary-schema.js';
import { type Lesson, lessonSchema } from './lesson-schema.js';
import { playSetup } from './play.js';
import { readPracticeCode } from './practice-code.js';
import { type PracticeBook, practiceSchema } from './practice-schema.js';

/** What the training room teaches with. */
export interface TrainingMaterial {
  readonly practice: PracticeBook;
  readonly glossary: Glossary;
  /** In the order of the course. */
  readonly lessons: readonly Lesson[];
}

/**
 * Reads glossary, lessons and practice book below `root` and checks them against the rest of the knowledge.
 *
 * @param root the knowledge-base folder
 * @throws KnowledgeError with every problem: file, line, field and what is allowed
 */
export function loadTraining(
  root: KnowledgeFiles,
  knowledge: Knowledge,
  vocabulary: CaseVocabulary,
): TrainingMaterial {
  const reader = openReader(root);
  const practice = readOne(reader, 'practice.yaml', practiceSchema);
  const glossary = readOne(reader, 'glossary.yaml', glossarySchema);
  const lessons = [...readById(reader, 'lessons', lessonSchema).values()].sort((a, b) => a.place - b.place);
  const problems: KnowledgeProblem[] = [...reader.problems];
  const say = (file: string, field: string, message: string) =>
    problems.push({ file, line: undefined, field, message });
  for (const cause of Object.keys(practice?.['setup-faults'] ?? {}))
    if (!knowledge.book.causes.has(cause))
      say('practice.yaml', `setup-faults.${cause}`, 'is not a cause of the knowledge base');
  for (const [n, yarn] of (practice?.yarns ?? []).entries())
    for (const count of yarn.counts) {
      const reading = readCaseObject(
        { setup: { fibre: yarn.fibre, count, 'end-use': yarn['end-use'] } },
        vocabulary,
      );
      if (!reading.ok)
        for (const problem of reading.problems)
          say('practice.yaml', `yarns.${n} ${problem.field}`, problem.message);
    }
  for (const [n, part] of (practice?.['first-hour']?.parts ?? []).entries()) {
    const field = `first-hour.parts.${n}`;
    const named = [part.lesson, part.case, part.replay].filter((one) => one !== undefined);
    if (named.length !== 1) say('practice.yaml', field, 'must name one of lesson, case and replay');
    if (part.lesson !== undefined && !lessons.some((lesson) => lesson.id === part.lesson))
      say('practice.yaml', `${field}.lesson`, `"${part.lesson}" is not a lesson`);
    const code = part.case ?? part.replay;
    if (code !== undefined && readPracticeCode(code) === undefined)
      say('practice.yaml', field, `"${code}" is not the number of a practice case, such as 2-7`);
    for (const check of part.checks ?? [])
      if (!knowledge.book.checks.has(check))
        say('practice.yaml', `${field}.checks`, `"${check}" is not a check of the knowledge base`);
  }
  for (const [id, entry] of Object.entries(glossary ?? {}))
    for (const other of entry.see ?? [])
      if (glossary?.[other] === undefined)
        say('glossary.yaml', `${id}.see`, `"${other}" is not in the glossary`);
  for (const lesson of lessons) {
    const file = `lessons/${lesson.id}.yaml`;
    if (!knowledge.book.mechanisms.has(lesson.mechanism))
      say(file, 'mechanism', `"${lesson.mechanism}" is not a mechanism of the knowledge base`);
    for (const value of lesson.play.values) {
      const reading = readCaseObject({ setup: playSetup(lesson, value) }, vocabulary);
      if (!reading.ok)
        for (const problem of reading.problems)
          say(file, `play.values ${value}`, `${problem.field} ${problem.message}`);
    }
  }
  if (problems.length > 0 || practice === undefined || glossary === undefined)
    throw new KnowledgeError(problems);
  return { practice, glossary, lessons };
}
