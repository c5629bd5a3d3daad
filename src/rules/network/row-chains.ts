/** Cells up to this number keep their chains of rows in an array. */
const SMALL = 8192;

/** Rows by the cell they are in: those of one cell hang together as a chain, each row pointing to the one before it. */
export class RowChains {
  /** Row before each in its cell, -1 for none. */
  readonly before: Int32Array;
  /** Last row of each cell that occurs, in the order in which the cells first occur. */
  readonly last: Int32Array;
  /** Rows in the chain that ends at a row. */
  readonly length: Int32Array;
  private readonly cell: Int32Array;
  /** Cell of each chain. */
  private readonly cells: Int32Array;
  private readonly lastOf = new Int32Array(SMALL).fill(-1);

  /** @param count rows */
  constructor(private readonly count: number) {
    this.before = new Int32Array(count);
    this.last = new Int32Array(count);
    this.length = new Int32Array(count);
    this.cell = new Int32Array(count);
    this.cells = new Int32Array(count);
  }

  /**
   * Chains the rows whose states are the same in all columns.
   * @param strides step in the number of cells by one state of each column, 1 for the first
   * @param size how many cells there are
   * @returns how many occur
   */
  chain(columns: readonly Uint8Array[], strides: readonly number[], size: number): number {
    this.number(columns, strides);
    return size <= SMALL ? this.chainSmall() : this.chainLarge();
  }

  /** Gives all rows of a chain the same states, in two columns that begin as zeros. @param last its last row */
  set(last: number, left: number, right: number, toLeft: Uint8Array, toRight: Uint8Array): void {
    if (left === 0 && right === 0) return;
    const { before } = this;
    for (let row = last; row >= 0; row = before[row] as number) {
      toLeft[row] = left;
      toRight[row] = right;
    }
  }

  private number(columns: readonly Uint8Array[], strides: readonly number[]): void {
    const { cell, count } = this;
    const [first, second] = columns;
    if (first === undefined) cell.fill(0);
    else if (second === undefined) cell.set(first);
    else {
      const stride = strides[1] as number;
      for (let row = 0; row < count; row++)
        cell[row] = (first[row] as number) + stride * (second[row] as number);
    }
    for (let d = 2; d < columns.length; d++) {
      const column = columns[d] as Uint8Array;
      const stride = strides[d] as number;
      for (let row = 0; row < count; row++)
        cell[row] = (cell[row] as number) + stride * (column[row] as number);
    }
  }

  private chainSmall(): number {
    const { before, cell, cells, count, last, lastOf, length } = this;
    let found = 0;
    for (let row = 0; row < count; row++) {
      const at = cell[row] as number;
      const previous = lastOf[at] as number;
      if (previous < 0) cells[found++] = at;
      before[row] = previous;
      length[row] = previous < 0 ? 1 : (length[previous] as number) + 1;
      lastOf[at] = row;
    }
    for (let c = 0; c < found; c++) {
      const at = cells[c] as number;
      last[c] = lastOf[at] as number;
      lastOf[at] = -1;
    }
    return found;
  }

  private chainLarge(): number {
    const { before, cell, count, last, length } = this;
    const chainOf = new Map<number, number>();
    for (let row = 0; row < count; row++) {
      const at = cell[row] as number;
      let chain = chainOf.get(at);
      if (chain === undefined) {
        chain = chainOf.size;
        chainOf.set(at, chain);
        before[row] = -1;
        length[row] = 1;
      } else {
        const previous = last[chain] as number;
        before[row] = previous;
        length[row] = (length[previous] as number) + 1;
      }
      last[chain] = row;
    }
    return chainOf.size;
  }
}
