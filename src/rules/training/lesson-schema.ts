import { z } from 'zod';
import { QUANTITIES } from '../../spinning/quantities.js';
import { idSchema } from '../knowledge/schema.js';

const text = z.string().trim().min(1);

/** Settings that a lesson lets the reader play with, as paths of the case file. */
export const PLAY_SETTINGS = [
  'twist',
  'nozzle.texture',
  'nozzle.radius',
  'nozzle.protrusion',
  'tube.bend',
  'tube.insert',
  'rotor.speed',
  'rotor.diameter',
  'staple',
  'sliver.trash',
] as const;

/** `lessons/*.yaml`: a short lesson in steps, a setting to play with, and three questions. */
export const lessonSchema = z.strictObject({
  id: idSchema,
  /** Place in the course, from 1. */
  place: z.number().int().min(1),
  title: text,
  /** The mechanism it is about, as the knowledge base names it. */
  mechanism: idSchema,
  /** The part of the position that the drawing points at. */
  part: z.enum(['rotor', 'groove', 'nozzle', 'tube', 'yarn-arm', 'package']),
  lead: text,
  steps: z
    .array(z.strictObject({ title: text, text }))
    .min(3)
    .max(6),
  play: z.strictObject({
    ask: text,
    setting: z.enum(PLAY_SETTINGS),
    /** Values to choose from, as a case file spells them; the first is where it starts. */
    values: z
      .array(z.union([text, z.number()]))
      .min(3)
      .max(6),
    /** The frame on which it is played, as the `setup` of a case file. */
    setup: z.record(z.string(), z.unknown()),
    /** Computed quantities to watch, by id. */
    watch: z
      .array(z.enum(QUANTITIES.map((quantity) => quantity.id) as [string, ...string[]]))
      .min(1)
      .max(4),
    sees: text,
  }),
  questions: z
    .array(
      z.strictObject({
        ask: text,
        answers: z
          .array(z.strictObject({ text, right: z.boolean().optional(), why: text }))
          .min(2)
          .max(5)
          .refine((answers) => answers.filter((one) => one.right === true).length === 1, {
            message: 'exactly one answer must be right',
          }),
      }),
    )
    .length(3),
});
export type Lesson = z.infer<typeof lessonSchema>;
