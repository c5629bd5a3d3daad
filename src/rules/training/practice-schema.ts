import { z } from 'zod';
import { idSchema, setupChangeSchema } from '../knowledge/schema.js';

const text = z.string().trim().min(1);
const ratioRange = z
  .tuple([z.number().min(0.2).max(20), z.number().min(0.2).max(20)])
  .refine(([low, high]) => low <= high, { message: 'the first number must not be above the second' });
const share = z.number().min(0).max(1);

/**
 * `practice.yaml`: what practice cases are made from. The causal network says what a fault does; this file says
 * which yarns are dealt and how a wrong setting looks on the card.
 */
export const practiceSchema = z.strictObject({
  /** Yarns that are dealt. */
  yarns: z
    .array(
      z.strictObject({
        name: text,
        'end-use': idSchema,
        /** A fibre, or fibres with their share in percent. */
        fibre: z.union([idSchema, z.record(idSchema, z.number().positive().max(100))]),
        /** Counts as written on the card. */
        counts: z.array(text).min(1),
      }),
    )
    .min(1),
  /** Cause → what is wrong on the card when it is dealt. */
  'setup-faults': z.record(idSchema, z.array(setupChangeSchema).min(1)),
  /** Usual breaks per 1000 rotor-hours, drawn between. */
  'norm-per-1000': z.tuple([z.number().positive(), z.number().positive()]),
  /** True break rate over the norm where breaks are slight or marked. */
  'breaks-over-norm': z.strictObject({ slight: ratioRange, marked: ratioRange }),
  /** Strength over target where it is low, and scatter of single tests. */
  tenacity: z.strictObject({
    slight: ratioRange,
    marked: ratioRange,
    'cv-percent': z.number().min(1).max(30),
    tests: z.number().int().min(2).max(1000),
  }),
  /** Share of the signs not seen that somebody did look for. */
  'looked-for': share,
  /** Share of the cases with breaks in which they were counted. */
  counted: share,
  /** A course that is ready to be given: an hour from the app alone. */
  'first-hour': z
    .strictObject({
      title: text,
      note: text,
      parts: z
        .array(
          z.strictObject({
            lesson: idSchema.optional(),
            case: text.optional(),
            /** A case to be shown on the projector, with the checks that were made on it. */
            replay: text.optional(),
            checks: z.array(idSchema).max(10).optional(),
            minutes: z.number().int().min(1).max(60),
            note: text,
          }),
        )
        .min(1),
    })
    .optional(),
  /** Share of the cases without a change on which a change is reported that has nothing to do with it. */
  'idle-change': share,
});
export type PracticeBook = z.infer<typeof practiceSchema>;
