import bayesjs from 'bayesjs';
import { describe, expect, it } from 'vitest';
import { compile } from '../../src/rules/network/compile.js';
import type { Network, Observation } from '../../src/rules/network/network.js';
import { toGeneralNetwork } from '../rules/network/general-network.js';
import { buildRandomCase } from '../rules/network/random-network.js';
import { checkOf, layeredNetwork } from './network-checks.js';

/**
 * Source: bayesjs 0.6.5, a general-purpose library with a junction tree of its own. It knows neither noisy-OR nor soft
 * evidence, so it gets full tables and definite observations only.
 */
function definite(evidence: ReadonlyMap<string, Observation>): Map<string, boolean | string> {
  const kept = new Map<string, boolean | string>();
  for (const [id, seen] of evidence)
    if (typeof seen === 'boolean' || typeof seen === 'string') kept.set(id, seen);
  return kept;
}

function expectAgreement(network: Network, evidence: ReadonlyMap<string, boolean | string>): number {
  const given: Record<string, string> = {};
  for (const [id, seen] of evidence) given[id] = typeof seen === 'boolean' ? (seen ? 'T' : 'F') : seen;
  const general = toGeneralNetwork(network);
  const posterior = compile(network).query(evidence as Map<string, Observation>, { targets: 'all' });
  let compared = 0;
  for (const node of network.nodes) {
    if (evidence.has(node.id)) continue;
    if (node.kind === 'graded') {
      ['absent', 'slight', 'marked'].forEach((grade, g) => {
        const theirs = bayesjs.infer(general, { [node.id]: grade }, given);
        expect(Math.abs((posterior.grades.get(node.id)?.[g] as number) - theirs), node.id).toBeLessThan(1e-8);
      });
    } else {
      const theirs = bayesjs.infer(general, { [node.id]: 'T' }, given);
      expect(Math.abs(posterior.probability(node.id) - theirs), node.id).toBeLessThan(1e-8);
    }
    compared++;
  }
  return compared;
}

describe('against a general-purpose library', () => {
  it('random networks of up to 18 nodes', () => {
    let networks = 0;
    for (let seed = 500; networks < 40; seed++) {
      const { network, evidence } = buildRandomCase(seed, { maxNodes: 18, maxParents: 4 });
      const seen = definite(evidence as Map<string, Observation>);
      try {
        compile(network).query(seen as Map<string, Observation>);
      } catch {
        continue; // impossible evidence, on which the library has no answer
      }
      expect(expectAgreement(network, seen)).toBeGreaterThan(0);
      networks++;
    }
  });

  it('the three-layer network', () => {
    const network = layeredNetwork(checkOf('noisy-or-multilayer-all').inputs);
    expect(
      expectAgreement(
        network,
        new Map([
          ['S1', true],
          ['S3', false],
        ]),
      ),
    ).toBe(7);
  });
});
