import type { KillKind } from './kind.js';
import { everything, STEPWISE } from './stepwise.js';
import { backingUp, demo, importing, moving, restoring, upgrading } from './whole.js';

/** What is done whole or not at all. */
const WHOLE: Readonly<Record<string, KillKind>> = {
  import: importing,
  move: moving,
  restore: restoring,
  backup: backingUp,
  upgrade: upgrading,
  'demonstration mill': demo,
};

/** The kinds of a short test: every kind of write is among them. */
export const SHORT = ['everything', ...Object.keys(WHOLE)];

/** Every kind of write. */
export const KINDS: Readonly<Record<string, KillKind>> = { everything, ...STEPWISE, ...WHOLE };
