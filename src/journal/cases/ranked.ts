import { z } from 'zod';
import { say } from '../../language/say.js';
import { JournalInputError } from '../errors.js';

/**
 * The least a diagnosis must say to be kept; the product's own says far more, and all of it is kept. Whatever has a
 * knowledge version and causes with probabilities can be kept, so `Diagnosis` and `Ranking` of the rules both fit.
 */
export interface KeptDiagnosis {
  readonly knowledgeVersion: string;
  readonly causes: readonly { readonly id: string; readonly probability: number }[];
}

/** Causes with their probabilities, by falling probability. */
export type Ranked = readonly (readonly [cause: string, probability: number])[];

const keptSchema = z.object({
  knowledgeVersion: z.string().min(1).max(200),
  causes: z.array(z.object({ id: z.string().min(1), probability: z.number().min(0).max(1) })).max(2000),
});

/** The ranking of a diagnosis, six digits kept. @throws JournalInputError */
export function rankedOf(diagnosis: KeptDiagnosis): Ranked {
  const result = keptSchema.safeParse(diagnosis);
  if (!result.success)
    throw new JournalInputError([
      {
        field: `diagnosis.${result.error.issues[0]?.path.join('.') ?? ''}`,
        value: say('input.handed-in'),
        allowed: say('input.diagnosis'),
      },
    ]);
  return result.data.causes
    .map(({ id, probability }) => [id, Math.round(probability * 1e6) / 1e6] as const)
    .sort((a, b) => b[1] - a[1]);
}

/** The place (from 1) and probability of a cause in a ranking; causes of equal probability share the better place. */
export function placeOf(
  ranked: Ranked,
  cause: string,
): { readonly place: number; readonly probability: number } | undefined {
  const found = ranked.find(([id]) => id === cause);
  if (found === undefined) return undefined;
  return {
    place: 1 + ranked.filter(([, probability]) => probability > found[1]).length,
    probability: found[1],
  };
}
