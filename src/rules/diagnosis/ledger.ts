import { say } from '../../language/say.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Posterior } from '../network/network.js';
import { applyRatio, decibansBetween, logOddsDecibans, sayProbability, sayWeight } from './decibans.js';
import type { EvidenceItem } from './evidence.js';
import { groundOf } from './ground.js';
import { type Inference, questionsToSpare } from './infer.js';
import type { CausePrior } from './priors.js';
import type { LedgerEntry } from './types.js';

/** Entries that move a cause by less than this are left out of its ledger, decibans. */
const TOO_SMALL = 0.05;

/**
 * The ledger of every cause: base rate, then the weights that fall on the cause alone, then symptoms, measurements
 * and findings one by one. Network evidence is weighed in order (W(H:E₁E₂) = W(H:E₁) + W(H:E₂|E₁)), so the entries
 * add up exactly to the change of log-odds; another order would share the same sum differently. Where a case is dear
 * to compute, neighbouring entries are entered together.
 */
export function buildLedgers(inference: Inference, book: RuleBook): ReadonlyMap<string, LedgerEntry[]> {
  const { priors } = inference;
  const groups = groupItems(inference.items, questionsToSpare(inference.posterior));
  const steps: Posterior[] = groups.map(({ upTo }) =>
    upTo === inference.items.length ? inference.posterior : inference.ask(inference.items.slice(0, upTo)),
  );
  const ledgers = new Map<string, LedgerEntry[]>();
  for (const [id, cause] of priors) {
    const entries = directEntries(cause, book);
    let before = cause.prior;
    steps.forEach((step, k) => {
      const item = groups[k];
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

interface ItemGroup extends Pick<EvidenceItem, 'kind' | 'label' | 'because'> {
  /** Items entered once this group is. */
  readonly upTo: number;
}

/** The items in order, in at most `most` groups of neighbours. */
function groupItems(items: readonly EvidenceItem[], most: number): ItemGroup[] {
  const size = Math.ceil(items.length / Math.max(1, most));
  const groups: ItemGroup[] = [];
  for (let from = 0; from < items.length; from += size) {
    const group = items.slice(from, from + size);
    const [first] = group;
    if (first === undefined) continue;
    groups.push({
      kind: first.kind,
      label: group.map((item) => item.label).join('; '),
      ...(size === 1 && first.because !== undefined ? { because: first.because } : {}),
      upTo: from + group.length,
    });
  }
  return groups;
}

function directEntries(cause: CausePrior, book: RuleBook): LedgerEntry[] {
  const entries: LedgerEntry[] = [
    {
      kind: 'base',
      label: say('reasoning.base-rate'),
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
