import type { CaseVocabulary } from '../../../src/rules/case/types.js';
import type { SetupKnowledge } from '../../../src/rules/case/usual-setup.js';
import { endUseSchema } from '../../../src/rules/knowledge/end-use-schema.js';
import { readFolder, readTable } from '../../spinning/knowledge.js';

/** Fibres and end uses as the product has them, the end uses checked against their schema. */
export const knowledge: SetupKnowledge = {
  endUses: new Map(
    Object.entries(readFolder('end-uses')).map(([id, value]) => [id, endUseSchema.parse(value)] as const),
  ),
  fibres: readTable().fibres,
};

/** A small vocabulary: the real fibres and end uses, a few symptoms and checks. */
export const vocabulary: CaseVocabulary = {
  symptoms: new Set(['end-breaks', 'fly-machine', 'low-tenacity', 'hairy', 'neps']),
  checks: new Map([
    ['broken-tail', new Set(['tapering', 'short-torn', 'particle', 'dusty'])],
    ['groove-look', new Set(['clean', 'even-dust', 'particle'])],
    ['insert-look', new Set(['as-fitted', 'missing', 'worn'])],
    ['part-exchange', new Set(['cured', 'no-effect', 'moves-with-part'])],
  ]),
  actions: new Set(['clean-rotor', 'raise-twist', 'replace-nozzle']),
  fibres: new Set(Object.keys(knowledge.fibres)),
  endUses: new Set(knowledge.endUses.keys()),
};
