import type { TrainingRoom } from '../../rules/training/index.js';
import type { Given } from '../command.js';
import { knowledgeFolder, openDiagnostician, unusableFiles } from '../engine.js';
import { InputError } from '../errors.js';

/** Opens the training room on the knowledge base asked for. */
export async function openRoom(given: Given): Promise<TrainingRoom> {
  const diagnostician = await openDiagnostician(given);
  const { loadTraining, openTrainingRoom } = await import('../../rules/training/index.js');
  const { KnowledgeError } = await import('../../rules/knowledge/errors.js');
  try {
    const material = loadTraining(
      await knowledgeFolder(given),
      diagnostician.knowledge,
      diagnostician.vocabulary,
    );
    return openTrainingRoom(diagnostician, material);
  } catch (error) {
    if (!(error instanceof KnowledgeError)) throw error;
    throw unusableFiles('the training material cannot be used', error);
  }
}

/** Runs a step of the training room; its errors become problems of the input. */
export async function asInput<Result>(name: string, step: () => Promise<Result>): Promise<Result> {
  const { TrainingError } = await import('../../rules/training/index.js');
  try {
    return await step();
  } catch (error) {
    if (!(error instanceof TrainingError)) throw error;
    const problems =
      error.problems.length > 0
        ? error.problems
        : [{ field: '', value: '', message: error.message, allowed: [] }];
    throw new InputError(`${name} cannot be used`, problems);
  }
}
