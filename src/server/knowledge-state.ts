import type { KnowledgeProblem } from '../rules/knowledge/errors.js';
import type { GateState } from './journal/knowledge-gate.js';

/** Which knowledge the pages answer from, and what keeps newer files from being used. */
export interface KnowledgeState {
  readonly version: string;
  /** Since when it has been in use. */
  readonly since: Date;
  /** What is wrong with the files as they are now; empty while they are the ones in use. */
  readonly problems: readonly KnowledgeProblem[];
  /** A newer version that is being tried or held back. */
  readonly gate?: GateState;
}
