import { z } from 'zod';
import { cardSchema } from '../knowledge/card-schema.js';
import { endUseSchema } from '../knowledge/end-use-schema.js';
import { judgementsSchema } from '../knowledge/judgement-schema.js';
import { millFrameSchema } from '../knowledge/mill-schema.js';
import { fibreSchema, modelParameterFileSchema } from '../knowledge/parameter-schema.js';
import { placesSchema } from '../knowledge/place-schema.js';
import { planBookSchema } from '../knowledge/plan-schema.js';
import {
  actionSchema,
  causeSchema,
  cautionsSchema,
  checkSchema,
  mechanismSchema,
  sourcesSchema,
  symptomSchema,
} from '../knowledge/schema.js';
import { vignetteSchema } from '../knowledge/vignette-schema.js';
import { glossarySchema } from '../training/glossary-schema.js';
import { lessonSchema } from '../training/lesson-schema.js';
import { practiceSchema } from '../training/practice-schema.js';
import { acceptedFindingsSchema } from './accepted-findings.js';

/** Schema of each kind of file, by the files it is for. */
const SCHEMAS: Readonly<Record<string, { readonly files: string; readonly schema: z.ZodType }>> = {
  cause: { files: 'causes/*.yaml', schema: causeSchema },
  mechanism: { files: 'mechanisms/*.yaml', schema: mechanismSchema },
  symptom: { files: 'symptoms/*.yaml', schema: symptomSchema },
  check: { files: 'checks/*.yaml', schema: checkSchema },
  action: { files: 'actions/*.yaml', schema: actionSchema },
  cautions: { files: 'cautions.yaml', schema: cautionsSchema },
  sources: { files: 'sources/*.yaml', schema: sourcesSchema },
  'end-use': { files: 'end-uses/*.yaml', schema: endUseSchema },
  fibre: { files: 'fibres/*.yaml', schema: fibreSchema },
  model: { files: 'model/*.yaml', schema: modelParameterFileSchema },
  judgements: { files: 'judgements.yaml', schema: judgementsSchema },
  plans: { files: 'plans.yaml', schema: planBookSchema },
  places: { files: 'places.yaml', schema: placesSchema },
  card: { files: 'card.yaml', schema: cardSchema },
  lesson: { files: 'lessons/*.yaml', schema: lessonSchema },
  glossary: { files: 'glossary.yaml', schema: glossarySchema },
  practice: { files: 'practice.yaml', schema: practiceSchema },
  case: { files: 'cases/*.yaml', schema: vignetteSchema },
  frame: { files: 'demo-mill/frames/*.yaml', schema: millFrameSchema },
  'accepted-findings': { files: 'accepted-findings.yaml', schema: acceptedFindingsSchema },
};

/** A JSON Schema and the files it describes. */
export interface FileSchema {
  readonly name: string;
  /** Glob below the knowledge-base folder. */
  readonly files: string;
  readonly schema: Readonly<Record<string, unknown>>;
}

/**
 * JSON Schemas (draft 2020-12) of every kind of knowledge-base file, for editors. Rules that look at several fields at
 * once are not in them; `lintKnowledge` sees those.
 */
export function jsonSchemas(): FileSchema[] {
  return Object.entries(SCHEMAS).map(([name, { files, schema }]) => ({
    name,
    files,
    schema: {
      ...z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }),
      title: `Peelpoint knowledge base: ${name}`,
      description: `Files ${files}`,
    },
  }));
}
