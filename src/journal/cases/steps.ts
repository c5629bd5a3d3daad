import { z } from 'zod';
import { amountSchema, idSchema, lineSchema, plainText, positionSchema, textSchema } from '../input.js';
import { instantSchema } from '../time.js';

/** Where a case stands. `tried` means that a trial has been finished and awaits a decision. */
export const CASE_STATES = ['open', 'checking', 'acting', 'on-trial', 'tried', 'closed'] as const;
export type CaseState = (typeof CASE_STATES)[number];

/** How a root cause was confirmed. */
export const CONFIRMATIONS = ['by-trial', 'by-part', 'by-look', 'unconfirmed'] as const;
export type Confirmation = (typeof CONFIRMATIONS)[number];

/** What came of an action, where somebody saw it without a trial. */
export const ACTION_RESULTS = ['helped', 'no-change'] as const;

/** How a trial ended. */
export const TRIAL_VERDICTS = ['better', 'no-change', 'worse', 'undecided'] as const;
export type TrialEnd = (typeof TRIAL_VERDICTS)[number];

const place = {
  frame: idSchema.nullable().default(null),
  position: positionSchema.nullable().default(null),
  section: lineSchema.nullable().default(null),
  lot: idSchema.nullable().default(null),
  yarn: idSchema.nullable().default(null),
};

/** Running hours of the parts when the case began. */
export const partHoursSchema = z.strictObject({
  nozzle: amountSchema.nullable().default(null),
  tube: amountSchema.nullable().default(null),
  rotor: amountSchema.nullable().default(null),
});

/** What a case has cost so far; each statement replaces the one before it. */
export const costSchema = z.strictObject({
  /** Working minutes. Left out: the sum of the minutes of checks and actions. */
  minutes: amountSchema.nullable().default(null),
  /** Rotor-hours not run. */
  rotorHours: amountSchema.nullable().default(null),
  wasteKg: amountSchema.nullable().default(null),
});

const minutes = amountSchema.nullable().default(null);
const note = textSchema.default('');
const count = z.strictObject({ count: z.number().int().min(0), rotorHours: z.number().positive().max(1e9) });

/** A case as it is opened. */
export const openedSchema = z.strictObject({
  step: z.literal('opened'),
  title: lineSchema,
  note,
  assignee: plainText(200).default(''),
  ...place,
  partHours: partHoursSchema.prefault({}),
});

/** Steps that can be recorded on a case, by their name. */
export const stepSchema = z.discriminatedUnion('step', [
  /** A check was made: the id of the check and the outcomes found (an empty list: nothing was found). */
  z.strictObject({
    step: z.literal('check-made'),
    check: idSchema,
    outcomes: z.array(idSchema).max(20),
    minutes,
    note,
  }),
  z.strictObject({
    step: z.literal('action-taken'),
    action: idSchema,
    /** What was changed, in words. */
    done: z.array(lineSchema).max(20).default([]),
    /** The entry of the setup history that goes with it. */
    setup: idSchema.nullable().default(null),
    /** What came of it; left out: not known yet, or for a trial to tell. */
    result: z.enum(ACTION_RESULTS).optional(),
    minutes,
    note,
  }),
  z.strictObject({
    step: z.literal('trial-started'),
    what: lineSchema,
    /** The actions that are tried. Left out: the last one taken before it. */
    actions: z.array(idSchema).max(20).optional(),
    positions: z.array(positionSchema).max(2000).default([]),
    plannedRotorHours: amountSchema.nullable().default(null),
    note,
  }),
  z.strictObject({
    step: z.literal('trial-finished'),
    verdict: z.enum(TRIAL_VERDICTS),
    /** Breaks counted without and with the change. */
    counts: z.strictObject({ without: count, with: count }).nullable().default(null),
    note,
  }),
  z.strictObject({
    step: z.literal('closed'),
    /** The root cause; null: not found. */
    cause: idSchema.nullable(),
    /** Causes found beside it. */
    contributing: z.array(idSchema).max(10).default([]),
    /** How it was confirmed; null when no cause was found. */
    how: z.enum(CONFIRMATIONS).nullable().default(null),
    symptomGone: z.boolean().nullable().default(null),
    /** When the cause was known. Left out: when the first action after opening was taken, else now. */
    foundAt: instantSchema.nullable().default(null),
    /** When the frame ran well again. Left out: when the case was closed. */
    fixedAt: instantSchema.nullable().default(null),
    cost: costSchema.prefault({}),
    note,
  }),
  z.strictObject({ step: z.literal('reopened'), why: lineSchema }),
  z.strictObject({ step: z.literal('noted'), note: textSchema.min(1) }),
  z.strictObject({ step: z.literal('assigned'), assignee: plainText(200) }),
  z.strictObject({ step: z.literal('renamed'), title: lineSchema }),
  z.strictObject({ step: z.literal('placed'), ...place, partHours: partHoursSchema.prefault({}) }),
  z.strictObject({ step: z.literal('cost-stated'), cost: costSchema }),
]);
export type StepInput = z.input<typeof stepSchema>;
export type RecordedStep = z.output<typeof stepSchema>;
export type OpenedStep = z.output<typeof openedSchema>;

/** A diagnosis was kept; written by the journal itself. */
export interface DiagnosedStep {
  readonly step: 'diagnosed';
  /** Its number within the case, from 1. */
  readonly diagnosis: number;
  readonly knowledgeVersion: string;
  /** The first-ranked cause and its probability. */
  readonly first: { readonly cause: string; readonly probability: number } | null;
}

/** Everything that can happen to a case. */
export type CaseStep = OpenedStep | RecordedStep | DiagnosedStep;
export type CaseStepName = CaseStep['step'];
