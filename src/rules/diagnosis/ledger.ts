import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Posterior } from '../network/network.js';
import { applyRatio, decibansBetween, logOddsDecibans, sayProbability, sayWeight } from './decibans.js';
import { groundOf } from './ground.js';
import type { Inference } from './infer.js';
import type { CausePrior } from './priors.js';
import type { LedgerEntry } from './types.js';

/** Entries that move a cause by less than this are left out of its ledger, decibans. */
const TOO_SMALL = 0.05;

/**
 * The ledger of every cause: base rate, then the weights that fall on the cause alone, then symptoms, measurements
 * and findings one by one. Network evidence is weighed in order (W(H:E₁E₂) = W(H:E₁) + W(H:E₂|E₁)), so the entries
 * add up exactly to the change of log-odds; another order would share the same sum differently.
 */
export function buildLedgers(inference: Inference, book: RuleBook): ReadonlyMap<string, LedgerEntry[]> {
  const { items, priors } = inference;
  const steps: Posterior[] = items.map((_, k) =>
    k === items.length - 1 ? inference.posterior : inference.ask(items.slice(0, k + 1)),
  );
  const ledgers = new Map<string, LedgerEntry[]>();
  for (const [id, cause] of priors) {
    const entries = directEntries(cause, book);
    let before = cause.prior;
    steps.forEach((step, k) => {
      const item = items[k];
      const after = step.marginals.get(id) ?? before;
      const decibans = decibansBetween(before, after);
      if (item !== undefined && cause.prior > 0 && Math.abs(decibans) >= TOO_SMALL)
        entries.push({
          kind: item.kind,
          label: item.label,
          decibans,
          words: sayWeight(decibans),
          ...(item.because === undefined ? {} : { because: item.because }),
          after,
        });
      before = after;
    });
    ledgers.set(id, entries);
  }
  return ledgers;
}

function directEntries(cause: CausePrior, book: RuleBook): LedgerEntry[] {
  const entries: LedgerEntry[] = [
    {
      kind: 'base',
      label: 'Base rate: how often it is found on frames in trouble',
      decibans: logOddsDecibans(cause.base),
      words: sayProbability(cause.base),
      ground: { standing: 'judgement' },
      after: cause.base,
    },
  ];
  let p = cause.base;
  for (const weight of cause.weights) {
    const after = applyRatio(p, weight.ratio);
    const decibans = decibansBetween(p, after);
    if (Math.abs(decibans) >= TOO_SMALL)
      entries.push({
        kind: weight.kind,
        label: weight.label,
        decibans,
        words: sayWeight(decibans),
        ...(weight.because === undefined ? {} : { because: weight.because }),
        ...(weight.basis === undefined ? {} : { ground: groundOf(book, weight.basis) }),
        after,
      });
    p = after;
  }
  return entries;
}
