import {
  addFrame,
  addLot,
  addYarn,
  type DiagnosisToKeep,
  type Journal,
  openCase,
  recordStep,
  type StepInput,
} from '../../src/journal/index.js';
import type { GivenSetup } from '../../src/rules/case/types.js';
// Not from the engines: writers that are killed start with this file, and need no test runner.
import { by } from './who-writes.js';

/** A small mill: two frames of 8 positions, one yarn, two lots. */
export async function addSmallMill(journal: Journal): Promise<void> {
  const start = by('2026-01-01T00:00:00Z');
  for (const n of [1, 2])
    await addFrame(
      journal,
      {
        id: `frame-${n}`,
        name: `Frame ${n}`,
        positions: 8,
        sections: [
          { name: 'Left', first: 1, last: 4 },
          { name: 'Right', first: 5, last: 8 },
        ],
      },
      start,
    );
  await addYarn(
    journal,
    { id: 'weft-20', name: 'Cotton 20 Ne, weft', targets: { breaksPer1000: 90 } },
    start,
  );
  for (const n of [1, 2]) await addLot(journal, { id: `lot-${n}`, name: `Lot ${n}`, yarn: 'weft-20' }, start);
}

/** A diagnosis that ranks three causes. */
export const diagnosis = (a: number, b: number, c: number, version = 'v1'): DiagnosisToKeep => ({
  input: { setup: { fibre: 'cotton', count: '20 Ne' }, observations: { 'end-breaks': 'marked' } },
  diagnosis: {
    knowledgeVersion: version,
    causes: [
      { id: 'nozzle-worn', probability: a },
      { id: 'twist-too-low', probability: b },
      { id: 'tube-dirty', probability: c },
    ],
  },
});

/** A setup as the case reader would give it. */
export const given = (values: GivenSetup['values'], typed: GivenSetup['typed'] = {}): GivenSetup => ({
  values,
  typed,
});

/** Opens a case and takes it through steps, one hour apart. */
export async function caseThrough(
  journal: Journal,
  fields: Parameters<typeof openCase>[1],
  openedAt: string,
  steps: readonly StepInput[],
) {
  let record = await openCase(journal, fields, by(openedAt));
  for (const [n, step] of steps.entries()) {
    const at = new Date(Date.parse(openedAt) + (n + 1) * 3_600_000).toISOString();
    record = await recordStep(journal, { id: record.id, seen: record.version }, step, by(at));
  }
  return record;
}

export const LOOKED: StepInput = {
  step: 'check-made',
  check: 'nozzle-look',
  outcomes: ['polished'],
  minutes: 5,
};
export const closedBy = (
  cause: string | null,
  how: 'by-look' | 'unconfirmed' | null,
  cost: { minutes?: number; rotorHours?: number; wasteKg?: number } = {},
  more: Partial<Extract<StepInput, { step: 'closed' }>> = {},
): StepInput => ({ step: 'closed', cause, how, cost, ...more });
