import { keepLayout } from '../keep-layout.js';
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

/** One greedy order in the making, on a copy of the graph of neighbours. */
class GreedyOrder {
  private readonly adjacent: Int32Array;
  private readonly logCards: Float64Array;
  private readonly gone: Uint8Array;
  private readonly stale: Uint8Array;
  /** Pairs of strangers that the elimination of a variable would join, and the logarithm of its table's size. */
  private readonly fill: Float64Array;
  private readonly weight: Float64Array;
  /** Neighbours of the variable looked at last. */
  private readonly around: number[] = [];

  constructor(
    start: Int32Array,
    cards: readonly number[],
    private readonly words: number,
  ) {
    this.adjacent = start.slice();
    this.logCards = Float64Array.from(cards, Math.log2);
    this.gone = new Uint8Array(cards.length);
    this.stale = new Uint8Array(cards.length).fill(1);
    this.fill = new Float64Array(cards.length);
    this.weight = new Float64Array(cards.length);
  }

  /**
   * Eliminates all variables. `fill` takes the one whose elimination joins the fewest strangers, ties by table size;
   * `weight` the one with the smallest table, ties by fill. Last ties by `random`, if given.
   */
  run(rule: Rule, random: (() => number) | undefined): EliminationOrder {
    const count = this.gone.length;
    const order = new Int32Array(count);
    let cells = 0;
    let width = 0;
    for (let step = 0; step < count; step++) {
      const best = this.findBest(rule, random);
      order[step] = best;
      this.gone[best] = 1;
      this.listAround(best);
      cells += 2 ** (this.weight[best] as number);
      width = Math.max(width, this.around.length);
      this.eliminate(best);
    }
    return { order, cells: Math.round(cells), width };
  }

  private findBest(rule: Rule, random: (() => number) | undefined): number {
    const { fill, gone, stale, weight } = this;
    let best = -1;
    let ties = 1;
    for (let v = 0; v < gone.length; v++) {
      if (gone[v] === 1) continue;
      if (stale[v] === 1) this.measure(v);
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
    return best;
  }

  private listAround(v: number): void {
    const { adjacent, around, words } = this;
    around.length = 0;
    for (let w = 0; w < words; w++) {
      let word = adjacent[v * words + w] as number;
      while (word !== 0) {
        const bit = 31 - Math.clz32(word & -word);
        around.push((w << 5) | bit);
        word &= word - 1;
      }
    }
  }

  private measure(v: number): void {
    this.listAround(v);
    const { adjacent, around, logCards, words } = this;
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
    this.fill[v] = missing / 2;
    this.weight[v] = size;
    this.stale[v] = 0;
  }

  /** Takes a variable out of the graph and joins its neighbours, which `around` holds. */
  private eliminate(gone: number): void {
    const { adjacent, around, stale, words } = this;
    const joins = (this.fill[gone] as number) > 0;
    for (const u of around) {
      // Whoever knows two members of the circle may see its fill change.
      if (joins) this.markNeighbours(u);
      stale[u] = 1;
    }
    for (const u of around) {
      const row = u * words;
      if (joins) {
        for (let w = 0; w < words; w++) {
          adjacent[row + w] = (adjacent[row + w] as number) | (adjacent[gone * words + w] as number);
        }
        adjacent[row + (u >> 5)] = (adjacent[row + (u >> 5)] as number) & ~(1 << (u & 31));
      }
      adjacent[row + (gone >> 5)] = (adjacent[row + (gone >> 5)] as number) & ~(1 << (gone & 31));
    }
  }

  private markNeighbours(u: number): void {
    const { adjacent, stale, words } = this;
    for (let w = 0; w < words; w++) {
      let word = adjacent[u * words + w] as number;
      while (word !== 0) {
        stale[(w << 5) | (31 - Math.clz32(word & -word))] = 1;
        word &= word - 1;
      }
    }
  }
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
  let best = keepLayout(new GreedyOrder(adjacent, cards, words)).run('fill', undefined);
  for (let tried = 1; ; tried++) {
    let allowed = 1;
    for (const [cells, tries] of MORE_TRIES) if (best.cells > cells) allowed = tries;
    if (tried >= allowed) return best;
    const next = keepLayout(new GreedyOrder(adjacent, cards, words)).run(
      tried === 1 ? 'weight' : 'fill',
      tried === 1 ? undefined : random,
    );
    if (next.cells < best.cells) best = next;
  }
}
