/**
 * Shape of `plans.yaml`: what a plan may change, how finely its effects are told apart, what they are worth and how
 * each change is carried out. Every number is a judgement and says so in its note.
 */
import { z } from 'zod';
import { TEXTURES } from './end-use-schema.js';
import { basisSchema, conditionSchema, idSchema } from './schema.js';

const text = z.string().trim().min(1);
const judged = <T extends z.ZodType>(value: T) => z.strictObject({ value, note: text });
const judgedNumber = (least: number, most: number) => judged(z.number().min(least).max(most));
const risingNumbers = (least: number, most: number) =>
  judged(
    z
      .array(z.number().min(least).max(most))
      .min(1)
      .refine((list) => list.every((value, i) => i === 0 || value > (list[i - 1] ?? value)), {
        message: 'the values must rise',
      }),
  );

/** Settings a plan may change. */
export const PLAN_SETTINGS = [
  'texture',
  'nozzle-radius',
  'nozzle-material',
  'nozzle-protrusion',
  'tube-bend',
  'insert',
  'twist',
  'rotor-speed',
] as const;
export type PlanSetting = (typeof PLAN_SETTINGS)[number];

/** What plans are compared by. */
export const OBJECTIVES = [
  'chance',
  'hairiness',
  'hand',
  'fly',
  'tenacity',
  'output',
  'nozzle-life',
  'effort',
] as const;
export type Objective = (typeof OBJECTIVES)[number];

const INSERT_WORDS = ['none', 'smooth', '1-groove', '2-groove', '3-groove'] as const;
const MATERIAL_WORDS = ['ceramic', 'steel', 'ceramic-head'] as const;

/** How one change is carried out: an action of the rule book, with what differs from it. */
const stepSchema = z.strictObject({
  /** The action whose work, parts and cautions it has. */
  do: idSchema,
  /** What to look at afterwards. */
  measure: z.array(text).min(1),
  /** Only where the action's own does not fit. */
  proof: text.optional(),
  'go-back': text.optional(),
  parts: text.optional(),
});
export type PlanStepEntry = z.infer<typeof stepSchema>;

const upAndDown = z.strictObject({ up: stepSchema, down: stepSchema });

/** `plans.yaml`. */
export const planBookSchema = z.strictObject({
  options: z.strictObject({
    texture: judged(z.array(z.enum(TEXTURES)).min(1)),
    'nozzle-radius': risingNumbers(0.5, 15),
    'nozzle-material': judged(z.array(z.enum(MATERIAL_WORDS)).min(1)),
    washer: judgedNumber(0.05, 3),
    'washer-steps': risingNumbers(-12, 12),
    'tube-bend': risingNumbers(0, 120),
    insert: judged(z.array(z.enum(INSERT_WORDS)).min(1)),
    'twist-percent': risingNumbers(-30, 30),
    'rotor-speed-percent': risingNumbers(-30, 30),
    /** Most settings changed in one plan. */
    changes: judged(z.number().int().min(1).max(3)),
  }),
  /** Smallest difference that counts when plans are compared. */
  grains: z.strictObject(
    Object.fromEntries(OBJECTIVES.map((one) => [one, judgedNumber(0.001, 10_000)])) as Record<
      Objective,
      ReturnType<typeof judgedNumber>
    >,
  ),
  /** What a plan's effects are worth, in working minutes. */
  worth: z.strictObject({
    'chance-point': judgedNumber(0, 10_000),
    'output-percent': judgedNumber(0, 10_000),
    'whole-limit': judgedNumber(0, 10_000),
    'where-no-limit': judgedNumber(1, 1000),
    'gain-share': judgedNumber(0, 1),
    complaint: judgedNumber(1, 20),
    'life-percent': judgedNumber(0, 100),
  }),
  /** Chance of a stable run that is enough: above it a plan may give some of it up. */
  enough: judgedNumber(0.5, 1),
  /** Signs that are a complaint about a quality. */
  complaints: z.strictObject({
    hairiness: z.array(idSchema),
    hand: z.array(idSchema),
    fly: z.array(idSchema),
    tenacity: z.array(idSchema),
  }),
  work: z.strictObject({
    /** Minutes saved for each further part changed while the position is open anyway. */
    'opening-minutes': judgedNumber(0, 30),
    /** Attention each changed setting takes besides the work. */
    'each-change': judgedNumber(0, 5000),
  }),
  /** Bounds on the weight that what was seen may give to a short margin. */
  belief: z.strictObject({ most: judgedNumber(1, 1000) }),
  steps: z.strictObject({
    texture: upAndDown,
    'nozzle-radius': upAndDown,
    'nozzle-material': z.strictObject({ ceramic: stepSchema, steel: stepSchema, 'ceramic-head': stepSchema }),
    'nozzle-protrusion': upAndDown,
    'tube-bend': upAndDown,
    insert: upAndDown,
    twist: upAndDown,
    'rotor-speed': upAndDown,
  }),
  /** Setups no plan may end in, whatever the end use. */
  never: z.array(z.strictObject({ when: conditionSchema, because: text, basis: basisSchema })),
});
export type PlanBook = z.infer<typeof planBookSchema>;
