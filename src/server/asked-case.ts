import { language } from '../language/scope.js';
import type { CaseVocabulary } from '../rules/case/types.js';
import type { Mill } from '../rules/knowledge/load-mill.js';
import { type BenchState, readState } from './bench-state.js';
import { type CaseForm, readCaseForm } from './case-form.js';

/** A case that an address holds. */
export interface AskedCase {
  readonly state: BenchState;
  readonly form: CaseForm;
}

/** Addresses kept; a supervisor's tap brings two or three requests with the same one. */
const MOST = 200;
/** Longer ones, with notes and many measurements, are rare. */
const LONGEST = 4000;

/**
 * Reads cases from addresses. The last ones read are kept: ranking, next checks and cause of one case are asked for one
 * after the other, and reading a case takes longer than anything else on the way to its ranking.
 */
export function startReading(mill: Mill, vocabulary: CaseVocabulary): (url: string) => AskedCase {
  const kept = new Map<string, AskedCase>();
  return (url) => {
    const { search, searchParams } = new URL(url);
    // Problems and warnings are texts.
    const key = `${language()} ${search}`;
    const known = kept.get(key);
    // The card of the frame stands in for what the address leaves out.
    if (known !== undefined && known.state.frame === mill.get(searchParams.get('frame') ?? '')) return known;
    const state = readState(searchParams, mill);
    const asked = { state, form: readCaseForm(state, vocabulary) };
    if (key.length > LONGEST) return asked;
    kept.set(key, asked);
    for (const oldest of kept.keys()) {
      if (kept.size <= MOST) break;
      kept.delete(oldest);
    }
    return asked;
  };
}
