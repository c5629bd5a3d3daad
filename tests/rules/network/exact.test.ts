import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compile } from '../../../src/rules/network/compile.js';
import { ImpossibleEvidenceError } from '../../../src/rules/network/errors.js';
import { entriesOf } from '../../../src/rules/network/findings.js';
import type { Posterior, QueryOptions } from '../../../src/rules/network/network.js';
import { type Enumerated, enumerate } from './enumeration.js';
import { type RandomCase, randomCases } from './random-network.js';

const METHODS = ['auto', 'non-negative'] as const;

function expectSame(posterior: Posterior, exact: Enumerated, { network }: RandomCase): void {
  expect(Math.abs(posterior.logEvidence - Math.log(exact.evidence))).toBeLessThan(1e-7);
  for (const node of network.nodes) {
    if (node.kind === 'graded') {
      const grades = posterior.grades.get(node.id) as readonly number[];
      (exact.grades.get(node.id) as number[]).forEach((p, g) => {
        expect(Math.abs((grades[g] as number) - p), `${node.id} grade ${g}`).toBeLessThan(1e-7);
      });
    } else {
      const exactly = exact.marginals.get(node.id) as number;
      expect(Math.abs(posterior.probability(node.id) - exactly), node.id).toBeLessThan(1e-7);
    }
  }
}

describe('exact posterior against the sum over all joint states', () => {
  for (const method of METHODS) {
    for (const [name, wish] of [
      ['few parents', { maxNodes: 11, maxParents: 3 }],
      ['many parents', { maxNodes: 11, maxParents: 9 }],
    ] as const) {
      it(`${method}, ${name}`, () => {
        fc.assert(
          fc.property(randomCases(wish), (random) => {
            const options: QueryOptions = { ...random.options, method, targets: 'all' };
            const exact = enumerate(random.network, random.evidence, options);
            const net = compile(random.network);
            if (exact.evidence === 0) {
              expect(() => net.query(random.evidence, options)).toThrow(ImpossibleEvidenceError);
              return;
            }
            expectSame(net.query(random.evidence, options), exact, random);
          }),
          { numRuns: 250, seed: 20261125 },
        );
      });
    }
  }

  for (const method of METHODS) {
    it(`${method}: observations taken back leave what a query without them gives`, () => {
      fc.assert(
        fc.property(
          randomCases({ maxNodes: 14, maxParents: 6 }),
          fc.nat(),
          ({ network, evidence, options }, chosen) => {
            const net = compile(network);
            let whole: Posterior;
            try {
              whole = net.query(evidence, { ...options, method });
            } catch (error) {
              expect(error).toBeInstanceOf(ImpossibleEvidenceError);
              return;
            }
            const entries = entriesOf(evidence);
            const left = entries.filter((_, i) => (chosen >> i) & 1).map(([id]) => id);
            const rest = new Map(entries.filter(([id]) => !left.includes(id)));
            const asked = compile(network).query(rest, { ...options, method });
            const found = whole.without(left);
            expect(found.logEvidence).toBeCloseTo(asked.logEvidence, 7);
            expect([...found.marginals.keys()]).toEqual([...asked.marginals.keys()]);
            for (const [id, p] of asked.marginals) expect(found.probability(id), id).toBeCloseTo(p, 7);
            expect([...found.grades.keys()]).toEqual([...asked.grades.keys()]);
            for (const [id, grades] of asked.grades)
              for (const g of [0, 1, 2])
                expect(found.grades.get(id)?.[g], id).toBeCloseTo(grades[g] ?? -1, 7);
          },
        ),
        { numRuns: 400, seed: 20261130 },
      );
    });
  }

  for (const method of METHODS) {
    it(`${method}: the chance that two of some nodes are true is the sum over the joint states`, () => {
      fc.assert(
        fc.property(
          randomCases({ maxNodes: 11, maxParents: 6 }),
          fc.nat(),
          fc.boolean(),
          ({ network, evidence, options }, chosen, all) => {
            const { evidence: possible, joint } = enumerate(network, evidence, options);
            if (possible === 0) return;
            const posterior = compile(network).query(evidence, {
              ...options,
              method,
              ...(all ? { targets: 'all' as const } : {}),
            });
            const some = [...posterior.marginals.keys()].filter((_, i) => (chosen >> i) & 1);
            const two = joint.filter(({ state }) => some.filter((id) => state.get(id) === 1).length >= 2);
            const exactly = two.reduce((sum, { probability }) => sum + probability, 0);
            expect(posterior.chanceOfTwo(some)).toBeCloseTo(exactly, 7);
            expect(posterior.chanceOfTwo([...some, ...some])).toBeCloseTo(exactly, 7);
          },
        ),
        { numRuns: 300, seed: 20261130 },
      );
    });
  }

  it('counts in samples how often two nodes are true together where the answer is an estimate', () => {
    const nodes = [
      { id: 'a', leak: 0.6, parents: [] },
      { id: 'b', leak: 0.5, parents: [] },
      {
        id: 'sign',
        leak: 0.1,
        parents: [
          { id: 'a', strength: 0.7 },
          { id: 'b', strength: 0.7 },
        ],
      },
    ];
    const net = compile({ nodes });
    const exactly = net.query({ sign: true }).chanceOfTwo(['a', 'b']);
    const estimate = net.query({ sign: true }, { maxCells: 1, beyondLimit: 'sample' });
    expect(estimate.exact).toBe(false);
    expect(Math.abs(estimate.chanceOfTwo(['a', 'b']) - exactly)).toBeLessThan(0.02);
    expect(() => net.query({ sign: true }).chanceOfTwo(['a', 'c'])).toThrow('unknown node "c"');
  });

  it('takes back only what was observed', () => {
    const net = compile({ nodes: [{ id: 'a', kind: 'noisy-or', leak: 0.1, parents: [] }] });
    expect(() => net.query(new Map([['a', true]])).without(['b'])).toThrow(
      '"b" is not observed, so it cannot be left out',
    );
  });

  it('gives the same for the relevant nodes alone as with every node asked for', () => {
    fc.assert(
      fc.property(randomCases({ maxNodes: 14, maxParents: 6 }), ({ network, evidence, options }) => {
        const net = compile(network);
        let all: Posterior;
        try {
          all = net.query(evidence, { ...options, targets: 'all' });
        } catch (error) {
          expect(error).toBeInstanceOf(ImpossibleEvidenceError);
          return;
        }
        const few = net.query(evidence, options);
        expect(Math.abs(few.logEvidence - all.logEvidence)).toBeLessThan(1e-8);
        for (const [id, p] of few.marginals) expect(Math.abs(p - all.probability(id))).toBeLessThan(1e-8);
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
