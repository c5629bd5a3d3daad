import type { CaseInput, CaseVocabulary } from './case/types.js';
import type { Diagnosis, Ranking, SetupReport } from './diagnosis/types.js';
import type { Knowledge } from './knowledge/knowledge.js';

/** Answers cases from one loaded knowledge base. What is kept between calls only saves
 * work: the same case always gets the same answer, whatever was asked before. */
export interface Diagnostician {
  readonly knowledge: Knowledge;
  readonly vocabulary: CaseVocabulary;
  /** Causes with ledgers and chains; quick. */
  rank(input: CaseInput): Promise<Ranking>;
  /** The ranking with checks and actions. */
  diagnose(input: CaseInput): Promise<Diagnosis>;
  /** The computed state of the case's setup alone. */
  report(input: CaseInput): Promise<SetupReport>;
}
