import { say } from '../../language/say.js';
import type { ActionResult, Diagnosis } from '../diagnosis/types.js';
import type { Level, Scope } from '../knowledge/vocabulary.js';
import type { ActionOutcome } from './answer.js';
import type { Extent } from './attempt.js';
import { needsStandstill } from './mark-checks.js';
import { joinAll } from './plain-words.js';
import type { TrainingRoom } from './room.js';

/** One trial of an attempt, marked. */
export interface MarkedAction {
  readonly actions: readonly { readonly action: string; readonly label: string; readonly cures: number }[];
  readonly on: Extent;
  readonly minutes: number;
  /** True causes that it took away, by label. */
  readonly cured: readonly string[];
  readonly signs: readonly { readonly label: string; readonly before: Level; readonly after: Level }[];
  /** Side effects for the worse, in words. */
  readonly costs: readonly string[];
  readonly unsafe: readonly string[];
  /** The action the product would have tried first at that moment, when it is another one and clearly better. */
  readonly better?: { readonly action: string; readonly label: string; readonly cures: number };
  readonly words: string;
}

/** Chances of a cure within this are as good as one another. Standing: judgement. */
const AS_GOOD = 0.15;

/**
 * Marks one trial on what could be known when it was made; what came of it is told beside.
 *
 * @param diagnosis what the product made of the findings at that moment
 * @param tried actions that had been tried before
 */
export function markAction(
  room: TrainingRoom,
  diagnosis: Diagnosis,
  outcome: ActionOutcome,
  options: {
    readonly on: Extent;
    readonly standstill: boolean;
    readonly tried: ReadonlySet<string>;
    readonly scope: readonly Scope[];
    readonly causeLabel: (id: string) => string;
  },
): MarkedAction {
  const { book, judgements } = room.reasoner.knowledge;
  const known = outcome.actions.map((id) => ({
    id,
    result: resultOf(diagnosis, id),
    entry: book.actions.get(id),
  }));
  const label = (id: string) => book.actions.get(id)?.label ?? id;
  const minutes = known.reduce((sum, { result, entry }) => {
    const first =
      result?.minutes ??
      (entry?.minutes ?? 0) * (entry?.per === 'position' ? judgements['trial-positions'] : 1);
    return sum + (options.on === 'everywhere' ? (result?.rollOutMinutes ?? first) : first);
  }, judgements['proof-minutes']);
  const onePlace =
    options.scope.length > 0 && options.scope.every((place) => place === 'position' || place === 'can');
  const unsafe: string[] = [];
  if (outcome.actions.length > 1)
    unsafe.push(say('judged.at-once', { actions: joinAll(outcome.actions.map(label)) }));
  if (options.on === 'everywhere' && !onePlace && outcome.actions.some((id) => !options.tried.has(id)))
    unsafe.push(say('judged.whole-frame'));
  for (const { id, result, entry } of known) {
    if (entry !== undefined && needsStandstill(entry) && !options.standstill)
      unsafe.push(say('judged.opens', { action: label(id) }));
    if (result?.forbidden !== undefined)
      unsafe.push(say('judged.not-for', { action: label(id), why: result.forbidden }));
  }
  const bestOpen = diagnosis.actions.find(
    (action) => action.forbidden === undefined && !options.tried.has(action.id),
  );
  const chosen = Math.max(0, ...known.map(({ result }) => result?.cures ?? 0));
  const better =
    bestOpen !== undefined && !outcome.actions.includes(bestOpen.id) && bestOpen.cures > chosen + AS_GOOD
      ? { action: bestOpen.id, label: bestOpen.label, cures: bestOpen.cures }
      : undefined;
  return {
    actions: known.map(({ id, result }) => ({ action: id, label: label(id), cures: result?.cures ?? 0 })),
    on: options.on,
    minutes,
    cured: outcome.cured.map(options.causeLabel),
    signs: outcome.signs.map((sign) => ({
      label: book.symptoms.get(sign.symptom)?.label ?? sign.symptom,
      before: sign.before,
      after: sign.after,
    })),
    costs: known.flatMap(({ result }) =>
      (result?.sideEffects ?? [])
        .filter((effect) => effect.direction === 'worse')
        .map((effect) =>
          effect.beyondLimit === undefined
            ? effect.words
            : say('judged.cost-limit', { cost: effect.words, limit: effect.beyondLimit }),
        ),
    ),
    unsafe,
    ...(better === undefined ? {} : { better }),
    words: sayOutcome(outcome),
  };
}

const resultOf = (diagnosis: Diagnosis, id: string): ActionResult | undefined =>
  diagnosis.actions.find((action) => action.id === id);

function sayOutcome(outcome: ActionOutcome): string {
  const gone = outcome.signs.filter((sign) => sign.after === 'absent').length;
  const eased = outcome.signs.filter((sign) => sign.before === 'marked' && sign.after === 'slight').length;
  if (outcome.signs.length === 0) return say('judged.no-sign');
  if (gone === outcome.signs.length) return say('judged.all-gone');
  if (gone === 0 && eased === 0) return say('judged.nothing-changed');
  const left = outcome.signs.length - gone;
  return say('judged.some-gone', {
    gone,
    all: outcome.signs.length,
    some: eased > 0 ? 'yes' : 'no',
    eased,
    one: left === 1 ? 'yes' : 'no',
    left,
  });
}
