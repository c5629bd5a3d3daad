import { type Findings, SET, UNKNOWN } from './findings.js';
import type { Structure } from './structure.js';

/**
 * Marks the nodes that bear on the answer: those with evidence, the targets, and all their ancestors. Everything else
 * is barren and sums to one. The way up ends at a node held by an intervention, whose incoming links are cut.
 */
export function findRelevant(structure: Structure, findings: Findings): Uint8Array {
  const relevant = new Uint8Array(structure.ids.length);
  const stack: number[] = [];
  for (let n = 0; n < relevant.length; n++) {
    const state = findings.state[n];
    if (state !== UNKNOWN && state !== SET) visit(n, relevant, stack);
  }
  for (const n of findings.targets) visit(n, relevant, stack);
  for (let n = stack.pop(); n !== undefined; n = stack.pop()) {
    if (findings.state[n] === SET) continue;
    for (let link = structure.linkStart[n] as number; link < (structure.linkStart[n + 1] as number); link++) {
      visit(structure.linkParent[link] as number, relevant, stack);
    }
  }
  return relevant;
}

/** Marks a node and puts it on the stack of those whose parents are to be looked at, unless that was done before. */
function visit(n: number, relevant: Uint8Array, stack: number[]): void {
  if (relevant[n] === 1) return;
  relevant[n] = 1;
  stack.push(n);
}
