import { readCase } from '../../../src/rules/case/case-file.js';
import type { CaseInput } from '../../../src/rules/case/types.js';
import { createDiagnostician } from '../../../src/rules/diagnosis/diagnose.js';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';

export const knowledge = loadKnowledge();
export const diagnostician = createDiagnostician(knowledge);

/** Reads a case; a test with a case that cannot be read is wrong itself. */
export function caseOf(text: string): CaseInput {
  const reading = readCase(text, diagnostician.vocabulary);
  if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
  return reading.case;
}

export const KNIT_SETUP = `
setup:
  fibre: cotton
  staple: 28 mm
  count: 20 Ne
  twist: 3.5 alpha-e
  end-use: knitting
  rotor: {diameter: 33 mm, speed: 100000 rpm, groove: medium}
  nozzle: {surface: smooth, material: ceramic, radius: 4 mm, protrusion: 0.5 mm}
  tube: {bend: 40 deg, insert: none}
`;
/** A soft knitting yarn whose ends slip apart. */
export const KNIT = `${KNIT_SETUP}
observations: {end-breaks: marked}
findings: {broken-tail: tapering}
`;
export const WARP_SETUP = `
setup:
  fibre: cotton
  count: 84 tex
  twist: 4.8 alpha-e
  end-use: denim-warp
  rotor: {diameter: 40 mm, speed: 80000 rpm}
  nozzle: {surface: notched, notches: 8, material: ceramic, radius: 4 mm, protrusion: 0.5 mm}
  tube: {bend: 40 deg, insert: none}
`;
export const POLYESTER_SETUP = `
setup:
  fibre: polyester
  count: 20 tex
  twist: 3.3 alpha-e
  end-use: knitting
  rotor: {diameter: 33 mm, speed: 110000 rpm}
  nozzle: {surface: smooth, material: ceramic, radius: 4 mm, protrusion: 0.5 mm}
  tube: {bend: 40 deg, insert: none}
`;
