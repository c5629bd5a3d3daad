import { say } from '../../language/say.js';
import type { Entry } from '../entries.js';
import { JournalError } from '../errors.js';
import { minutesBetween } from '../time.js';
import type { CaseState, CaseStep, CaseStepName, Confirmation } from './steps.js';

/** A step as it now counts: when and by whom it was recorded, and what corrected it. */
export interface CountedStep {
  readonly version: number;
  readonly at: string;
  readonly who: string;
  readonly data: CaseStep;
  /** Versions of the entries that corrected it, oldest first. */
  readonly corrections: readonly number[];
}

/** How a closed case ended. */
export interface Closure {
  readonly at: string;
  readonly outcome: 'confirmed' | 'suspected' | 'not-found';
  readonly cause: string | null;
  readonly contributing: readonly string[];
  readonly how: Confirmation | null;
  readonly symptomGone: boolean | null;
  readonly foundAt: string;
  readonly fixedAt: string;
  readonly note: string;
}

/** A case as its steps leave it. */
export interface CaseStanding {
  readonly state: CaseState;
  readonly title: string;
  readonly assignee: string;
  readonly openedAt: string;
  readonly frame: string | null;
  readonly position: number | null;
  readonly section: string | null;
  readonly lot: string | null;
  readonly yarn: string | null;
  readonly partHours: {
    readonly nozzle: number | null;
    readonly tube: number | null;
    readonly rotor: number | null;
  };
  readonly cost: { readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number };
  readonly checks: readonly string[];
  readonly closure: Closure | null;
}

/** Where each step leads from each state; a step missing from a state's row cannot be taken there. */
const LEADS: Readonly<Record<CaseState, Readonly<Partial<Record<CaseStepName, CaseState>>>>> = {
  open: { 'check-made': 'checking', 'action-taken': 'acting', closed: 'closed' },
  checking: { 'check-made': 'checking', 'action-taken': 'acting', closed: 'closed' },
  acting: { 'check-made': 'acting', 'action-taken': 'acting', 'trial-started': 'on-trial', closed: 'closed' },
  'on-trial': { 'check-made': 'on-trial', 'trial-finished': 'tried' },
  tried: {
    'check-made': 'checking',
    'action-taken': 'acting',
    'trial-started': 'on-trial',
    closed: 'closed',
  },
  closed: { reopened: 'open' },
};

/** Steps that can be recorded at any time and leave the state as it is. */
const ANY_TIME: readonly CaseStepName[] = ['noted', 'assigned', 'renamed', 'placed', 'cost-stated'];

/** Why a step cannot be taken, and what to do instead. */
type Refusal = 'trial-spoilt' | 'trial-already' | 'trial-running';
const REFUSALS: Readonly<Partial<Record<CaseState, Readonly<Partial<Record<CaseStepName, Refusal>>>>>> = {
  'on-trial': {
    'action-taken': 'trial-spoilt',
    'trial-started': 'trial-already',
    closed: 'trial-running',
  },
};

/** Steps that can be recorded from a state, for offering them. */
export function nextSteps(state: CaseState): readonly CaseStepName[] {
  return [
    ...(Object.keys(LEADS[state]) as CaseStepName[]),
    ...ANY_TIME,
    ...(state === 'closed' ? [] : ['diagnosed' as const]),
  ];
}

/** The steps that count: corrected ones in their corrected form, withdrawn ones left out. */
export function countedSteps(entries: readonly Entry[]): CountedStep[] {
  const steps = new Map<number, CountedStep | undefined>();
  /** Version of the original step that an entry corrects, however often it was corrected before. */
  const originals = new Map<number, number>();
  for (const entry of entries) {
    if (entry.supersedes === null) {
      steps.set(entry.version, {
        version: entry.version,
        at: entry.at,
        who: entry.who,
        data: entry.data as CaseStep,
        corrections: [],
      });
      originals.set(entry.version, entry.version);
      continue;
    }
    const original = originals.get(entry.supersedes);
    if (original === undefined) continue;
    originals.set(entry.version, original);
    const { replacement } = entry.data as { replacement: CaseStep | null };
    const old = steps.get(original);
    steps.set(
      original,
      replacement === null || old === undefined
        ? undefined
        : { ...old, data: replacement, corrections: [...old.corrections, entry.version] },
    );
  }
  return [...steps.values()].filter((step) => step !== undefined);
}

interface Spell {
  checks: number;
  actions: number;
  firstActionAt: string | null;
  trials: string[];
}
const newSpell = (): Spell => ({ checks: 0, actions: 0, firstActionAt: null, trials: [] });

/**
 * Runs a case's steps through its state machine.
 * @throws JournalError `refused` for a step that cannot be taken where it stands, saying why
 */
