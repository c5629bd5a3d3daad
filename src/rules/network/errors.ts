import type { NodeId } from './network.js';

/** The network, the evidence or an option is wrong; the message names the node, the value and what is allowed. */
export class NetworkError extends Error {
  override name = 'NetworkError';
}

/** The evidence has probability zero under the network. `node` is the item that made it impossible. */
export class ImpossibleEvidenceError extends NetworkError {
  override name = 'ImpossibleEvidenceError';
  readonly node: NodeId;

  constructor(node: NodeId) {
    super(`the observation of "${node}" is impossible together with the evidence given before it`);
    this.node = node;
  }
}

/** An exact run would need more table cells than allowed. */
export class TooComplexError extends NetworkError {
  override name = 'TooComplexError';
  readonly width: number;
  readonly cells: number;

  constructor(width: number, cells: number, limit: number) {
    super(`exact inference needs ${cells} table cells (width ${width}); the limit is ${limit}`);
    this.width = width;
    this.cells = cells;
  }
}
