/**
 * Shape of the files in `knowledge-base/cases`: whole situations as a supervisor would tell them, with what must come
 * out. They teach, and they hold the knowledge base to its word.
 */
import { z } from 'zod';
import { idSchema } from './schema.js';

const text = z.string().trim().min(1);

/** What makes a situation instructive. */
export const VIGNETTE_KINDS = [
  'one-fault',
  'two-faults',
  'misleading',
  'conflicting',
  'chance',
  'leave-the-nozzle',
] as const;

/** What must be said of one cause; as in the examples of the causes. */
const expectedCauseSchema = z.strictObject({
  cause: idSchema,
  is: z.enum(['first', 'first-three', 'below-2-percent', 'undecided']),
});

/** A situation with its lesson and what must come out. The case itself is read by the case reader, as strictly. */
export const vignetteSchema = z.strictObject({
  id: idSchema,
  title: text.max(120),
  kind: z.enum(VIGNETTE_KINDS),
  /** Two to four sentences, as told on the floor. */
  story: text.refine((value) => sentences(value) >= 2 && sentences(value) <= 4, {
    message: 'must have two to four sentences',
  }),
  /** One sentence: what is learnt. */
  teaches: text.refine((value) => sentences(value) === 1, { message: 'must be one sentence' }),
  setup: z.record(z.string(), z.unknown()),
  before: z.record(z.string(), z.unknown()).optional(),
  observations: z.record(z.string(), z.unknown()).optional(),
  scope: z.union([text, z.array(text).min(1)]).optional(),
  onset: z.union([text, z.array(text).min(1)]).optional(),
  changed: z.union([text, z.array(text).min(1)]).optional(),
  findings: z.record(z.string(), z.unknown()).optional(),
  measurements: z.record(z.string(), z.unknown()).optional(),
  expect: z.array(expectedCauseSchema).min(1),
  /** What must be said of one action. */
  action: z.strictObject({ id: idSchema, is: z.enum(['first-three', 'forbidden']) }).optional(),
  /** What must be said of one check. */
  check: z.strictObject({ id: idSchema, is: z.literal('first-three') }).optional(),
});
export type VignetteFile = z.infer<typeof vignetteSchema>;

/** Sentences end in a stop, a question or an exclamation mark that a blank or the end follows. */
function sentences(value: string): number {
  return value.match(/[.!?](?=\s|$)/g)?.length ?? 0;
}
