import type { CaseFile, DemoEngine } from '../../src/journal/index.js';
import { readCaseObject } from '../../src/rules/case/case-file.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { loadMill } from '../../src/rules/knowledge/load-mill.js';

/** The product's own engine, cards and causes as the demo generator asks for them. */
export function productEngine(): DemoEngine {
  const knowledge = loadKnowledge();
  const diagnostician = createDiagnostician(knowledge);
  const { vocabulary } = diagnostician;
  const { book } = knowledge;
  return {
    frames: [...loadMill('knowledge-base', vocabulary).values()],
    causes: [...book.causes.values()].map((cause) => ({
      id: cause.id,
      family: cause.family,
      base: cause.prior.base,
      examples: (cause.examples ?? [])
        .filter((example) => example.expect === 'first' || example.expect === 'first-three')
        .map((example) => example.given as CaseFile),
      actions: (cause.actions ?? []).map((action) => action.do),
    })),
    symptomLabel: (id) => book.symptoms.get(id)?.label ?? id,
    readSetup: (setup) => {
      const reading = readCaseObject({ setup }, vocabulary, { partial: true });
      return reading.ok ? reading.case.given : undefined;
    },
    rank: async (file) => {
      const reading = readCaseObject(file, vocabulary);
      return reading.ok ? diagnostician.rank(reading.case) : undefined;
    },
  };
}
