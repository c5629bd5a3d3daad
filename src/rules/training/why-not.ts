import { say } from '../../language/say.js';
import type { CaseInput } from '../case/types.js';
import { singleCauseReach } from '../diagnosis/single-cause-reach.js';
import type { LedgerEntry } from '../diagnosis/types.js';
import { TrainingError } from './errors.js';
import { sayPercent } from './plain-words.js';
import { causeLabel, type TrainingRoom, withFinding } from './room.js';

/** Why a cause does not stand higher, and what would put it there. */
export interface WhyNot {
  readonly cause: string;
  readonly label: string;
  readonly probability: number;
  /** Place in the ranking, from 1. */
  readonly rank: number;
  readonly leader: { readonly cause: string; readonly label: string; readonly probability: number };
  readonly ruledOut?: string;
  /** Entries of its ledger that speak against it, the heaviest first. */
  readonly against: readonly LedgerEntry[];
  /** Signs that it usually brings and that were looked for and not seen. */
  readonly missing: readonly { readonly sign: string; readonly label: string; readonly usual: number }[];
  /** Signs that it usually brings and that nobody has looked for. */
  readonly notLooked: readonly { readonly sign: string; readonly label: string; readonly usual: number }[];
  /** Answers that would raise it, the most telling first. */
  readonly wouldNeed: readonly {
    readonly check: string;
    readonly label: string;
    readonly outcome: string;
    readonly probability: number;
  }[];
  readonly words: string;
}

/** A sign counts as usual for a cause that brings it about at least this often. Standing: judgement. */
const USUAL = 0.3;
const MOST = 5;
/** Checks whose answers are tried out. */
const CHECKS_TRIED = 5;

/**
 * Answers "why not this cause?": what speaks against it, what it would have shown, and what one would have to see.
 * @throws TrainingError when there is no such cause
 */
export async function whyNot(room: TrainingRoom, input: CaseInput, cause: string): Promise<WhyNot> {
  const { book } = room.reasoner.knowledge;
  const entry = book.causes.get(cause);
  if (entry === undefined) throw new TrainingError(`there is no cause "${cause}"`);
  const diagnosis = await room.diagnose(input);
  const at = diagnosis.causes.findIndex((one) => one.id === cause);
  const result = diagnosis.causes[at];
  const leader = diagnosis.causes.find((one) => one.id !== cause);
  if (result === undefined || leader === undefined)
    throw new TrainingError(`the diagnosis holds no cause "${cause}"`);
  const standing = await room.weigh(input);
  const reach = singleCauseReach(room.reasoner.graph, standing.prepared.cutLinks);
  const measured = new Set(
    standing.inference.items
      .filter((item) => item.kind === 'measurement')
      .flatMap((item) => item.nodes.map(([node]) => node)),
  );
  const usual = [...book.symptoms.values()]
    .map((sign) => ({ sign: sign.id, label: sign.label, usual: reach(cause, sign.id) }))
    .filter((sign) => sign.usual >= USUAL)
    .sort((a, b) => b.usual - a.usual);
  const wouldNeed = await answersThatRaise(room, input, cause, result.probability, reach);
  const against = result.ledger
    .filter((one) => one.kind !== 'base' && one.decibans <= -0.5)
    .sort((a, b) => a.decibans - b.decibans)
    .slice(0, MOST);
  const missing = usual.filter((sign) => input.observations[sign.sign] === 'absent').slice(0, MOST);
  return {
    cause,
    label: entry.label,
    probability: result.probability,
    rank: at + 1,
    leader: { cause: leader.id, label: leader.label, probability: leader.probability },
    ...(result.ruledOut === undefined ? {} : { ruledOut: result.ruledOut.because }),
    against,
    missing,
    notLooked: usual
      .filter((sign) => input.observations[sign.sign] === undefined && !measured.has(sign.sign))
      .slice(0, MOST),
    wouldNeed,
    words: sayWhyNot(
      causeLabel(book, cause),
      result.probability,
      at + 1,
      result.ruledOut?.because,
      against.length + missing.length,
      wouldNeed[0],
    ),
  };
}

async function answersThatRaise(
  room: TrainingRoom,
  input: CaseInput,
  cause: string,
  now: number,
  reach: (cause: string, node: string) => number,
): Promise<WhyNot['wouldNeed']> {
  const { knowledge, graph } = room.reasoner;
  const open = [...knowledge.book.checks.values()]
    .filter((check) => input.findings[check.id] === undefined)
    .flatMap((check) =>
      Object.entries(check.outcomes)
        .filter(([id]) => graph.kinds.has(`${check.id}:${id}`))
        .map(([id, outcome]) => ({ check, id, outcome, reach: reach(cause, `${check.id}:${id}`) })),
    )
    .filter((one) => one.reach >= 0.15)
    .sort((a, b) => b.reach - a.reach)
    .slice(0, CHECKS_TRIED);
  const found: WhyNot['wouldNeed'][number][] = [];
  for (const one of open) {
    const then = (await room.weigh(withFinding(input, one.check.id, one.id))).probability(cause);
    if (then > now + 0.01)
      found.push({
        check: one.check.id,
        label: one.check.label,
        outcome: one.outcome.label,
        probability: then,
      });
  }
  return found.sort((a, b) => b.probability - a.probability);
}

function sayWhyNot(
  label: string,
  probability: number,
  rank: number,
  ruledOut: string | undefined,
  against: number,
  need: WhyNot['wouldNeed'][number] | undefined,
): string {
  if (ruledOut !== undefined) return say('why-not.cannot-be', { cause: label, why: ruledOut });
  const stands = say('why-not.stands', { cause: label, rank, chance: sayPercent(probability) });
  const why = against === 0 ? say('why-not.none-against') : say('why-not.against', { n: against });
  const what =
    need === undefined
      ? say('why-not.no-check')
      : say('why-not.raise', {
          check: need.label,
          answer: need.outcome,
          chance: sayPercent(need.probability),
        });
  return `${stands} ${why} ${what}`;
}
