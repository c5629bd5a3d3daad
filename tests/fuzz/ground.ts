import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder } from '../../src/rules/knowledge/load-knowledge.js';
import { loadTraining, openTrainingRoom } from '../../src/rules/training/index.js';
import { loadBase } from '../../src/server/loaded-base.js';
import type { Ground } from './parser-targets.js';

/** What the readers stand on: the product's own knowledge. */
export function openGround(): Ground {
  const { knowledge, mill } = loadBase(defaultKnowledgeFolder());
  const diagnostician = createDiagnostician(knowledge);
  const { vocabulary } = diagnostician;
  const room = openTrainingRoom(diagnostician, loadTraining(defaultKnowledgeFolder(), knowledge, vocabulary));
  return { vocabulary, mill, room };
}
