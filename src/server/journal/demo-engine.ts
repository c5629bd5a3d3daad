import type { CaseFile, DemoEngine } from '../../journal/index.js';
import { readCaseObject } from '../../rules/case/case-file.js';
import type { Diagnostician } from '../../rules/diagnostician.js';
import type { Mill } from '../../rules/knowledge/load-mill.js';

/** The product's own cards, causes and engine as the generator of the invented mill asks for them. */
export function demoEngine(
  diagnostician: Diagnostician,
  mill: Mill,
  asked: () => void = () => {},
): DemoEngine {
  const { knowledge, vocabulary } = diagnostician;
  const { book } = knowledge;
  return {
    frames: [...mill.values()],
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
      asked();
      const reading = readCaseObject(file, vocabulary);
      return reading.ok ? diagnostician.rank(reading.case) : undefined;
    },
  };
}