export function replayCase(steps: readonly CountedStep[]): CaseStanding {
  const [first, ...rest] = steps;
  if (first === undefined || first.data.step !== 'opened') throw refused(say('refused.case-begins'));
  const opened = first.data;
  let state: CaseState = 'open';
  let standing = {
    title: opened.title,
    assignee: opened.assignee,
    frame: opened.frame,
    position: opened.position,
    section: opened.section,
    lot: opened.lot,
    yarn: opened.yarn,
    partHours: opened.partHours,
  };
  const stated: { minutes: number | null; rotorHours: number | null; wasteKg: number | null } = {
    minutes: null,
    rotorHours: null,
    wasteKg: null,
  };
  let summedMinutes = 0;
  const checks = new Set<string>();
  let closure: Closure | null = null;
  let spell = newSpell();
  const takeCost = (cost: typeof stated) => {
    stated.minutes = cost.minutes ?? stated.minutes;
    stated.rotorHours = cost.rotorHours ?? stated.rotorHours;
    stated.wasteKg = cost.wasteKg ?? stated.wasteKg;
  };
  for (const { data, at } of rest) {
    state = follow(state, data.step);
    switch (data.step) {
      case 'check-made':
        spell.checks++;
        checks.add(data.check);
        summedMinutes += data.minutes ?? 0;
        break;
      case 'action-taken':
        spell.actions++;
        spell.firstActionAt ??= at;
        summedMinutes += data.minutes ?? 0;
        break;
      case 'trial-finished':
        spell.trials.push(data.verdict);
        break;
      case 'closed':
        closure = close(data, at, first.at, spell);
        takeCost(data.cost);
        break;
      case 'reopened':
        closure = null;
        spell = newSpell();
        break;
      case 'assigned':
        standing = { ...standing, assignee: data.assignee };
        break;
      case 'renamed':
        standing = { ...standing, title: data.title };
        break;
      case 'placed': {
        const { frame, position, section, lot, yarn, partHours } = data;
        standing = { ...standing, frame, position, section, lot, yarn, partHours };
        break;
      }
      case 'cost-stated':
        takeCost(data.cost);
        break;
    }
  }
  return {
    ...standing,
    state,
    openedAt: first.at,
    cost: {
      minutes: stated.minutes ?? summedMinutes,
      rotorHours: stated.rotorHours ?? 0,
      wasteKg: stated.wasteKg ?? 0,
    },
    checks: [...checks],
    closure,
  };
}

function follow(state: CaseState, step: CaseStepName): CaseState {
  if (step === 'opened') throw refused(say('refused.case-open'));
  if (ANY_TIME.includes(step)) return state;
  if (step === 'diagnosed') {
    if (state === 'closed') throw refused(say('refused.case-closed-diagnose'));
    return state;
  }
  const next = LEADS[state][step];
  if (next !== undefined) return next;
  const why = REFUSALS[state]?.[step];
  if (why !== undefined) throw refused(say(`refused.${why}`));
  if (state === 'closed') throw refused(say('refused.case-closed-step', { step }));
  if (step === 'trial-started') throw refused(say('refused.nothing-to-try'));
  if (step === 'trial-finished') throw refused(say('refused.no-trial'));
  throw refused(say('refused.cannot-follow', { step, state }));
}

function close(
  data: Extract<CaseStep, { step: 'closed' }>,
  at: string,
  openedAt: string,
  spell: Spell,
): Closure {
  const { cause, how, contributing, symptomGone, note } = data;
  if (cause === null && how !== null && how !== 'unconfirmed')
    throw refused(say('refused.confirmed-nothing', { how }));
  if (cause === null && contributing.length > 0) throw refused(say('refused.beside-root'));
  if (cause !== null && how === null) throw refused(say('refused.say-how'));
  if (cause !== null && contributing.includes(cause)) throw refused(say('refused.beside-itself', { cause }));
  if (how === 'by-trial' && !spell.trials.includes('better')) throw refused(say('refused.needs-trial'));
  if (how === 'by-part' && spell.checks + spell.actions === 0) throw refused(say('refused.needs-part'));
  if (how === 'by-look' && spell.checks === 0) throw refused(say('refused.needs-look'));
  const foundAt = data.foundAt ?? (cause === null ? at : (spell.firstActionAt ?? at));
  const fixedAt = data.fixedAt ?? at;
  for (const [message, time] of [
    ['refused.found-before', foundAt],
    ['refused.fixed-before', fixedAt],
  ] as const)
    if (minutesBetween(openedAt, time) < 0) throw refused(say(message, { time, opened: openedAt }));
  return {
    at,
    outcome: cause === null ? 'not-found' : how === 'unconfirmed' ? 'suspected' : 'confirmed',
    cause,
    contributing,
    how: cause === null ? null : how,
    symptomGone,
    foundAt,
    fixedAt,
    note,
  };
}

const refused = (why: string): JournalError => new JournalError('refused', say('refused.because', { why }));
