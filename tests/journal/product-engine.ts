import type { DemoEngine } from '../../src/journal/index.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { loadMill } from '../../src/rules/knowledge/load-mill.js';
import { demoEngine } from '../../src/server/journal/demo-engine.js';

/** The product's own engine, cards and causes, as the server hands them to the demo generator. */
export function productEngine(): DemoEngine {
  const diagnostician = createDiagnostician(loadKnowledge());
  return demoEngine(diagnostician, loadMill('knowledge-base', diagnostician.vocabulary));
}
