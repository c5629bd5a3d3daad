/**
 * Shapes of the knowledge-base files. Strict everywhere: an unknown key is an error, so that a slip of the pen
 * in a rule cannot pass as a rule that never fires.
 */
import { z } from 'zod';
import {
  CHANGES,
  FAMILIES,
  LEVELS,
  ONSETS,
  PARTS,
  SCOPES,
  STANDINGS,
  STOPS,
  STRENGTHS,
  WEIGHTS,
} from './vocabulary.js';

const keysOf = <K extends string>(record: Record<K, unknown>) => Object.keys(record) as [K, ...K[]];

/** Kebab-case id. */
export const idSchema = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'must be lower-case words joined by hyphens');
/** A node that a link may point at: a symptom id, or `mechanism:state`, or `check:outcome`. */
export const targetSchema = z
  .string()
  .regex(
    /^[a-z0-9]+(-[a-z0-9]+)*(:[a-z0-9]+(-[a-z0-9]+)*)?$/,
    'must be a symptom id, mechanism:state or check:outcome',
  );
const text = z.string().trim().min(1);
const probability = z.number().gt(0).lt(1);

/** What a statement rests on; a published one names a source that was read. */
export const basisSchema = z
  .strictObject({ standing: z.enum(STANDINGS), source: idSchema.optional() })
  .refine((basis) => basis.standing !== 'published' || basis.source !== undefined, {
    message: 'a published statement must name its source',
  });
export type Basis = z.infer<typeof basisSchema>;

/** Words rules may use to compare; each is false when the fact is unknown. */
export const OPERATORS = [
  'is',
  'is-not',
  'is-one-of',
  'is-none-of',
  'below',
  'at-most',
  'at-least',
  'above',
  'includes',
  'excludes',
] as const;

const comparisonSchema = z.strictObject({
  fact: z.string().regex(/^[a-z][a-z0-9-]*(\.[a-z0-9-]+)*$/, 'must be dotted lower-case words'),
  operator: z.enum(OPERATORS),
  value: z.union([z.string(), z.number(), z.array(z.string()).min(1)]),
});
export type Comparison = z.infer<typeof comparisonSchema>;
export type Condition = Comparison | { all: Condition[] } | { any: Condition[] };
/** A condition: one comparison, or `all`/`any` of conditions (never empty, never both). */
export const conditionSchema: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    comparisonSchema,
    z.strictObject({ all: z.array(conditionSchema).min(1) }),
    z.strictObject({ any: z.array(conditionSchema).min(1) }),
  ]),
);

/** One link of the causal graph, written at its parent. */
export const linkSchema = z.strictObject({
  to: targetSchema,
  strength: z.enum(keysOf(STRENGTHS)),
  /** For symptoms: share of the cases it brings about in which the symptom is marked; 0.6 when left out. */
  marked: probability.optional(),
  why: text,
  basis: basisSchema,
  /** The link holds only when this is known to be true. */
  'only-if': conditionSchema.optional(),
  /** The link is dropped when this is known to be true. */
  unless: conditionSchema.optional(),
});
export type Link = z.infer<typeof linkSchema>;

/** A mechanism quantity with its deviating states. */
export const mechanismSchema = z.strictObject({
  id: idSchema,
  label: text,
  plain: text,
  states: z.record(
    idSchema,
    z.strictObject({
      label: text,
      leak: probability,
      'leads-to': z.array(linkSchema).min(1),
    }),
  ),
});
export type Mechanism = z.infer<typeof mechanismSchema>;

/** Something that is seen on the yarn, the frame or the fabric. */
export const symptomSchema = z.strictObject({
  id: idSchema,
  label: text,
  group: z.enum(['running', 'yarn', 'package', 'fabric', 'parts']),
  look: text,
  /** How often it is seen, at least slightly / markedly, with none of the listed causes behind it. */
  leak: probability,
  'leak-marked': probability,
  basis: basisSchema,
  /** A symptom may itself bring about others (weak places → breaks in weaving). */
  'leads-to': z.array(linkSchema).optional(),
});
export type Symptom = z.infer<typeof symptomSchema>;

