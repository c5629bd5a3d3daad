import { causeLabel, type Standing, type TrainingRoom } from './room.js';
import { brierScore, logScore } from './scores.js';
import { lookMinutes, walkSearch } from './search-walk.js';

/** The causes a trainee put forward, marked against the truth and against what could be known. */
export interface MarkedProposal {
  readonly entries: readonly {
    readonly cause: string;
    readonly label: string;
    /** What the trainee said, 0–1. */
    readonly confidence: number;
    /** What the product made of the same findings, 0–1. */
    readonly warranted: number;
    readonly right: boolean;
  }[];
  /** True causes that were not put forward. */
  readonly missed: readonly { readonly cause: string; readonly label: string; readonly warranted: number }[];
  readonly brier: number;
  readonly log: number;
  /** The same scores for the product's own confidences in the same causes. */
  readonly warrantedBrier: number;
  readonly warrantedLog: number;
  /** Minutes until the true causes are come to when the proposals are followed up in order of confidence. */
  readonly searchMinutes: number;
  readonly words: readonly string[];
}

/** Confidence and what was known differ noticeably from here on. Standing: judgement. */
const OFF = 0.25;
const percent = (p: number) => (p > 0 && p < 0.01 ? 'under 1 %' : `${Math.round(100 * p)} %`);

/**
 * Marks the proposal of an attempt. Scores are proper: nothing beats stating what one really believes.
 *
 * @param proposal confidences 0–1 by cause; empty when nothing was proposed
 * @param standing how the case stood with the findings made until then
 */
export function markProposal(
  room: TrainingRoom,
  standing: Standing,
  proposal: Readonly<Record<string, number>>,
  truth: readonly string[],
): MarkedProposal {
  const { book, judgements } = room.reasoner.knowledge;
  const label = (id: string) => causeLabel(book, id);
  const stated = new Map(Object.entries(proposal));
  const named = [...stated].sort(([, a], [, b]) => b - a);
  const concerned = new Set([...stated.keys(), ...truth]);
  const warranted = new Map([...concerned].map((id) => [id, standing.probability(id)]));
  const looks = named
    .filter(([, confidence]) => confidence > 0)
    .map(([cause]) => ({
      cause,
      minutes: lookMinutes(standing.probability(cause), book.causes.get(cause)?.['trace-minutes'] ?? 30),
    }));
  const entries = named.map(([cause, confidence]) => ({
    cause,
    label: label(cause),
    confidence,
    warranted: standing.probability(cause),
    right: truth.includes(cause),
  }));
  const missed = truth
    .filter((cause) => !stated.has(cause))
    .map((cause) => ({ cause, label: label(cause), warranted: standing.probability(cause) }));
  return {
    entries,
    missed,
    brier: brierScore(stated, truth),
    log: logScore(stated, truth),
    warrantedBrier: brierScore(warranted, truth),
    warrantedLog: logScore(warranted, truth),
    searchMinutes: walkSearch(looks, truth, judgements['search-hand-over']),
    words: sayProposal(entries, missed),
  };
}

function sayProposal(entries: MarkedProposal['entries'], missed: MarkedProposal['missed']): string[] {
  if (entries.length === 0)
    return ['No cause was put forward, so the search starts anew with somebody else.'];
  const words: string[] = [];
  for (const entry of entries) {
    const verdict = entry.right ? 'was at work' : 'was not at work';
    const over = entry.confidence - entry.warranted;
    const judged =
      over > OFF
        ? `You gave ${percent(entry.confidence)}; what was found warranted ${percent(entry.warranted)}. ${entry.right ? 'It came out well this time, but you were surer than the findings allowed.' : 'You were surer than the findings allowed.'}`
        : over < -OFF
          ? `You gave ${percent(entry.confidence)}; what was found warranted ${percent(entry.warranted)}. You may trust your findings more.`
          : `You gave ${percent(entry.confidence)}, about what the findings warranted (${percent(entry.warranted)}).`;
    words.push(`“${entry.label}” ${verdict}. ${judged}`);
  }
  for (const cause of missed)
    words.push(
      cause.warranted >= 0.15
        ? `“${cause.label}” was at work and is missing from your list, although the findings gave it ${percent(cause.warranted)}.`
        : `“${cause.label}” was at work. With these findings nobody could have put it high (${percent(cause.warranted)}); another check would have been needed.`,
    );
  return words;
}
