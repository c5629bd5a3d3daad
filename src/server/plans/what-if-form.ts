import { notationOf, pointNumber } from '../../language/number-input.js';
import { setupField } from '../../rules/case/setup-fields.js';
import type { CaseVocabulary, SetupPath } from '../../rules/case/types.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import type { BenchState } from '../bench-state.js';
import { type FieldProblem, readCaseForm } from '../case-form.js';

/** Settings that can be tried, in the order of the page. */
export const WHAT_IF_PATHS = [
  'twist',
  'rotor.speed',
  'rotor.diameter',
  'nozzle.surface',
  'nozzle.notches',
  'nozzle.radius',
  'nozzle.material',
  'nozzle.protrusion',
  'tube.bend',
  'tube.insert',
] as const satisfies readonly SetupPath[];
export type WhatIfPath = (typeof WHAT_IF_PATHS)[number];

/** What was typed, what it changes, and what cannot be read. */
export interface WhatIfForm {
  readonly typed: ReadonlyMap<WhatIfPath, string>;
  readonly changes: Partial<SpinningSetup>;
  readonly problems: readonly FieldProblem[];
}

const LONGEST = 60;

/** Reads the `to.…` fields of an address against the case in hand. A value that is there already changes nothing. */
export function readWhatIf(
  params: URLSearchParams,
  state: BenchState,
  central: SpinningSetup,
  vocabulary: CaseVocabulary,
): WhatIfForm {
  const notation = notationOf(params);
  const typed = new Map<WhatIfPath, string>();
  for (const path of WHAT_IF_PATHS) {
    const text = pointNumber((params.get(`to.${path}`) ?? '').trim().slice(0, LONGEST), notation);
    if (text !== '') typed.set(path, text);
  }
  // Notches are counted on a notched face only.
  if ((typed.get('nozzle.surface') ?? central.nozzleSurface) !== 'notched') typed.delete('nozzle.notches');
  const fields = new Map(state.fields);
  // The case's own problems are its own affair: only the tried fields are read anew.
  for (const [path, text] of typed) fields.set(`setup.${path}`, [text]);
  const read = readCaseForm({ ...state, fields }, vocabulary);
  const problems = read.problems.filter((problem) =>
    typed.has(problem.name.replace(/^setup\./, '') as WhatIfPath),
  );
  const changes: Record<string, unknown> = {};
  for (const path of typed.keys()) {
    const field = setupField(path);
    if (field === undefined || problems.some((problem) => problem.name === `setup.${path}`)) continue;
    const value = read.case.given.values[field.key];
    if (value === undefined || close(value, central[field.key])) continue;
    changes[field.key] = value;
  }
  if (changes.nozzleSurface === 'notched' && changes.notches === undefined)
    changes.notches = central.notches > 0 ? central.notches : 4;
  if (changes.nozzleSurface !== undefined && changes.nozzleSurface !== 'notched') changes.notches = 0;
  return { typed, changes: changes as Partial<SpinningSetup>, problems };
}

/** Equal but for what a box rounds away. */
function close(a: unknown, b: unknown): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= 6e-4 * Math.max(Math.abs(a), Math.abs(b), 0.01);
}
