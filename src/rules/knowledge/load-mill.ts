import { readCaseObject } from '../case/case-file.js';
import type { CaseInput, CaseVocabulary } from '../case/types.js';
import { KnowledgeError, type KnowledgeProblem } from './errors.js';
import { isThere, type KnowledgeFiles } from './knowledge-files.js';
import { openReader, readById } from './load.js';
import { type MillFrame, millFrameSchema } from './mill-schema.js';

/** A frame whose card and example have been read as cases. */
export interface ReadFrame extends MillFrame {
  /** The card as a case that says nothing but the setup. */
  readonly card: CaseInput;
  /** The example as a case on this setup. */
  readonly example: CaseInput | undefined;
}

/** The frames of a mill by id, in the order of their ids. */
export type Mill = ReadonlyMap<string, ReadFrame>;

/**
 * Reads the demonstration mill below `root` and checks every card and example as a case file. A knowledge base of
 * one's own need not have one: then there are no frames.
 *
 * @param root the knowledge-base folder
 * @throws KnowledgeError listing every problem of every frame
 */
export function loadMill(root: KnowledgeFiles, vocabulary: CaseVocabulary): Mill {
  const folder = 'demo-mill/frames';
  if (!isThere(root, folder)) return new Map();
  const reader = openReader(root);
  const frames = readById(reader, folder, millFrameSchema);
  const problems: KnowledgeProblem[] = [...reader.problems];
  const mill = new Map<string, ReadFrame>();
  for (const [id, frame] of frames) {
    const read = (value: Record<string, unknown>, at: string): CaseInput | undefined => {
      const result = readCaseObject(value, vocabulary);
      if (result.ok) return result.case;
      for (const problem of result.problems)
        problems.push({
          file: `${folder}/${id}.yaml`,
          line: undefined,
          field: `${at}${problem.field}`,
          message: `${problem.message}; allowed: ${problem.allowed.join(', ')}`,
        });
      return undefined;
    };
    const card = read({ setup: frame.setup }, '');
    const example =
      frame.story === undefined
        ? undefined
        : read({ title: frame.story.title, setup: frame.setup, ...frame.story.case }, 'story.case ');
    if (card !== undefined) mill.set(id, { ...frame, card, example });
  }
  if (problems.length > 0) throw new KnowledgeError(problems);
  return mill;
}
