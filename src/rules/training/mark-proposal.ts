import { say } from '../../language/say.js';
import { sayPercent } from './plain-words.js';
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
/** Nothing stated is nothing, not a little. */
const percent = (p: number) => (p > 0 ? sayPercent(p) : '0 %');

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
  if (entries.length === 0) return [say('judged.starts-anew')];
  const words: string[] = [];
  for (const entry of entries) {
    const over = entry.confidence - entry.warranted;
    const given = { said: percent(entry.confidence), warranted: percent(entry.warranted) };
    const judged =
      over > OFF
        ? say(entry.right ? 'judged.over-right' : 'judged.over-wrong', given)
        : over < -OFF
          ? say('judged.trust-more', given)
          : say('judged.about-right', given);
    words.push(say(entry.right ? 'judged.right' : 'judged.wrong', { cause: entry.label, judged }));
  }
  for (const cause of missed)
    words.push(
      say(cause.warranted >= 0.15 ? 'judged.missed-known' : 'judged.missed-hidden', {
        cause: cause.label,
        warranted: percent(cause.warranted),
      }),
    );
  return words;
}
