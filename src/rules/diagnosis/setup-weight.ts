import { say, wordTable } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import { summariseColumn } from '../../spinning/summary.js';
import type { Judgements } from '../knowledge/judgement-schema.js';
import { BUT_FOR, type Cause } from '../knowledge/schema.js';
import { type ButFor, sideOfReference } from './but-for.js';
import { butForVariant } from './computed-setup.js';
import { decibansBetween } from './decibans.js';
import type { DirectWeight } from './direct-weights.js';
import { MARGIN_WORDS, marginColumn, shortfallShare } from './margins.js';
import { onceASetup } from './once-a-setup.js';
import type { PreparedCase } from './prepare.js';

/** Settings that a coordination cause is judged by, in words. */
export const BUT_FOR_WORDS: Readonly<Record<ButFor, string>> = wordTable('but-for', BUT_FOR);

const percent = (share: number) => `${Math.round(100 * share)} %`;

/**
 * What the spinning model says of a coordination cause: how likely its margin is negative, and how much of the
 * shortfall would go if its setting stood at the reference value. The model is believed only as far as
 * `model-credibility`; where it sees a comfortable margin it speaks against the cause by the same measure.
 */
export function setupWeight(
  cause: Cause,
  prepared: PreparedCase,
  judged: Judgements,
): DirectWeight | undefined {
  const model = cause.prior.model;
  if (model === undefined) return undefined;
  return onceASetup(prepared.resolved, `weight of ${cause.id}`, () =>
    weighOnSetup(cause, model, prepared, judged),
  );
}

function weighOnSetup(
  cause: Cause,
  model: NonNullable<Cause['prior']['model']>,
  prepared: PreparedCase,
  judged: Judgements,
): DirectWeight {
  const { simulation, resolved, reference } = prepared;
  const setting = model['but-for'];
  const base = marginColumn(simulation, resolved.endUse, model.margin);
  const changed = marginColumn(simulation, resolved.endUse, model.margin, butForVariant(setting));
  const { negative } = summariseColumn(base);
  const side = sideOfReference(resolved.uncertain.central, reference, setting);
  // A count is ordered, not set: without an earlier count to compare with, the shortfall itself is the fault.
  const ordered = setting === 'count' && side === 0;
  const onSide = ordered || model.side === undefined || (model.side === 'below' ? side < 0 : side > 0);
  const share = ordered ? negative : onSide ? shortfallShare(base, changed) : 0;
  const credibility = judged['model-credibility'];
  const before = cause.prior.base * judged['before-trouble'];
  const unmoved = before * (1 - credibility * (1 - negative));
  const after = 1 - (1 - unmoved) * (1 - credibility * share);
  return {
    kind: 'setup',
    label: say('reasoning.setup', {
      setting: BUT_FOR_WORDS[setting],
      margin: inSentence(MARGIN_WORDS[model.margin].label),
    }),
    ratio: 10 ** (decibansBetween(before, after) / 10),
    because: say('reasoning.setup-because', {
      negative: percent(negative),
      setting: BUT_FOR_WORDS[setting],
      share: percent(share),
    }),
    basis: { standing: 'judgement' },
  };
}
