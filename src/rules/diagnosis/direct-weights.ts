import { say } from '../../language/say.js';
import type { CaseInput } from '../case/types.js';
import type { Judgements } from '../knowledge/judgement-schema.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Basis, Cause, Rule } from '../knowledge/schema.js';
import { WEIGHTS } from '../knowledge/vocabulary.js';
import {
  CHANGE_WORDS,
  joinWords,
  ONSET_WORDS,
  PART_RESULT_WORDS,
  PART_WORDS,
  SCOPE_WORDS,
  sentenceCase,
} from '../words.js';
import { sayActions } from './say-tried.js';
import type { EntryKind } from './types.js';

/** A weight that falls on one cause alone, before the network speaks: a likelihood ratio with its reason. */
export interface DirectWeight {
  readonly kind: EntryKind;
  readonly label: string;
  readonly ratio: number;
  readonly because?: string;
  readonly basis?: Basis;
}

const JUDGED: Basis = { standing: 'judgement' };

/**
 * Weights of place, beginning, changes and part trials on one cause, as likelihood ratios: the share of the
 * cause's cases that look so, over the share among all causes (weighted by their base rates).
 */
export function circumstanceWeights(
  cause: Cause,
  input: CaseInput,
  averages: Averages,
  { judgements: judged, book }: Pick<Knowledge, 'judgements' | 'book'>,
): DirectWeight[] {
  const weights: DirectWeight[] = [];
  if (input.scope.length > 0)
    weights.push({
      kind: 'scope',
      label: say('reasoning.where', { places: joinWords(input.scope.map((scope) => SCOPE_WORDS[scope])) }),
      ratio: profileRatio(cause.scope, averages.scope, input.scope, judged['unlisted-share']),
      basis: JUDGED,
    });
  const changed = changeWeight(cause, input, judged);
  // A change that brings the cause on already says that it began with the change: that is counted once.
  const onset =
    changed !== undefined && changed.ratio > 1
      ? input.onset.filter((one) => one !== 'since-change')
      : input.onset;
  if (onset.length > 0)
    weights.push({
      kind: 'onset',
      label: say('reasoning.began', { how: joinWords(onset.map((one) => ONSET_WORDS[one])) }),
      ratio: profileRatio(cause.onset, averages.onset, onset, judged['unlisted-share']),
      basis: JUDGED,
    });
  if (changed !== undefined) weights.push(changed);
  weights.push(...partWeights(cause, input, judged), ...trialWeights(cause, input, judged, book));
  return weights;
}

/** A rule that fired, as a weight on its cause. */
export function ruleWeight(rule: Rule): DirectWeight {
  const ratio = rule.for !== undefined ? WEIGHTS[rule.for] : 1 / WEIGHTS[rule.against ?? 'slightly'];
  return { kind: 'rule', label: rule.because, ratio, basis: rule.basis };
}

type Profile = Readonly<Partial<Record<string, number>>>;

/** Average profiles over all causes, weighted by base rate. */
export interface Averages {
  readonly scope: Profile;
  readonly onset: Profile;
}

const averagesByBook = new WeakMap<RuleBook, Map<number, Averages>>();

/** @returns for every place and beginning, the share of cases in which it is seen, whatever the cause */
export function averageProfiles(book: RuleBook, floor: number): Averages {
  const ofBook = averagesByBook.get(book) ?? new Map<number, Averages>();
  averagesByBook.set(book, ofBook);
  const averages = ofBook.get(floor) ?? workOutAverages(book, floor);
  ofBook.set(floor, averages);
  return averages;
}

function workOutAverages(book: RuleBook, floor: number): Averages {
  const causes = [...book.causes.values()];
  const total = causes.reduce((sum, cause) => sum + cause.prior.base, 0);
  const average = (pick: (cause: Cause) => Profile) => {
    const keys = new Set(causes.flatMap((cause) => Object.keys(pick(cause))));
    return Object.fromEntries(
      [...keys].map((key) => [
        key,
        causes.reduce((sum, cause) => sum + cause.prior.base * (pick(cause)[key] ?? floor), 0) / total,
      ]),
    );
  };
  return { scope: average((cause) => cause.scope), onset: average((cause) => cause.onset) };
}

