import { existsSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { KnowledgeError } from '../rules/knowledge/errors.js';
import type { Knowledge } from '../rules/knowledge/knowledge.js';
import { type Given, optionText } from './command.js';
import { argumentError, InputError } from './errors.js';
import { sourceName } from './source.js';

/*
 * The engine is imported when a command needs it: help and unit conversion start without it.
 */

/** The folder of the knowledge base to use: that of `--knowledge`, or the one supplied. */
export async function knowledgeFolder(given: Given): Promise<string> {
  const named = optionText(given, 'knowledge');
  if (named !== undefined) return existingKnowledgeFolder('--knowledge', named);
  const { defaultKnowledgeFolder } = await import('../rules/knowledge/load-knowledge.js');
  return defaultKnowledgeFolder();
}

/** @throws InputError when the folder does not exist or holds no causes */
export function existingKnowledgeFolder(field: string, folder: string): string {
  const isFolder = existsSync(folder) && statSync(folder).isDirectory();
  if (!isFolder || !existsSync(join(folder, 'causes'))) {
    throw argumentError(
      field,
      folder,
      isFolder ? 'has no folder "causes" in it' : existsSync(folder) ? 'is not a folder' : 'does not exist',
      ['the folder of a knowledge base, with its folders causes, symptoms, checks and so on'],
    );
  }
  return folder;
}

/** @throws InputError with every problem when the knowledge base cannot be used */
export async function openKnowledge(given: Given): Promise<Knowledge> {
  return openKnowledgeFolder(await knowledgeFolder(given));
}

/** Problems of knowledge-base files, told as problems of the input. */
export function unusableFiles(what: string, error: KnowledgeError, advice?: string): InputError {
  return new InputError(
    what,
    error.problems.map((problem) => ({
      field: problem.field === '' ? problem.file : `${problem.file} ${problem.field}`,
      value: '',
      message: problem.message,
      allowed: [],
      ...(problem.line === undefined ? {} : { line: problem.line }),
    })),
    advice,
  );
}

/** @throws InputError with every problem when the knowledge base in that folder cannot be used */
export async function openKnowledgeFolder(folder: string): Promise<Knowledge> {
  const { loadKnowledge } = await import('../rules/knowledge/load-knowledge.js');
  const { KnowledgeError } = await import('../rules/knowledge/errors.js');
  try {
    return loadKnowledge(folder);
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    throw unusableFiles('the knowledge base cannot be used', error, 'See "peelpoint knowledge check".');
  }
}

/** The service that answers cases. */
export async function openDiagnostician(given: Given): Promise<Diagnostician> {
  const knowledge = await openKnowledge(given);
  const { createDiagnostician } = await import('../rules/diagnosis/diagnose.js');
  return createDiagnostician(knowledge);
}

/**
 * Interprets the text of a case file.
 * @param file its name on the command line, for messages
 * @throws InputError with every problem of the text
 */
export async function interpretCase(
  text: string,
  file: string,
  diagnostician: Diagnostician,
): Promise<CaseInput> {
  const { readCase } = await import('../rules/case/case-file.js');
  const reading = readCase(text, diagnostician.vocabulary);
  if (reading.ok) return reading.case;
  throw new InputError(`${sourceName(file)} cannot be used`, reading.problems);
}
