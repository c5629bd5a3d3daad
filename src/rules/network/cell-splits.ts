import { type Step, strideOf } from './bucket-tree.js';
import { type Pairing, pairStates } from './state-pairs.js';

/** The ways in which a cell of a product comes about, for one pattern of its combined levels. */
export interface Splits {
  /** Offsets in the operands, relative to the states that the cell fixes. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** By variable (the summed one, then the combined ones): its state in the left and in the right operand, for each way. */
  readonly choices: readonly { readonly left: Uint8Array; readonly right: Uint8Array }[];
}

/** Variables of a step that pair up otherwise than state by equal state. */
export function combinedOf(step: Step): number[] {
  return step.union.filter((_, d) => step.pairings[d] !== 'same');
}

/** All ways to come to a cell whose combined levels are those of `pattern` (mixed base, first variable first). */
export function listSplits(
  step: Step,
  combined: readonly number[],
  pattern: number,
  cards: readonly number[],
): Splits {
  const variables = step.summed >= 0 ? [step.summed, ...combined] : combined;
  let rest = pattern;
  const choices = variables.map((v) => {
    const card = cards[v] as number;
    if (v === step.summed) return Array.from({ length: card }, (_, x) => [x, x] as const);
    const level = rest % card;
    rest = Math.floor(rest / card);
    const pairing = step.pairings[step.union.indexOf(v)] as Pairing;
    return pairStates(card, pairing).flatMap(([out, a, b]) => (out === level ? [[a, b] as const] : []));
  });
  const size = choices.reduce((product, options) => product * options.length, 1);
  const left = new Int32Array(size);
  const right = new Int32Array(size);
  let block = 1;
  variables.forEach((v, d) => {
    const options = choices[d] as readonly (readonly [number, number])[];
    const byLeft = strideOf(step.left, v);
    const byRight = strideOf(step.right, v);
    // The last option first: the block it is made from is overwritten by the first one.
    for (let k = options.length - 1; k >= 0; k--) {
      const [a, b] = options[k] as readonly [number, number];
      for (let i = 0; i < block; i++) {
        left[k * block + i] = (left[i] as number) + a * byLeft;
        right[k * block + i] = (right[i] as number) + b * byRight;
      }
    }
    block *= options.length;
  });
  let stride = 1;
  return {
    left,
    right,
    choices: choices.map((options) => {
      const ofLeft = new Uint8Array(size);
      const ofRight = new Uint8Array(size);
      for (let way = 0; way < size; way++) {
        const [a, b] = options[Math.floor(way / stride) % options.length] as readonly [number, number];
        ofLeft[way] = a;
        ofRight[way] = b;
      }
      stride *= options.length;
      return { left: ofLeft, right: ofRight };
    }),
  };
}
