import { z } from 'zod';
import { idSchema } from './schema.js';

const text = z.string().trim().min(1);
const caseFragment = z.record(z.string(), z.unknown());

/** A frame of a mill: where it stands, what it spins and how it is set up. */
export const millFrameSchema = z.strictObject({
  id: idSchema,
  /** "Frame 3". */
  name: text,
  /** Where it stands, in the mill's words. */
  place: text,
  /** What it spins, in one line. */
  yarn: text,
  positions: z.number().int().min(1).max(2000),
  note: text,
  /** The frame's card: the `setup` of a case file. */
  setup: caseFragment,
  /** A ready example to try on this frame: the rest of a case file. */
  story: z
    .strictObject({
      title: text,
      /** What the visitor is told before the example opens. */
      tells: text,
      case: caseFragment,
    })
    .optional(),
});
export type MillFrame = z.infer<typeof millFrameSchema>;
