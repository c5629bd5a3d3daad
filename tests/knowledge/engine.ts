import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { defaultKnowledgeFolder, loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';

/** The real knowledge base and the real engine: nothing is stood in for. */
export const folder = defaultKnowledgeFolder();
export const knowledge = loadKnowledge(folder);
export const diagnostician = createDiagnostician(knowledge);
