import { COMBINES, EXTENDS, type Operand, strideOf } from './bucket-tree.js';

/** Entries the inner loop aims at. */
const INNER_ENTRIES = 256;

/** The states that meet of one variable: of the result, of the left and of the right operand. */
export type MeetingStates = readonly (readonly number[])[];

/** The tables of a step: result, left and right operand. */
export type StepTables = readonly [out: Operand, left: Operand, right: Operand | undefined];

/** Collects the fields and index tables of the steps of a tree. */
export class StepWriter {
  /** Multiplications of a run forward over the steps written. */
  work = 0;
  private readonly fields: number[] = [];
  private maps = new Int32Array(4096);
  private mapsUsed = 0;

  /**
   * Writes one step.
   * @param pairs the states that meet, by variable of the union
   * @param kind bits of the field `KIND`
   * @param repeat states of the variable summed over, 1 if none
   */
  write(
    [out, left, right]: StepTables,
    union: readonly number[],
    pairs: readonly MeetingStates[],
    kind: number,
    repeat: number,
  ): void {
    let split = 0;
    let inner = 1;
    while (split < union.length && inner < INNER_ENTRIES) inner *= (pairs[split++] as MeetingStates).length;
    let outer = 1;
    for (let d = split; d < pairs.length; d++) outer *= (pairs[d] as MeetingStates).length;
    this.fields.push(left.offset, right === undefined ? -1 : right.offset, out.offset, inner, outer);
    this.writeMaps(left, 1, union, pairs, split);
    this.writeMaps(right, 2, union, pairs, split);
    this.writeMaps((kind & (COMBINES | EXTENDS)) === 0 ? undefined : out, 0, union, pairs, split);
    this.fields.push(kind, repeat);
    this.work += inner * outer;
  }

  /** All that was written, as `BucketTree` keeps it. */
  finish(): { steps: Int32Array; maps: Int32Array } {
    return { steps: Int32Array.from(this.fields), maps: this.maps.slice(0, this.mapsUsed) };
  }

  /** Index tables of the inner and the outer loop for one table of a step. @param which its place in the pairs */
  private writeMaps(
    operand: Operand | undefined,
    which: number,
    union: readonly number[],
    pairs: readonly MeetingStates[],
    split: number,
  ): void {
    if (operand === undefined) this.fields.push(0, 0);
    else
      this.fields.push(
        this.writeMap(operand, which, union, pairs, 0, split),
        this.writeMap(operand, which, union, pairs, split, union.length),
      );
  }

  /** Index table over the variables from one place of the union to another; returns where it starts. */
  private writeMap(
    operand: Operand,
    which: number,
    union: readonly number[],
    pairs: readonly MeetingStates[],
    from: number,
    to: number,
  ): number {
    const start = this.mapsUsed;
    let size = 1;
    for (let d = from; d < to; d++) size *= (pairs[d] as MeetingStates).length;
    const maps = this.makeRoom(start, size);
    maps[start] = 0;
    let end = start + 1;
    for (let d = from; d < to; d++) {
      const stride = strideOf(operand, union[d] as number);
      const block = end - start;
      const states = pairs[d] as MeetingStates;
      if ((states[0] as readonly number[])[which] !== 0)
        throw new Error('the first pair of states must be all zero');
      for (let k = 1; k < states.length; k++) {
        const step = stride * ((states[k] as readonly number[])[which] as number);
        for (let i = 0; i < block; i++) maps[end++] = (maps[start + i] as number) + step;
      }
    }
    this.mapsUsed = end;
    return start;
  }

  private makeRoom(used: number, more: number): Int32Array {
    if (this.maps.length < used + more) {
      const larger = new Int32Array(2 * (used + more));
      larger.set(this.maps.subarray(0, used));
      this.maps = larger;
    }
    return this.maps;
  }
}
