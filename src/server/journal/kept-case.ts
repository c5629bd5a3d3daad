import type { CaseDetail, FullDiagnosis, KeptDiagnosis } from '../../journal/index.js';
import { readCaseObject } from '../../rules/case/case-file.js';
import type { CaseInput, CaseVocabulary } from '../../rules/case/types.js';
import type { Diagnosis, Ranking } from '../../rules/index.js';
import type { Mill } from '../../rules/knowledge/load-mill.js';
import { readState, stateOfCase, writeQuery } from '../bench-state.js';
import { mergeTried, unweighedTrials } from './kept-trials.js';

/** A kept diagnosis as the product's own ranking; undefined when it holds no more than the least. */
export function asRanking(kept: KeptDiagnosis): Ranking | undefined {
  const [first] = kept.causes;
  return first !== undefined && 'ledger' in first && 'summary' in kept ? (kept as Ranking) : undefined;
}

/** A kept ranking that has checks and actions as well. */
export function asDiagnosis(kept: KeptDiagnosis): Diagnosis | undefined {
  return asRanking(kept) !== undefined && 'checks' in kept && 'actions' in kept
    ? (kept as unknown as Diagnosis)
    : undefined;
}

/** The findings that the steps of a case have brought since it was opened, in the shape of a case file. */
export function findingsOf(record: CaseDetail): Record<string, unknown> {
  const findings: Record<string, unknown> = {};
  const exchange: Record<string, string> = {};
  for (const { data } of record.steps) {
    if (data.step !== 'check-made' || data.outcomes.length === 0) continue;
    if (data.check !== 'part-exchange') {
      findings[data.check] = data.outcomes.length === 1 ? data.outcomes[0] : [...data.outcomes];
      continue;
    }
    for (const outcome of data.outcomes) {
      const [part = '', result = ''] = outcome.split('.');
      exchange[part] = result;
    }
  }
  return Object.keys(exchange).length === 0 ? findings : { ...findings, 'part-exchange': exchange };
}

/** A kept case read by today's rules; what they no longer know is left out and named. */
export function readKept(
  input: Readonly<Record<string, unknown>>,
  vocabulary: CaseVocabulary,
): { readonly case: CaseInput | undefined; readonly leftOut: readonly string[] } {
  const object = structuredClone(input) as Record<string, unknown>;
  const leftOut: string[] = [];
  for (let round = 0; round < 20; round++) {
    const reading = readCaseObject(object, vocabulary, { partial: true });
    if (reading.ok) return { case: reading.case, leftOut };
    const [problem] = reading.problems;
    if (problem === undefined || !remove(object, problem.field)) break;
    leftOut.push(problem.field);
  }
  return { case: undefined, leftOut };
}

/** Takes a dotted field, or the group it lies in, out. */
function remove(object: Record<string, unknown>, field: string): boolean {
  const parts = field.split('.');
  let at = object;
  for (const key of parts.slice(0, -1)) {
    const next = Object.hasOwn(at, key) ? at[key] : undefined;
    if (typeof next !== 'object' || next === null || Array.isArray(next)) {
      const there = Object.hasOwn(at, key);
      delete at[key];
      return there;
    }
    at = next as Record<string, unknown>;
  }
  const last = parts.at(-1) ?? '';
  if (!Object.hasOwn(at, last)) return false;
  delete at[last];
  return true;
}

/** The last kept input of a case with what was found and tried since. */
export function inputWithFindings(kept: FullDiagnosis, record: CaseDetail): Record<string, unknown> {
  const known = (kept.input.findings ?? {}) as Record<string, unknown>;
  const found = findingsOf(record);
  const parts = { ...groupOf(known, 'part-exchange'), ...groupOf(found, 'part-exchange') };
  const findings = {
    ...known,
    ...found,
    ...(Object.keys(parts).length === 0 ? {} : { 'part-exchange': parts }),
  };
  const tried = mergeTried(kept.input.tried, record);
  return {
    ...kept.input,
    ...(Object.keys(findings).length === 0 ? {} : { findings }),
    ...(Object.keys(tried).length === 0 ? {} : { tried }),
  };
}

/** How many findings and results on record the last kept diagnosis did not know, or knew otherwise. */
export function unweighedFindings(kept: FullDiagnosis, record: CaseDetail): number {
  const known = flatFindings((kept.input.findings ?? {}) as Record<string, unknown>);
  const found = [...flatFindings(findingsOf(record))].filter(([name, value]) => known.get(name) !== value);
  return found.length + unweighedTrials(kept.input.tried, record);
}

const groupOf = (findings: Record<string, unknown>, name: string): Record<string, unknown> =>
  (findings[name] ?? {}) as Record<string, unknown>;

/** Findings by name, parts exchanged one by one; values as text, so that they can be held against each other. */
function flatFindings(findings: Record<string, unknown>): Map<string, string> {
  return new Map(
    Object.entries(findings).flatMap(([name, value]): [string, string][] =>
      name === 'part-exchange'
        ? Object.entries(groupOf(findings, name)).map(([part, result]) => [`${name}.${part}`, String(result)])
        : [[name, (Array.isArray(value) ? [...value].sort() : [value]).join(',')]],
    ),
  );
}

/** The bench with a case on it, on its frame, so that what is added can be kept with the case. */
export function benchQuery(
  input: CaseInput,
  mill: Mill,
  record?: { readonly id: string; readonly frame: string | null; readonly state: string },
): string {
  const params = new URLSearchParams(writeQuery(stateOfCase(input)));
  if (record?.frame != null && mill.has(record.frame)) params.set('frame', record.frame);
  if (record !== undefined && record.state !== 'closed') params.set('case', record.id);
  return writeQuery(readState(params, mill));
}