const weightSchema = z.enum(keysOf(WEIGHTS));
/** A rule: when it fires it weighs for or against its cause. */
export const ruleSchema = z
  .strictObject({
    id: idSchema,
    when: conditionSchema,
    for: weightSchema.optional(),
    against: weightSchema.optional(),
    because: text,
    basis: basisSchema,
  })
  .refine((rule) => (rule.for === undefined) !== (rule.against === undefined), {
    message: 'a rule weighs either for or against, not both and not neither',
  });
export type Rule = z.infer<typeof ruleSchema>;

/** Margins whose being negative can make a coordination cause. */
export const MARGINS = [
  'twist',
  'tension',
  'fibres',
  'heat',
  'hairiness',
  'softness',
  'fly',
  'rotor-size',
] as const;
/** Settings that a coordination cause can be "but for". */
export const BUT_FOR = [
  'twist',
  'nozzle-surface',
  'nozzle-radius',
  'nozzle-material',
  'nozzle-protrusion',
  'tube-bend',
  'insert',
  'rotor-speed',
  'rotor-diameter',
  'count',
  'fineness',
] as const;

const exampleSchema = z.strictObject({
  name: text,
  given: z.record(z.string(), z.unknown()),
  /** What the product must say of this cause. */
  expect: z.enum(['first', 'first-three', 'below-2-percent', 'undecided']),
});

/** A cause: what may be wrong. */
export const causeSchema = z
  .strictObject({
    id: idSchema,
    label: text,
    family: z.enum(keysOf(FAMILIES)),
    kind: z.enum(['coordination', 'condition']),
    what: text,
    prior: z.strictObject({
      /** Share of frames in trouble on which it is present, before anything is known. */
      base: probability,
      basis: basisSchema,
      /** Coordination causes: negative margin that would not be negative but for this setting. */
      model: z
        .strictObject({
          margin: z.enum(MARGINS),
          'but-for': z.enum(BUT_FOR),
          /** Which side of the usual value the setting must be on to be blamed. */
          side: z.enum(['below', 'above']).optional(),
        })
        .optional(),
    }),
    'ruled-out': z
      .array(z.strictObject({ when: conditionSchema, because: text, basis: basisSchema }))
      .optional(),
    /** Share of its occurrences that show in each place. */
    scope: z.partialRecord(z.enum(SCOPES), probability),
    /** Share of its occurrences that begin in each way. */
    onset: z.partialRecord(z.enum(ONSETS), probability),
    /** Changes that bring it on, with the weight of having made them. */
    after: z.partialRecord(z.enum(CHANGES), weightSchema).optional(),
    /** The part that carries it, if it goes with a part. */
    part: z.enum(PARTS).optional(),
    'leads-to': z.array(linkSchema),
    rules: z.array(ruleSchema).optional(),
    /** Minutes to prove or exclude it on the floor. */
    'trace-minutes': z.number().min(1).max(2000),
    /** Checks that tell most about it, best first. */
    checks: z.array(idSchema),
    actions: z.array(z.strictObject({ do: idSchema, cures: probability, note: text.optional() })),
    'look-alikes': z.array(z.strictObject({ cause: idSchema, 'told-apart-by': text })).optional(),
    cautions: z.array(idSchema).optional(),
    examples: z.array(exampleSchema).optional(),
  })
  .refine(
    (cause) => cause.kind !== 'coordination' || cause.prior.model !== undefined || cause.rules !== undefined,
    {
      message: 'a coordination cause needs a model margin or rules over the setup',
    },
  );
export type Cause = z.infer<typeof causeSchema>;

