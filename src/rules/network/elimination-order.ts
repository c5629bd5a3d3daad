import { seededRandom } from './random.js';

/** An order of elimination and what it costs. */
export interface EliminationOrder {
  readonly order: Int32Array;
  /** Sum over the eliminated variables of the cells of their tables. */
  readonly cells: number;
  /** Largest number of variables in one table, less one. */
  readonly width: number;
}

type Rule = 'fill' | 'weight';

/** Orders this cheap are not worth a further try. */
const CHEAP_CELLS = 4_000;
/** Cells to be saved that pay for one more try. */
const MORE_TRIES: readonly [cells: number, tries: number][] = [
  [CHEAP_CELLS, 2],
  [60_000, 4],
  [400_000, 8],
];

function bitCount(word: number): number {
  let x = word - ((word >>> 1) & 0x55555555);
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  return Math.imul((x + (x >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

function neighbours(scopes: readonly (readonly number[])[], count: number, words: number): Int32Array {
  const adjacent = new Int32Array(count * words);
  for (const scope of scopes) {
    for (const u of scope) {
      for (const v of scope) {
        if (u === v) continue;
        const at = u * words + (v >> 5);
        adjacent[at] = (adjacent[at] as number) | (1 << (v & 31));
      }
    }
  }
  return adjacent;
}

/**
 * One greedy order. `fill` takes the variable whose elimination joins the fewest strangers, ties by table size;
 * `weight` the one with the smallest table, ties by fill. Last ties by `random`, if given.
 */
function orderGreedily(
  start: Int32Array,
  cards: readonly number[],
  words: number,
  rule: Rule,
  random: (() => number) | undefined,
): EliminationOrder {
  const count = cards.length;
  const adjacent = start.slice();
  const logCards = cards.map((card) => Math.log2(card));
  const gone = new Uint8Array(count);
  const stale = new Uint8Array(count).fill(1);
  const fill = new Float64Array(count);
  const weight = new Float64Array(count);
  const order = new Int32Array(count);
  const around: number[] = [];
  const listAround = (v: number): void => {
    around.length = 0;
    for (let w = 0; w < words; w++) {
      let word = adjacent[v * words + w] as number;
      while (word !== 0) {
        const bit = 31 - Math.clz32(word & -word);
        around.push((w << 5) | bit);
        word &= word - 1;
      }
    }
  };
  const measure = (v: number): void => {
    listAround(v);
    let missing = 0;
    let size = logCards[v] as number;
    for (const u of around) {
      size += logCards[u] as number;
      let shared = 0;
      for (let w = 0; w < words; w++) {
        shared += bitCount((adjacent[v * words + w] as number) & (adjacent[u * words + w] as number));
      }
      missing += around.length - 1 - shared;
    }
    fill[v] = missing / 2;
    weight[v] = size;
    stale[v] = 0;
  };
  let cells = 0;
  let width = 0;
  for (let step = 0; step < count; step++) {
    let best = -1;
    let ties = 1;
    for (let v = 0; v < count; v++) {
      if (gone[v] === 1) continue;
      if (stale[v] === 1) measure(v);
      if (best < 0) {
        best = v;
        continue;
      }
      const byFill = (fill[v] as number) - (fill[best] as number);
      const byWeight = (weight[v] as number) - (weight[best] as number);
      const better = rule === 'fill' ? byFill || byWeight : byWeight || byFill;
      if (better < 0) {
        best = v;
        ties = 1;
      } else if (better === 0 && random !== undefined && random() * ++ties < 1) best = v;
    }
    order[step] = best;
    gone[best] = 1;
    listAround(best);
    cells += 2 ** (weight[best] as number);
    width = Math.max(width, around.length);
    const joins = (fill[best] as number) > 0;
    const circle = [...around];
    for (const u of circle) {
      const row = u * words;
      if (joins) {
        // Whoever knows two members of the circle may see its fill change.
        for (let w = 0; w < words; w++) {
          let word = adjacent[row + w] as number;
          while (word !== 0) {
            stale[(w << 5) | (31 - Math.clz32(word & -word))] = 1;
            word &= word - 1;
          }
        }
      }
      stale[u] = 1;
    }
    for (const u of circle) {
      const row = u * words;
      if (joins) {
        for (let w = 0; w < words; w++) {
          adjacent[row + w] = (adjacent[row + w] as number) | (adjacent[best * words + w] as number);
        }
        adjacent[row + (u >> 5)] = (adjacent[row + (u >> 5)] as number) & ~(1 << (u & 31));
      }
      adjacent[row + (best >> 5)] = (adjacent[row + (best >> 5)] as number) & ~(1 << (best & 31));
    }
  }
  return { order, cells: Math.round(cells), width };
}

/**
 * A cheap order of elimination for factors with these scopes: min-fill and min-weight, then seeded tries with random ties
 * while the tables are large enough to pay for them. Always the same for the same input.
 */
export function findEliminationOrder(
  scopes: readonly (readonly number[])[],
  cards: readonly number[],
): EliminationOrder {
  const words = (cards.length + 31) >> 5;
  const adjacent = neighbours(scopes, cards.length, words);
  const random = seededRandom(1);
  let best = orderGreedily(adjacent, cards, words, 'fill', undefined);
  for (let tried = 1; ; tried++) {
    let allowed = 1;
    for (const [cells, tries] of MORE_TRIES) if (best.cells > cells) allowed = tries;
    if (tried >= allowed) return best;
    const next = orderGreedily(
      adjacent,
      cards,
      words,
      tried === 1 ? 'weight' : 'fill',
      tried === 1 ? undefined : random,
    );
    if (next.cells < best.cells) best = next;
  }
}
