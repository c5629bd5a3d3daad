import { readCase } from '../../../src/rules/case/case-file.js';
import type { CaseInput } from '../../../src/rules/case/types.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../../src/rules/diagnostician.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';

let shared: Diagnostician | undefined;

/** The product's own diagnostician, made once per test file. */
export function diagnostician(): Diagnostician {
  shared ??= createDiagnostician(loadKnowledge());
  return shared;
}

/** Reads a case text that must be in order. */
export function caseOf(text: string): CaseInput {
  const reading = readCase(text, diagnostician().vocabulary, { partial: true });
  if (!reading.ok)
    throw new Error(reading.problems.map((problem) => `${problem.field}: ${problem.message}`).join('\n'));
  return reading.case;
}

/** A knitting frame run with low twist, a smooth nozzle and no insert. */
export const LOW_TWIST_SMOOTH = `
setup:
  fibre: cotton
  count: 20 Ne
  twist: 3.1 alpha-e
  end-use: knitting
  rotor: {diameter: 33 mm, speed: 95000 rpm}
  nozzle: {surface: smooth, material: ceramic}
  tube: {insert: none}
observations: {end-breaks: marked, hairy: absent, fly-machine: absent}
scope: frame
`;

/** The same signs on one position of a frame with inserts, since the cleaning round. */
export const ONE_POSITION_AFTER_CLEANING = `
setup:
  fibre: cotton
  count: 20 Ne
  twist: 3.1 alpha-e
  end-use: knitting
  rotor: {diameter: 33 mm, speed: 95000 rpm}
  nozzle: {surface: smooth, material: ceramic}
  tube: {insert: 2-groove}
observations: {end-breaks: marked, hairy: absent, fly-machine: absent}
scope: position
onset: since-change
changed: [cleaning-round]
`;

/** Causes with their probability, likeliest first. */
export const order = (causes: readonly { id: string; probability: number }[]) =>
  causes.map((cause) => cause.id);
