import type { FibreEntry, ParameterTable } from '../../spinning/parameters.js';
import type { EndUse } from './end-use-schema.js';
import type { Judgements } from './judgement-schema.js';
import type { RuleBook } from './knowledge-base.js';
import type { Translations } from './load-translations.js';

/** Everything the product knows, loaded and checked. */
export interface Knowledge {
  /** Hash of all files but situations and demonstration mill: the same version answers the same case alike. */
  readonly version: string;
  /**
   * Hash of the files that rankings rest on. Two versions that share it rank every case alike; they differ in plans,
   * places, card or training material only.
   */
  readonly reasoning: string;
  readonly book: RuleBook;
  readonly judgements: Judgements;
  readonly fibres: ReadonlyMap<string, FibreEntry>;
  readonly endUses: ReadonlyMap<string, EndUse>;
  readonly parameters: ParameterTable;
  /** Its texts in other languages; none unless given. */
  readonly translations?: Translations;
}
