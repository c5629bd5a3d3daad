import { say } from '../../language/say.js';
import type { Entry } from '../entries.js';
import { JournalError } from '../errors.js';
import type { ComplaintState, ComplaintStep, Fixed } from './steps.js';

/** A complaint as its steps leave it. */
export interface ComplaintStanding {
  readonly state: ComplaintState;
  readonly customer: string;
  readonly fabricFault: string;
  readonly receivedAt: string;
  readonly claimedKg: number | null;
  readonly lot: string | null;
  readonly yarn: string | null;
  readonly spunFrom: string | null;
  readonly spunUntil: string | null;
  readonly frames: readonly string[];
  readonly cases: readonly string[];
  readonly rootCause: {
    readonly cause: string | null;
    readonly case: string | null;
    readonly text: string;
  } | null;
  readonly containment: string;
  readonly corrective: string;
  readonly preventive: string;
  readonly verification: { readonly fixed: Fixed; readonly text: string; readonly at: string } | null;
  readonly closedAt: string | null;
}

/** Runs a complaint's entries. @throws JournalError `refused` for a step that cannot be taken where it stands */
export function replayComplaint(entries: readonly Pick<Entry, 'at' | 'data'>[]): ComplaintStanding {
  const [first, ...rest] = entries;
  const logged = first?.data as ComplaintStep | undefined;
  if (logged === undefined || logged.step !== 'logged') throw refused(say('refused.complaint-begins'));
  const { step: _, note: __, ...fields } = logged;
  let now: ComplaintStanding = {
    ...fields,
    state: 'open',
    rootCause: null,
    containment: '',
    corrective: '',
    preventive: '',
    verification: null,
    closedAt: null,
  };
  for (const { at, data } of rest) {
    const step = data as ComplaintStep;
    if (now.closedAt !== null && !['reopened', 'noted', 'photo-added', 'photo-withdrawn'].includes(step.step))
      throw refused(say('refused.complaint-closed'));
    now = apply(now, step, at);
  }
  return { ...now, state: stateOf(now) };
}

function apply(now: ComplaintStanding, step: ComplaintStep, at: string): ComplaintStanding {
  switch (step.step) {
    case 'logged':
      throw refused(say('refused.complaint-logged'));
    case 'changed': {
      const { step: _, ...given } = step;
      const changed = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
      return { ...now, ...changed };
    }
    case 'linked':
      return { ...now, frames: [...new Set(step.frames)], cases: [...new Set(step.cases)] };
    case 'root-cause':
      return { ...now, rootCause: { cause: step.cause, case: step.case, text: step.text } };
    case 'containment':
    case 'corrective':
    case 'preventive':
      return { ...now, [step.step]: step.text };
    case 'verified':
      if (now.corrective === '') throw refused(say('refused.nothing-to-verify'));
      return { ...now, verification: { fixed: step.fixed, text: step.text, at } };
    case 'closed': {
      const missing = [
        ...(now.rootCause === null ? [say('refused.a-root-cause')] : []),
        ...(now.corrective === '' ? [say('refused.a-corrective')] : []),
        ...(now.verification === null ? [say('refused.a-verification')] : []),
      ];
      if (missing.length > 0 && step.missing === '')
        throw refused(say('refused.closing-needs', { what: missing.join(` ${say('words.and')} `) }));
      return { ...now, closedAt: at };
    }
    case 'reopened':
      if (now.closedAt === null) throw refused(say('refused.complaint-open'));
      return { ...now, closedAt: null, verification: null };
    default:
      return now;
  }
}

function stateOf(now: ComplaintStanding): ComplaintState {
  if (now.closedAt !== null) return 'closed';
  if (now.verification !== null) return 'verified';
  if (now.corrective !== '') return 'corrected';
  if (now.rootCause !== null) return 'traced';
  return now.containment === '' ? 'open' : 'contained';
}

const refused = (why: string): JournalError => new JournalError('refused', say('refused.because', { why }));
