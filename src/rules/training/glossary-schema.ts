import { z } from 'zod';
import { idSchema } from '../knowledge/schema.js';

const text = z.string().trim().min(1);

/**
 * `glossary.yaml`: trade terms with beginners' words. The key is the term's id; `forms` are the spellings under which it
 * is found in running text.
 */
export const glossarySchema = z.record(
  idSchema,
  z.strictObject({
    term: text,
    /** Beginners' words, short enough to stand in brackets behind the term. */
    plain: text.refine((words) => words.length <= 90, { message: 'must have at most 90 characters' }),
    /** One or two sentences for the glossary page. */
    more: text,
    /** Other spellings in running text. */
    forms: z.array(text).optional(),
    see: z.array(idSchema).optional(),
  }),
);
export type Glossary = z.infer<typeof glossarySchema>;
export type GlossaryEntry = Glossary[string];