/** Share of the cause over the average share; several entries are averaged. */
function profileRatio(profile: Profile, average: Profile, seen: readonly string[], floor: number): number {
  const ratios = seen.map((key) => (profile[key] ?? floor) / (average[key] ?? floor));
  return ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
}

function changeWeight(cause: Cause, input: CaseInput, judged: Judgements): DirectWeight | undefined {
  const made = input.changed.filter((change) => change !== 'none');
  const brings = cause.after ?? {};
  if (made.length === 0) {
    if (!input.changed.includes('none') || Object.keys(brings).length === 0) return undefined;
    // A cause that also creeps in by itself is not excluded by "nothing was changed".
    const byChange = (cause.onset['since-change'] ?? 0.1) + 0.5 * (cause.onset.sudden ?? 0);
    const ratio = 1 - byChange * (1 - judged['no-change-made']);
    return { kind: 'changed', label: say('reasoning.nothing-changed'), ratio, basis: JUDGED };
  }
  const matching = made.filter((change) => brings[change] !== undefined);
  const label = say('reasoning.changed', {
    what: joinWords((matching.length > 0 ? matching : made).map((change) => CHANGE_WORDS[change])),
  });
  if (matching.length > 0) {
    const ratio = Math.max(...matching.map((change) => WEIGHTS[brings[change] ?? 'slightly']));
    return { kind: 'changed', label, ratio, because: say('reasoning.brings-it'), basis: JUDGED };
  }
  const startedThen = input.onset.some((onset) => onset === 'since-change' || onset === 'sudden');
  return {
    kind: 'changed',
    label,
    ratio: startedThen ? judged['unrelated-change'] : Math.sqrt(judged['unrelated-change']),
    because: say('reasoning.brings-it-not'),
    basis: JUDGED,
  };
}

function partWeights(cause: Cause, input: CaseInput, judged: Judgements): DirectWeight[] {
  const weights: DirectWeight[] = [];
  for (const [part, result] of Object.entries(input.partExchange)) {
    if (result === undefined) continue;
    const label = say('reasoning.part-tried', {
      part: sentenceCase(PART_WORDS[part as keyof typeof PART_WORDS]),
      result: PART_RESULT_WORDS[result],
    });
    const own = cause.part === part;
    const speaksForPart = result !== 'no-effect';
    const strength = result === 'cured' ? judged['part-cured'] : judged['part-moves'];
    if (own)
      weights.push({
        kind: 'part',
        label,
        ratio: speaksForPart ? strength : judged['part-no-effect'],
        basis: JUDGED,
      });
    // A fault that goes with one part is hardly any other part's, nor the lot's.
    else if (speaksForPart)
      weights.push({ kind: 'part', label, ratio: 1 / Math.sqrt(strength), basis: JUDGED });
  }
  return weights;
}

/**
 * What a tried action says of the causes it is for: no change speaks against each of them by the chance with which it
 * should have cured it, easing speaks for them. Other causes gain or lose what these do. What is undecided is silent.
 */
function trialWeights(cause: Cause, input: CaseInput, judged: Judgements, book: RuleBook): DirectWeight[] {
  const { 'fails-anyway': fails, 'eases-anyway': eases } = judged;
  return (input.tried ?? []).flatMap(({ actions, result }) => {
    if (result === 'undecided') return [];
    const helped = result === 'helped';
    const stays = cause.actions
      .filter((one) => actions.includes(one.do))
      .reduce((product, one) => product * (1 - one.cures), 1);
    if (stays === 1) return [];
    const ratio = helped ? Math.max(eases, 1 - stays) / eases : Math.max(fails, stays);
    return [
      {
        kind: 'part' as const,
        label: say(helped ? 'reasoning.tried-eased' : 'reasoning.tried-nothing', {
          what: sayActions(actions, book),
        }),
        ratio,
        because: helped ? say('reasoning.meant-for') : say('reasoning.should-have'),
        basis: JUDGED,
      },
    ];
  });
}
