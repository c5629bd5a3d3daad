import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import {
  dealCase,
  loadTraining,
  openTrainingRoom,
  type PracticeCase,
  type PracticeLevel,
  type TrainingRoom,
} from '../../../src/rules/training/index.js';

let shared: TrainingRoom | undefined;

/** The product's own training room, opened once a test file. */
export function trainingRoom(): TrainingRoom {
  if (shared === undefined) {
    const knowledge = loadKnowledge();
    const diagnostician = createDiagnostician(knowledge);
    shared = openTrainingRoom(
      diagnostician,
      loadTraining(defaultKnowledgeFolder(), knowledge, diagnostician.vocabulary),
    );
  }
  return shared;
}

/** Cases of all levels in turn, from the seeds given. */
export async function dealMany(seeds: Iterable<number>): Promise<PracticeCase[]> {
  const cases: PracticeCase[] = [];
  for (const seed of seeds)
    cases.push(await dealCase(trainingRoom(), { level: (1 + ((seed - 1) % 5)) as PracticeLevel, seed }));
  return cases;
}

/** Whole numbers from 1. */
export const upTo = (most: number): number[] => Array.from({ length: most }, (_, i) => i + 1);
