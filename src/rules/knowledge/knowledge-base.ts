import type { Action, Basis, Cause, Check, Condition, Mechanism, Symptom } from './schema.js';

/** A caution, raised by the actions and checks that name it or by its own condition. */
export interface Caution {
  readonly text: string;
  readonly when?: Condition | undefined;
  readonly basis: Basis;
}

/** A publication; only one that was `read` may be shown as a citation. */
export interface Source {
  readonly cite: string;
  readonly address?: string | undefined;
  readonly seen: 'read' | 'memory';
  readonly note?: string | undefined;
}

/** The causal graph and what hangs on it: the part of the knowledge base that rules are made of. */
export interface RuleBook {
  readonly causes: ReadonlyMap<string, Cause>;
  readonly mechanisms: ReadonlyMap<string, Mechanism>;
  readonly symptoms: ReadonlyMap<string, Symptom>;
  readonly checks: ReadonlyMap<string, Check>;
  readonly actions: ReadonlyMap<string, Action>;
  readonly cautions: ReadonlyMap<string, Caution>;
  readonly sources: ReadonlyMap<string, Source>;
}
