import { type Step, strideOf } from './bucket-tree.js';
import { type Pairing, type Ways, waysFromAll, waysTo } from './state-pairs.js';

/** The ways in which a cell of a product comes about, for one pattern of its combined levels. */
export interface Splits {
  /** Offsets in the operands, relative to the states that the cell fixes. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** By variable (the summed one, then the combined ones): its state in the left and in the right operand, for each way. */
  readonly choices: readonly Ways[];
}

const NONE: readonly number[] = [];

/** Variables of a step that pair up otherwise than state by equal state. */
export function combinedOf(step: Step): readonly number[] {
  let combined: number[] | undefined;
  for (let d = 0; d < step.union.length; d++) {
    if (step.pairings[d] === 'same') continue;
    combined ??= [];
    combined.push(step.union[d] as number);
  }
  return combined ?? NONE;
}

/** The ways in which one variable of a step comes to a state of the result; all its states if it is the one summed over. */
export function waysOf(step: Step, v: number, card: number, state: number): Ways {
  if (v === step.summed) return waysFromAll(card);
  return waysTo(card, step.pairings[step.union.indexOf(v)] as Pairing)[state] as Ways;
}

/** All ways to come to a cell whose combined levels are those of `pattern` (mixed base, first variable first). */
export function listSplits(
  step: Step,
  combined: readonly number[],
  pattern: number,
  cards: readonly number[],
): Splits {
  const variables = step.summed >= 0 ? [step.summed, ...combined] : combined;
  const options: Ways[] = [];
  let rest = pattern;
  let size = 1;
  for (const v of variables) {
    const card = cards[v] as number;
    const ways = waysOf(step, v, card, rest % card);
    if (v !== step.summed) rest = Math.floor(rest / card);
    size *= ways.left.length;
    options.push(ways);
  }
  const left = new Int32Array(size);
  const right = new Int32Array(size);
  const choices: Ways[] = [];
  let block = 1;
  for (let d = 0; d < options.length; d++) {
    const ways = options[d] as Ways;
    const v = variables[d] as number;
    spreadOffsets(left, block, ways.left, strideOf(step.left, v));
    spreadOffsets(right, block, ways.right, strideOf(step.right, v));
    choices.push({
      left: repeatStates(ways.left, block, size),
      right: repeatStates(ways.right, block, size),
    });
    block *= ways.left.length;
  }
  return { left, right, choices };
}

/** Goes from the offsets of `block` ways to those of each of them with each of these states. */
function spreadOffsets(offsets: Int32Array, block: number, states: Uint8Array, stride: number): void {
  // The last state first: the block they are made from is overwritten by the first one.
  for (let k = states.length - 1; k >= 0; k--) {
    const step = (states[k] as number) * stride;
    for (let i = 0; i < block; i++) offsets[k * block + i] = (offsets[i] as number) + step;
  }
}

/** The states over all ways, each for a block of ways. */
function repeatStates(states: Uint8Array, block: number, size: number): Uint8Array {
  const repeated = new Uint8Array(size);
  for (let way = 0; way < size; )
    for (let k = 0; k < states.length; k++)
      for (let i = 0; i < block; i++) repeated[way++] = states[k] as number;
  return repeated;
}
