import { z } from 'zod';
import { amountSchema, idSchema, lineSchema, textSchema } from '../input.js';
import { instantSchema } from '../time.js';

/** Where a complaint stands, from what has been recorded on it. */
export const COMPLAINT_STATES = ['open', 'contained', 'traced', 'corrected', 'verified', 'closed'] as const;
export type ComplaintState = (typeof COMPLAINT_STATES)[number];

/** Whether the corrective action was seen to work. */
export const FIXED = ['yes', 'partly', 'no'] as const;
export type Fixed = (typeof FIXED)[number];

const text = textSchema.min(1);
const ids = z.array(idSchema).max(500);

/** A complaint as it comes in. */
export const complaintSchema = z.strictObject({
  customer: lineSchema,
  /** The fault in the fabric, in the trade's words: "barré in single jersey". */
  fabricFault: lineSchema,
  receivedAt: instantSchema.optional(),
  claimedKg: amountSchema.nullable().default(null),
  lot: idSchema.nullable().default(null),
  yarn: idSchema.nullable().default(null),
  /** When the yarn was spun; left out: taken from the setup history of the lot. */
  spunFrom: instantSchema.nullable().default(null),
  spunUntil: instantSchema.nullable().default(null),
  /** Frames and cases it hangs on; left out: found in the window in which the lot (or yarn) was spun. */
  frames: ids.optional(),
  cases: ids.optional(),
  note: textSchema.default(''),
});
export type NewComplaint = z.input<typeof complaintSchema>;

/** Steps that can be recorded on a complaint. A statement made again replaces the earlier one; the history keeps both. */
export const complaintStepSchema = z.discriminatedUnion('step', [
  z.strictObject({
    step: z.literal('changed'),
    customer: lineSchema.optional(),
    fabricFault: lineSchema.optional(),
    claimedKg: amountSchema.nullable().optional(),
    lot: idSchema.nullable().optional(),
    yarn: idSchema.nullable().optional(),
    spunFrom: instantSchema.nullable().optional(),
    spunUntil: instantSchema.nullable().optional(),
  }),
  /** All frames and cases it hangs on, anew. */
  z.strictObject({ step: z.literal('linked'), frames: ids, cases: ids }),
  z.strictObject({
    step: z.literal('root-cause'),
    /** A cause of the knowledge base; null: none of them, or not found. */
    cause: idSchema.nullable(),
    /** The case in which it was found. */
    case: idSchema.nullable().default(null),
    text,
  }),
  z.strictObject({ step: z.literal('containment'), text }),
  z.strictObject({ step: z.literal('corrective'), text }),
  z.strictObject({ step: z.literal('preventive'), text }),
  z.strictObject({ step: z.literal('verified'), fixed: z.enum(FIXED), text }),
  /** Closing needs a root cause, a corrective action and a verification, or the reason why one is missing. */
  z.strictObject({
    step: z.literal('closed'),
    missing: textSchema.default(''),
    note: textSchema.default(''),
  }),
  z.strictObject({ step: z.literal('reopened'), why: lineSchema }),
  z.strictObject({ step: z.literal('noted'), note: text }),
]);
export type ComplaintStepInput = z.input<typeof complaintStepSchema>;

/** A complaint was received; written by the journal with the window and links it found. */
export interface LoggedStep {
  readonly step: 'logged';
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
  readonly note: string;
}

/** Photos come and go by steps of their own. */
export interface PhotoStep {
  readonly step: 'photo-added' | 'photo-withdrawn';
  readonly photo: string;
  readonly why?: string;
}

export type ComplaintStep = LoggedStep | PhotoStep | z.output<typeof complaintStepSchema>;
