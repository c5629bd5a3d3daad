import { z } from 'zod';
import { caseFilterSchema, complaintFilterSchema, LIFE_PARTS, pageSchema } from '../../journal/index.js';
import { MEASURED_PROPERTIES } from '../../rules/case/types.js';
import { CHANGES, LEVELS, ONSETS, SCOPES, TRIAL_RESULTS } from '../../rules/knowledge/vocabulary.js';

/** Shapes of the API that are not the journal's own. */

const instant = z.iso.datetime({ offset: true });
const nullable = (schema: z.ZodType) => schema.nullable();
const oneOrMore = <T extends z.ZodType>(schema: T) => z.union([schema, z.array(schema)]);

/** A case file as data; the case reader checks it field by field. */
export const caseFileSchema = z
  .strictObject({
    title: z.string().optional(),
    note: z.string().optional(),
    setup: z
      .record(z.string(), z.unknown())
      .optional()
      .describe(
        'as in a case file: fibre, count, twist, end-use, rotor, nozzle, tube and so on, with their units',
      ),
    before: z.record(z.string(), z.unknown()).optional().describe('what was different before the trouble'),
    observations: z.record(z.string(), z.enum(LEVELS)).optional().describe('symptom → what was seen of it'),
    scope: oneOrMore(z.enum(SCOPES)).optional(),
    onset: oneOrMore(z.enum(ONSETS)).optional(),
    changed: oneOrMore(z.enum(CHANGES)).optional(),
    findings: z.record(z.string(), z.unknown()).optional().describe('check → outcome, or a list of outcomes'),
    tried: z
      .record(z.string(), z.enum(TRIAL_RESULTS))
      .optional()
      .describe(
        'action, or one + another tried at the same time → what came of it; undecided does not weigh',
      ),
    measurements: z.partialRecord(z.enum(['end-breaks', ...MEASURED_PROPERTIES]), z.unknown()).optional(),
  })
  .describe('a case file, the same as on the command line');

/** A ranking or diagnosis; it says far more than what is promised here. */
export const rankingSchema = z.looseObject({
  knowledgeVersion: z.string(),
  summary: z.string(),
  causes: z.array(
    z.looseObject({
      id: z.string(),
      label: z.string(),
      family: z.string(),
      probability: z.number().min(0).max(1),
      ledger: z.array(z.looseObject({ kind: z.string(), label: z.string(), decibans: z.number() })),
      chains: z.array(z.looseObject({ weight: z.number() })),
    }),
  ),
  computed: z.record(z.string(), z.looseObject({ value: z.number(), low: z.number(), high: z.number() })),
  warnings: z.array(z.looseObject({ field: z.string(), message: z.string() })),
});
export const diagnosisSchema = rankingSchema.extend({
  checks: z.array(z.looseObject({ id: z.string(), minutes: z.number(), saves: z.number() })),
  actions: z.array(z.looseObject({ id: z.string(), cures: z.number(), minutes: z.number() })),
});
export const setupReportSchema = z.looseObject({
  computed: z.record(
    z.string(),
    z.looseObject({ value: z.number(), low: z.number(), high: z.number(), unit: z.string() }),
  ),
  margins: z.array(z.looseObject({ id: z.string(), value: z.number(), chanceNegative: z.number() })),
});

export const conversionBodySchema = z.strictObject({
  quantity: z.string().min(1).max(60).describe('a number with its unit: "20 Ne"'),
  unit: z.string().min(1).max(30).describe('the unit wanted: "tex"'),
  count: z.string().max(60).optional().describe('a yarn count, where the conversion needs one'),
});
export const conversionSchema = z.strictObject({
  value: z.number(),
  unit: z.string(),
  from: z.string(),
});

const cost = z.strictObject({ minutes: z.number(), rotorHours: z.number(), wasteKg: z.number() });
const place = z
  .looseObject({
    cause: z.string(),
    probability: z.number(),
    place: nullable(z.number()),
    given: nullable(z.number()),
  })
  .nullable();

