import { readCaseObject } from '../rules/case/case-file.js';
import type { CaseInput, CaseProblem, CaseVocabulary } from '../rules/case/types.js';
import { type BenchState, toCaseObject } from './bench-state.js';

/** A problem with the control it belongs to. */
export interface FieldProblem extends CaseProblem {
  /** Name of the control on the page. */
  readonly name: string;
}

/** The case that the state makes, with what had to be left out because it cannot be read. */
export interface CaseForm {
  readonly case: CaseInput;
  readonly problems: readonly FieldProblem[];
}

/**
 * Reads the state as a case. Fields that cannot be read are reported and left out, so that the rest still gets its
 * answer; the pages say so.
 */
export function readCaseForm(state: BenchState, vocabulary: CaseVocabulary): CaseForm {
  const object = toCaseObject(state);
  const problems: FieldProblem[] = [];
  // A few rounds, since leaving a field out (the count) can show a problem elsewhere (a twist multiplier).
  for (let round = 0; round < 5; round++) {
    const reading = readCaseObject(object, vocabulary, { partial: true });
    if (reading.ok) return { case: reading.case, problems };
    for (const problem of reading.problems) {
      problems.push({ ...problem, name: controlName(problem.field) });
      leaveOut(object, problem.field);
    }
  }
  const empty = readCaseObject({}, vocabulary, { partial: true });
  if (!empty.ok) throw new Error('an empty case must be readable');
  return { case: empty.case, problems };
}

/** The control that a dotted field of the case file stands for: a list has one control, a fibre's share the blend's. */
function controlName(field: string): string {
  const parts = field.split('.');
  const [head = '', second = '', third = ''] = parts;
  if (head === 'setup' || head === 'before')
    return second === 'fibre' ? `${head}.fibre` : parts.slice(0, 3).join('.');
  if (head === 'measurements')
    return third === 'readings' ? `measurements.${second}.readings` : parts.join('.');
  if (head === 'findings' && second === 'part-exchange') return parts.slice(0, 3).join('.');
  return head === 'observations' || head === 'findings' || head === 'tried' ? `${head}.${second}` : head;
}

/** Takes the part of the case that a problem lies in out of it. */
function leaveOut(object: Record<string, unknown>, field: string): void {
  const parts = field.split('.');
  const depth =
    parts[0] === 'measurements' || parts[0] === 'observations' || parts[0] === 'tried'
      ? 2
      : parts[0] === 'findings' && parts[1] !== 'part-exchange'
        ? 2
        : parts[1] === 'fibre'
          ? 2
          : parts.length;
  const path = ['scope', 'onset', 'changed', 'title', 'note'].includes(parts[0] ?? '')
    ? parts.slice(0, 1)
    : parts.slice(0, depth);
  let at: Record<string, unknown> = object;
  for (const key of path.slice(0, -1)) {
    const next = Object.hasOwn(at, key) ? at[key] : undefined;
    if (typeof next !== 'object' || next === null) {
      // The group itself is at fault.
      delete object[parts[0] ?? ''];
      return;
    }
    at = next as Record<string, unknown>;
  }
  const last = path.at(-1) ?? '';
  if (Object.hasOwn(at, last)) delete at[last];
  else delete object[parts[0] ?? ''];
}
