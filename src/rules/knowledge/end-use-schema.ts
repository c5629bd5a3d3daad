/**
 * Shape of the files in `knowledge-base/end-uses`: what a yarn for one end use is usually spun with, how sure that
 * is, and what an action may not do to it. What depends on the fibre alone (staple, fineness, opening-roller speed,
 * humidity) stands in the fibre files.
 */
import { z } from 'zod';
import { basisSchema, conditionSchema, idSchema } from './schema.js';

const text = z.string().trim().min(1);

/** A value, or values at yarn counts (tex, rising) with straight lines over the logarithm of the count between them. */
const byCountSchema = z.union([
  z.number(),
  z
    .array(z.strictObject({ tex: z.number().positive(), value: z.number() }))
    .min(2)
    .refine((points) => points.every((point, i) => i === 0 || point.tex > (points[i - 1]?.tex ?? 0)), {
      message: 'the counts must rise from point to point',
    }),
]);
export type ByCount = z.infer<typeof byCountSchema>;

/** Values by fibre id; `other` holds for every fibre not named, and must be there. */
const byFibre = <T extends z.ZodType>(value: T) =>
  z.record(idSchema, value).refine((values) => Object.hasOwn(values, 'other'), {
    message: 'a value for "other" fibres is needed',
  });

/** How far mills differ: one standard deviation in the value's unit, or in percent of it (then it scatters log-normally). */
const spreadSchema = z.union([
  z.strictObject({ sd: z.number().positive() }),
  z.strictObject({ percent: z.number().positive().max(200) }),
]);
export type Spread = z.infer<typeof spreadSchema>;

/** A usual quantity. */
const usualNumberSchema = z.strictObject({
  'by-fibre': byFibre(byCountSchema),
  spread: spreadSchema,
  basis: basisSchema,
  note: text.optional(),
});
export type UsualNumberEntry = z.infer<typeof usualNumberSchema>;

/** Chances that a mill differs by so many steps on the ladder, 0 included; they sum to 1. */
const stepsSchema = z
  .array(z.strictObject({ step: z.number().int().min(-6).max(6), chance: z.number().positive().max(1) }))
  .min(1)
  .refine((steps) => Math.abs(steps.reduce((sum, one) => sum + one.chance, 0) - 1) < 1e-6, {
    message: 'the chances must sum to 1',
  });

/** A usual word on a ladder. `values` are ladder words, by fibre and (rising) least count from which they hold. */
const ladderSchema = <W extends string>(words: readonly [W, ...W[]]) =>
  z.strictObject({
    'by-fibre': byFibre(
      z.union([
        z.enum(words),
        z
          .array(z.strictObject({ 'from-tex': z.number().min(0), value: z.enum(words) }))
          .min(1)
          .refine(
            (list) => list.every((one, i) => i === 0 || one['from-tex'] > (list[i - 1]?.['from-tex'] ?? 0)),
            {
              message: 'the counts must rise from word to word',
            },
          ),
      ]),
    ),
    steps: stepsSchema,
    basis: basisSchema,
    note: text.optional(),
  });

/** A usual word without an order. */
const wordSchema = <W extends string>(words: readonly [W, ...W[]]) =>
  z.strictObject({
    'by-fibre': byFibre(z.enum(words)),
    /** Chance that a mill uses the usual word; the others share the rest alike. */
    chance: z.number().gt(0).max(1),
    basis: basisSchema,
    note: text.optional(),
  });

/** Words of the texture ladder, smooth to rough. */
export const TEXTURES = [
  'smooth',
  'spiral',
  '3-notches',
  '4-notches',
  '6-notches',
  '8-notches',
  'knurled',
] as const;
const INSERT_WORDS = ['none', 'smooth', '1-groove', '2-groove', '3-groove'] as const;
const GROOVE_WORDS = ['narrow', 'medium', 'wide'] as const;
const MATERIAL_WORDS = ['ceramic', 'steel', 'ceramic-head'] as const;
const DELUSTRANT_WORDS = ['bright', 'semi-dull', 'dull'] as const;

/** Properties a yarn has to keep when a setting is changed. */
export const LIMITED = ['hairiness', 'softness', 'fly', 'tenacity', 'output'] as const;
export type Limited = (typeof LIMITED)[number];

/** A limit: change in percent against the usual setup that is still accepted. */
const limitSchema = z
  .strictObject({
    on: z.enum(LIMITED),
    most: z.number().positive().optional(),
    least: z.number().negative().optional(),
    because: text,
    basis: basisSchema,
  })
  .refine((limit) => limit.most !== undefined || limit.least !== undefined, {
    message: 'a limit says most, least or both',
  });
export type EndUseLimit = z.infer<typeof limitSchema>;

/** An end use with its usual setup and its limits. */
export const endUseSchema = z.strictObject({
  id: idSchema,
  label: text,
  /** What counts for this yarn, most important first. */
  matters: z.array(text).min(1),
  usual: z.strictObject({
    /** Yarn count, tex: taken only when a case gives none. */
    count: usualNumberSchema,
    'alpha-e': usualNumberSchema,
    'rotor-diameter': usualNumberSchema,
    /** Rim speed of the rotor, m/s; the rotor speed follows from it and the diameter. */
    'rim-speed': usualNumberSchema,
    groove: ladderSchema(GROOVE_WORDS),
    texture: ladderSchema(TEXTURES),
    'nozzle-material': wordSchema(MATERIAL_WORDS),
    'nozzle-radius': usualNumberSchema,
    'nozzle-protrusion': usualNumberSchema,
    'nozzle-hours': usualNumberSchema,
    'tube-bend': usualNumberSchema,
    insert: ladderSchema(INSERT_WORDS),
    'tube-hours': usualNumberSchema,
    /** How much faster (+, percent) than the middle of the fibre's usual range the opening roller is run. */
    'opening-roller-percent': z.number().min(-20).max(20),
    temperature: usualNumberSchema,
    'sliver-count': usualNumberSchema,
    'sliver-trash': usualNumberSchema,
    'tension-draft': usualNumberSchema,
    /** Recycled or waste share, %. */
    recycled: usualNumberSchema,
    delustrant: wordSchema(DELUSTRANT_WORDS),
  }),
  limits: z.array(limitSchema).min(1),
  /** Setups that this end use does not stand, whatever they cure. */
  forbids: z.array(z.strictObject({ when: conditionSchema, because: text, basis: basisSchema })).optional(),
});
export type EndUse = z.infer<typeof endUseSchema>;