/** A check: a look or a test whose outcome is a finding. */
export const checkSchema = z.strictObject({
  id: idSchema,
  label: text,
  ask: text,
  how: z.array(text).min(1),
  minutes: z.number().min(1).max(600),
  /** Waiting or running time before the answer is there, during which nobody works on it. */
  'waiting-minutes': z.number().min(0).max(3000).optional(),
  stops: z.enum(STOPS),
  who: z.enum(['operator', 'fitter', 'technologist', 'laboratory']),
  /** The check makes no sense when this is known to be true. */
  'not-when': conditionSchema.optional(),
  basis: basisSchema,
  cautions: z.array(idSchema).optional(),
  outcomes: z.record(
    idSchema,
    z.strictObject({
      label: text,
      /** `deviation`: a node of the network; `normal`: none of the deviations; `open`: says nothing. */
      means: z.enum(['deviation', 'normal', 'open']),
      /** Deviations only: how often it is seen with none of its listed parents behind it. */
      leak: probability.optional(),
      /** Deviations this outcome excludes; all others when left out. */
      excludes: z.array(idSchema).optional(),
    }),
  ),
});
export type Check = z.infer<typeof checkSchema>;

/** Steps an action takes on the setup, for the model to compute its effects. */
export const setupChangeSchema = z.union([
  z.strictObject({ set: z.enum(['twist', 'rotor-speed', 'opening-roller']), 'by-percent': z.number() }),
  z.strictObject({
    set: z.enum([
      'nozzle-radius',
      'nozzle-protrusion',
      'tube-bend',
      'rotor-diameter',
      'humidity',
      'winding-tension-draft',
    ]),
    by: z.number(),
  }),
  z.strictObject({ set: z.enum(['texture', 'insert', 'groove']), steps: z.number().int() }),
  z.strictObject({ set: z.enum(['nozzle-material']), to: z.enum(['ceramic', 'steel', 'ceramic-head']) }),
  z.strictObject({
    set: z.enum([
      'twist',
      'texture',
      'nozzle-radius',
      'nozzle-protrusion',
      'tube-bend',
      'insert',
      'rotor-speed',
      'rotor-diameter',
      'opening-roller',
    ]),
    to: z.literal('usual'),
  }),
]);
export type SetupChange = z.infer<typeof setupChangeSchema>;

/** A corrective action. */
export const actionSchema = z.strictObject({
  id: idSchema,
  label: text,
  kind: z.enum(['setting', 'part', 'clean', 'repair', 'material', 'organise', 'observe']),
  steps: z.array(text).min(1),
  /** Working minutes per unit of `per`. */
  minutes: z.number().min(1).max(2000),
  per: z.enum(['position', 'section', 'frame', 'lot', 'mill']),
  stops: z.enum(STOPS),
  who: z.enum(['operator', 'fitter', 'technologist', 'laboratory']),
  parts: text.optional(),
  cost: z.enum(['none', 'low', 'medium', 'high']),
  change: z.array(setupChangeSchema).optional(),
  'side-effects': z
    .array(
      z.strictObject({
        on: z.enum([
          'stability',
          'tension',
          'tenacity',
          'hairiness',
          'fly',
          'hand',
          'output',
          'wear',
          'waste',
          'evenness',
          'package',
        ]),
        direction: z.enum(['better', 'worse', 'depends']),
        why: text,
      }),
    )
    .optional(),
  'not-when': z.array(z.strictObject({ when: conditionSchema, because: text })).optional(),
  proof: text,
  'go-back': text,
  cautions: z.array(idSchema).min(1),
  basis: basisSchema,
});
export type Action = z.infer<typeof actionSchema>;

/** Cautions: a file maps ids to a caution; one with `when` is raised by itself whenever the condition holds. */
export const cautionsSchema = z.record(
  idSchema,
  z.strictObject({ text: text, when: conditionSchema.optional(), basis: basisSchema }),
);

/** Sources: a file maps ids to a citation; only those `read` may be cited. */
export const sourcesSchema = z.record(
  idSchema,
  z.strictObject({
    cite: text,
    address: z.url().optional(),
    seen: z.enum(['read', 'memory']),
    note: text.optional(),
  }),
);

export const levelSchema = z.enum(LEVELS);
