import { say } from '../language/say.js';
import { requireWhole } from './checks.js';
import { StatisticsError } from './errors.js';

/** A changed position and the unchanged one beside it. */
export interface TrialPair {
  readonly changed: number;
  readonly control: number;
  /** Section of both, counted from 1. */
  readonly section: number;
}

/** Which positions carry the change, and when. */
export interface TrialLayout {
  readonly pairs: readonly TrialPair[];
  /**
   * Four equal blocks in the order A B B A: in A the pairs run as listed, in B the parts are exchanged within each pair, so that
   * differences between positions and any steady drift cancel.
   */
  readonly blocks: readonly {
    readonly block: number;
    readonly changed: readonly number[];
    readonly control: readonly number[];
  }[];
  readonly words: string;
}

/** What the choice depends on. */
export interface TrialLayoutRequest {
  /** Positions on the frame (one side, numbered along it), 2 or more. */
  readonly positions: number;
  readonly sectionSize: number;
  /** Number of changed positions wanted. */
  readonly pairs: number;
  /** Positions not to be used: known bad ones, ends, special lots. */
  readonly exclude?: readonly number[];
}

/**
 * Chooses pairs of neighbours inside one section, spread evenly over the frame, the changed one now left and now right of its
 * control. The same request always gives the same choice. Positions are numbered from 1.
 */
export function chooseTrialPositions(request: TrialLayoutRequest): TrialLayout {
  const positions = requireWhole('positions', request.positions, 2, 5000);
  const sectionSize = requireWhole('sectionSize', request.sectionSize, 2, positions);
  const wanted = requireWhole('pairs', request.pairs, 1);
  const excluded = new Set(request.exclude ?? []);
  for (const position of excluded) requireWhole('exclude', position, 1, positions);

  // All free neighbouring pairs of a section, taken one after the other without overlap.
  const free: { readonly first: number; readonly section: number }[] = [];
  for (let start = 1; start <= positions; start += sectionSize) {
    const end = Math.min(positions, start + sectionSize - 1);
    for (let position = start; position < end; position++) {
      if (excluded.has(position) || excluded.has(position + 1)) continue;
      free.push({ first: position, section: Math.ceil(position / sectionSize) });
      position++;
    }
  }
  if (free.length < wanted) {
    throw new StatisticsError(
      'pairs',
      wanted,
      say('count-allowed.pairs-most', { n: free.length, positions, excluded: excluded.size }),
    );
  }
  const pairs: TrialPair[] = [];
  for (let i = 0; i < wanted; i++) {
    // The middle of each of `wanted` equal stretches of the list.
    const place = free[Math.floor(((i + 0.5) * free.length) / wanted)];
    if (place === undefined) continue;
    const { first, section } = place;
    pairs.push(
      i % 2 === 0
        ? { changed: first, control: first + 1, section }
        : { changed: first + 1, control: first, section },
    );
  }
  const listed = { changed: pairs.map((pair) => pair.changed), control: pairs.map((pair) => pair.control) };
  const exchanged = { changed: listed.control, control: listed.changed };
  const blocks = [listed, exchanged, exchanged, listed].map((sides, index) => ({
    block: index + 1,
    ...sides,
  }));
  return {
    pairs,
    blocks,
    words: say('count-quick.layout', {
      pairs: pairs.length,
      sections: new Set(pairs.map((pair) => pair.section)).size,
    }),
  };
}