export const caseSchema = z.looseObject({
  id: z.string(),
  number: z.number(),
  version: z.number(),
  state: z.enum(['open', 'checking', 'acting', 'on-trial', 'tried', 'closed']),
  title: z.string(),
  assignee: z.string(),
  openedAt: instant,
  changedAt: instant,
  frame: nullable(z.string()),
  position: nullable(z.number()),
  section: nullable(z.string()),
  lot: nullable(z.string()),
  yarn: nullable(z.string()),
  cost,
  closure: z
    .looseObject({
      at: instant,
      outcome: z.enum(['confirmed', 'suspected', 'not-found']),
      cause: nullable(z.string()),
    })
    .nullable(),
  firstRanking: place,
  lastRanking: place,
});
const entry = z.looseObject({ version: z.number(), at: instant, who: z.string(), step: z.string() });
export const caseDetailSchema = caseSchema.extend({
  steps: z.array(z.looseObject({ version: z.number(), at: instant, who: z.string() })),
  entries: z.array(entry),
  diagnoses: z.array(z.looseObject({ number: z.number(), at: instant, knowledgeVersion: z.string() })),
  complaints: z.array(z.string()),
  next: z.array(z.string()).describe('steps that can be recorded now'),
});
export const keptDiagnosisSchema = z.looseObject({
  number: z.number(),
  at: instant,
  knowledgeVersion: z.string(),
  input: z.record(z.string(), z.unknown()),
  diagnosis: z.looseObject({ knowledgeVersion: z.string() }),
});

export const complaintRecordSchema = z.looseObject({
  id: z.string(),
  number: z.number(),
  version: z.number(),
  state: z.enum(['open', 'contained', 'traced', 'corrected', 'verified', 'closed']),
  customer: z.string(),
  fabricFault: z.string(),
  receivedAt: instant,
  claimedKg: nullable(z.number()),
  frames: z.array(z.string()),
  cases: z.array(z.string()),
  rootCause: z
    .looseObject({ cause: nullable(z.string()), case: nullable(z.string()), text: z.string() })
    .nullable(),
  corrective: z.string(),
});
export const complaintDetailSchema = complaintRecordSchema.extend({
  entries: z.array(entry),
  photos: z.array(z.looseObject({ id: z.string(), type: z.string(), size: z.number() })),
});

export const pageOf = (rows: z.ZodType) =>
  z.strictObject({
    rows: z.array(rows),
    next: nullable(z.string()).describe('give it as `after` for the next page; null at the end'),
  });

const paging = {
  size: z.coerce.number().int().min(1).max(200).optional(),
  order: pageSchema.shape.order.optional(),
  after: pageSchema.shape.after,
};
export const caseQuerySchema = caseFilterSchema.extend({
  position: z.coerce.number().int().min(1).max(5000).optional(),
  ...paging,
});
export const complaintQuerySchema = complaintFilterSchema.extend(paging);
/** A filter of cases alone, for the quality questions. */
export const qualityQuerySchema = caseFilterSchema.extend({
  position: z.coerce.number().int().min(1).max(5000).optional(),
});

export const periodSchema = z.strictObject({ from: instant, until: instant });

/** A setup as a machine or planning system hands it in. */
export const setupBodySchema = z.strictObject({
  setup: z.record(z.string(), z.unknown()).describe('the `setup` of a case file'),
  at: instant.optional().describe('from when it holds; left out: now'),
  yarn: z.string().nullable().optional(),
  lot: z.string().nullable().optional(),
  changes: z
    .array(z.enum(CHANGES.filter((one) => one !== 'none') as [string, ...string[]]))
    .max(20)
    .optional(),
  renewed: z
    .array(
      z.strictObject({
        part: z.enum(LIFE_PARTS),
        positions: z.array(z.number().int().min(1)).nullable().optional(),
        hours: z.number().min(0).optional(),
      }),
    )
    .max(20)
    .optional(),
  note: z.string().max(10_000).optional(),
});
export const setupRecordSchema = z.looseObject({
  id: z.string(),
  frame: z.string(),
  at: instant,
  who: z.string(),
  given: z.looseObject({}),
  changes: z.array(z.string()),
  note: z.string(),
});

export const receiptSchema = z.strictObject({
  batch: z.string(),
  given: z.number(),
  added: z.number(),
  at: instant,
  repeated: z.boolean(),
});
