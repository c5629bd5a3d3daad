import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { Network } from '../../src/rules/network/network.js';

/** A check against something outside the project: inputs, expected values, source and standing. */
export interface NetworkCheck {
  readonly id: string;
  readonly source: string;
  readonly standing: string;
  readonly inputs: Readonly<Record<string, unknown>>;
  readonly expected: Readonly<Record<string, unknown>>;
  readonly tolerance: Tolerance;
}

export interface Tolerance {
  readonly abs?: number;
  readonly rel?: number;
}

const CHECKS = JSON.parse(
  readFileSync(new URL('./data/network-checks.json', import.meta.url), 'utf8'),
) as NetworkCheck[];

export function checkOf(id: string): NetworkCheck {
  const found = CHECKS.find((check) => check.id === id);
  if (found === undefined) throw new Error(`no check "${id}"`);
  return found;
}

/** Asserts |actual - expected| within the tolerance; a missing expected value fails. */
export function nearTo(actual: number | undefined, expected: unknown, { abs = 0, rel = 0 }: Tolerance): void {
  expect(typeof expected).toBe('number');
  const room = abs + rel * Math.abs(expected as number);
  expect(
    Math.abs((actual as number) - (expected as number)),
    `${actual} for ${expected}`,
  ).toBeLessThanOrEqual(room);
}

export function numbersIn(values: unknown): [string, number][] {
  return Object.entries(values as Record<string, number>);
}

export function layeredPriors(inputs: NetworkCheck['inputs']): Map<string, number> {
  return new Map(numbersIn(inputs.priors));
}

/** The layered network of a check: "priors", and by node "parent: strength" with the leak among them. */
export function layeredNetwork(inputs: NetworkCheck['inputs']): Network {
  const families = inputs['noisy-or (parent:c), leak'] as Record<string, Record<string, number>>;
  return {
    nodes: [
      ...[...layeredPriors(inputs)].map(([id, leak]) => ({ id, leak, parents: [] })),
      ...Object.entries(families).map(([id, { leak, ...links }]) => ({
        id,
        leak: leak as number,
        parents: Object.entries(links).map(([parent, strength]) => ({ id: parent, strength })),
      })),
    ],
  };
}
