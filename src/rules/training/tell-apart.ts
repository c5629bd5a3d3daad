import { singleCauseReach } from '../diagnosis/single-cause-reach.js';
import { checkMinutes, type TrainingRoom } from './room.js';

/** A check that tells two causes apart, with the answer that does it. */
export interface TellingCheck {
  readonly check: string;
  readonly label: string;
  readonly outcome: string;
  /** The cause that the answer speaks for. */
  readonly speaksFor: string;
  /** How often the answer comes with that cause, and with the other one, 0–1. */
  readonly with: number;
  readonly without: number;
}

/** An answer must come this much oftener with the one cause to be worth naming. Standing: judgement. */
const LEAST_DIFFERENCE = 0.25;
/** Minutes that count as much as a difference of one tenth. Standing: judgement. */
const MINUTES_A_TENTH = 15;
/** No frame in particular: every link holds. One list, since reach is kept by it. */
const NOTHING_CUT: readonly never[] = [];

/**
 * The check that best tells two causes apart for its minutes, on a frame in general; undefined when no single answer
 * does.
 */
export function tellApart(room: TrainingRoom, one: string, other: string): TellingCheck | undefined {
  const { graph, knowledge } = room.reasoner;
  const reach = singleCauseReach(graph, NOTHING_CUT);
  const found = [...knowledge.book.checks.values()].flatMap((check) =>
    Object.entries(check.outcomes).flatMap(([id, outcome]) => {
      const node = `${check.id}:${id}`;
      if (!graph.kinds.has(node)) return [];
      const [first, second] = [reach(one, node), reach(other, node)];
      const difference = Math.abs(first - second);
      if (difference < LEAST_DIFFERENCE) return [];
      const minutes = checkMinutes(check, knowledge.judgements);
      return [
        {
          worth: difference - (0.1 * minutes) / MINUTES_A_TENTH,
          telling: {
            check: check.id,
            label: check.label,
            outcome: outcome.label,
            speaksFor: first > second ? one : other,
            with: Math.max(first, second),
            without: Math.min(first, second),
          },
        },
      ];
    }),
  );
  return found.sort((a, b) => b.worth - a.worth)[0]?.telling;
}
