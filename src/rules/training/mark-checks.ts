import { say } from '../../language/say.js';
import type { CheckResult } from '../diagnosis/types.js';
import type { Check } from '../knowledge/schema.js';
import { PART_WORDS } from '../words.js';
import type { CheckAnswer } from './answer.js';
import { sayWhole } from './plain-words.js';
import { bestCheck, type WeighedCheck } from './policy.js';
import { checkMinutes, type Standing, type TrainingRoom } from './room.js';

/** What the marking says of one check. */
export const VERDICTS = ['best', 'good', 'dear', 'idle', 'again'] as const;
export type CheckVerdict = (typeof VERDICTS)[number];

/** A better check that was open at the same moment. */
export interface BetterCheck {
  readonly check: string;
  readonly label: string;
  readonly saves: number;
  readonly minutes: number;
  readonly why: string;
}

/** One check of an attempt, marked on what could be known when it was made. */
export interface MarkedCheck {
  readonly check: string;
  readonly label: string;
  readonly answer: string;
  readonly minutes: number;
  /** Minutes of search that it was expected to save when it was asked for. */
  readonly promised: number;
  /** Minutes of search that its answer really saved; below 0 when it opened the field again. */
  readonly told: number;
  readonly verdict: CheckVerdict;
  /** Minutes lost against the best check of that moment, 0 or more. */
  readonly lost: number;
  readonly better?: BetterCheck;
  readonly unsafe?: string;
  readonly words: string;
}

/** A check that promises less than this, minutes, could be known to tell nothing. Standing: judgement. */
const IDLE = 1;
/** Within so many minutes of the best a check is as good as it. */
const AS_GOOD = 2;
/** Above so many minutes lost it was a dear one. */
const DEAR = 8;

/** Whether a check opens a position, so that everything must stand still first. */
export const needsStandstill = (one: Pick<Check, 'stops' | 'cautions'>): boolean =>
  ['position', 'section', 'frame'].includes(one.stops) && (one.cautions ?? []).includes('rotor-coasts');

/**
 * Marks one check.
 *
 * @param before how the case stood when the check was asked for
 * @param after how it stood with the answer
 * @param again whether the same check had been made before
 */
export function markCheck(
  room: TrainingRoom,
  before: Standing,
  after: Standing,
  answer: CheckAnswer,
  options: {
    readonly standstill: boolean;
    readonly again: boolean;
    /** What it promised, for a check that the ranking does not hold. */
    readonly promised?: number;
  },
): MarkedCheck {
  const { book, judgements } = room.reasoner.knowledge;
  const check = book.checks.get(answer.check);
  const label =
    answer.part === undefined
      ? (check?.label ?? answer.check)
      : say('judged.check-part', {
          check: check?.label ?? answer.check,
          part: PART_WORDS[answer.part].replace(/^the /, ''),
        });
  const outcome = check?.outcomes[answer.outcome]?.label ?? answer.outcome;
  const minutes = check === undefined ? answer.minutes : checkMinutes(check, judgements);
  const known = before.checks().find((one) => one.id === answer.check);
  const best = bestCheck(room, before);
  const promised =
    best?.check === answer.check ? best.saves : (known?.saves ?? Math.max(0, options.promised ?? 0));
  const told = before.searchMinutes - after.searchMinutes;
  const lost = Math.max(0, (best?.gain ?? 0) - (promised - minutes));
  const verdict: CheckVerdict = options.again
    ? 'again'
    : best?.check === answer.check
      ? 'best'
      : promised < IDLE
        ? 'idle'
        : lost <= AS_GOOD
          ? 'good'
          : lost >= DEAR
            ? 'dear'
            : 'good';
  const better =
    best === undefined || best.check === answer.check || lost <= AS_GOOD || options.again
      ? undefined
      : describeBetter(room, before, best);
  const unsafe =
    check !== undefined && needsStandstill(check) && !options.standstill
      ? say('judged.no-standstill', { check: label })
      : undefined;
  return {
    check: answer.check,
    label,
    answer: outcome,
    minutes,
    promised,
    told,
    verdict,
    lost,
    ...(better === undefined ? {} : { better }),
    ...(unsafe === undefined ? {} : { unsafe }),
    words: sayCheck(verdict, promised, told, minutes, best),
  };
}

/** The best check of a state with the reason for it. */
export function describeBetter(room: TrainingRoom, standing: Standing, best: WeighedCheck): BetterCheck {
  const check = room.reasoner.knowledge.book.checks.get(best.check);
  const result = standing.checks().find((one) => one.id === best.check);
  return {
    check: best.check,
    label: check?.label ?? best.check,
    saves: best.saves,
    minutes: best.minutes,
    why: sayWhy(result, best),
  };
}

function sayWhy(check: CheckResult | undefined, best: WeighedCheck): string {
  const price = { minutes: sayWhole(best.minutes), saves: sayWhole(best.saves) };
  const leads = [...(check?.outcomes ?? [])]
    .sort((a, b) => b.probability - a.probability)
    .slice(0, 2)
    .flatMap((outcome) => {
      const lead = outcome.leads[0];
      return lead === undefined
        ? []
        : [
            say('judged.lead', {
              answer: outcome.label,
              cause: lead.label,
              chance: Math.round(100 * lead.probability),
            }),
          ];
    });
  return leads.length === 0
    ? say('judged.price', price)
    : say('judged.price-leads', { ...price, leads: leads.join(', ') });
}

function sayCheck(
  verdict: CheckVerdict,
  promised: number,
  told: number,
  minutes: number,
  best: WeighedCheck | undefined,
): string {
  const result =
    told >= IDLE
      ? say('judged.saved', { time: sayWhole(told) })
      : told <= -IDLE
        ? say('judged.opened-again', { time: sayWhole(-told) })
        : say('judged.told-nothing');
  const weighed = { promised: sayWhole(promised), minutes: sayWhole(minutes), result };
  switch (verdict) {
    case 'again':
      return say('judged.again');
    case 'best':
      return say('judged.best', weighed);
    case 'idle':
      return best === undefined
        ? say('judged.none-worth')
        : told >= IDLE
          ? say('judged.luck', { time: sayWhole(told) })
          : say('judged.known-before', { result });
    case 'dear':
      return best === undefined ? say('judged.too-dear', weighed) : say('judged.dear', weighed);
    case 'good':
      return say('judged.good', weighed);
  }
}
