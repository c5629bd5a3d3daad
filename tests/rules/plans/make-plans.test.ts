import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveSetup } from '../../../src/rules/case/resolve-setup.js';
import { limitOf } from '../../../src/rules/diagnosis/margins.js';
import { forbiddenSetup } from '../../../src/rules/plans/constraints.js';
import { makePlans, type PlanRequest } from '../../../src/rules/plans/make-plans.js';
import { loadPlanBook } from '../../../src/rules/plans/plan-book.js';
import { PLAN_LIMITS, type PlanLimit } from '../../../src/rules/plans/types.js';
import { computeState } from '../../../src/spinning/model.js';
import { centralParameters } from '../../../src/spinning/parameters.js';
import { caseOf, diagnostician, KNIT, KNIT_SETUP, knowledge, POLYESTER_SETUP, WARP_SETUP } from './cases.js';

/** Small option lists, so that a property can be tried often. */
const SMALL: PlanRequest = {
  options: {
    texture: ['smooth', 'spiral', '4-notches', '8-notches'],
    'nozzle-radius': [2.5, 4, 5],
    'nozzle-material': ['ceramic', 'ceramic-head'],
    'nozzle-protrusion': [-1, 2],
    'tube-bend': [15, 60],
    insert: ['none', '2-groove'],
    twist: [-6, -2, 4, 8],
    'rotor-speed': [-5, 5],
  },
};

const setups = fc.record({
  use: fc.constantFrom(KNIT_SETUP, WARP_SETUP, POLYESTER_SETUP),
  sign: fc.constantFrom('end-breaks: marked', 'hairy: marked', 'harsh: slight', 'fly-machine: marked'),
  limits: fc.subarray([...PLAN_LIMITS]) as fc.Arbitrary<PlanLimit[]>,
});

describe('plans', () => {
  it('keep every limit that was asked for, and the limits of the end use', () => {
    const plans = loadPlanBook();
    const parameters = centralParameters(knowledge.parameters);
    fc.assert(
      fc.property(setups, ({ use, sign, limits }) => {
        const input = caseOf(`${use}\nobservations: {${sign}}`);
        const report = makePlans(knowledge, input, { ...SMALL, limits, draws: 32 });
        const resolved = resolveSetup(input.given, {
          endUses: knowledge.endUses,
          fibres: knowledge.parameters.fibres,
        });
        const usual = computeState(resolved.usual, parameters);
        const now = computeState(report.before, parameters);
        for (const plan of report.efficient) {
          if (limits.includes('dont-lose-output'))
            expect(plan.effects.output.value).toBeGreaterThanOrEqual(-1e-6);
          if (limits.includes('hairiness-no-worse'))
            expect(plan.effects.hairiness.value).toBeLessThanOrEqual(1e-6);
          if (limits.includes('hand-no-worse')) expect(plan.effects.hand.value).toBeGreaterThanOrEqual(-0.5);
          if (limits.includes('no-new-parts'))
            expect(plan.cost.parts.filter((part) => !part.includes('washers'))).toEqual([]);
          if (limits.includes('this-yarn-only'))
            expect(plan.changes.every((change) => ['twist', 'rotor-speed'].includes(change.setting))).toBe(
              true,
            );
          expect(plan.changes.length).toBeLessThanOrEqual(3);
          expect(new Set(plan.changes.map((change) => change.setting)).size).toBe(plan.changes.length);
        }
        // The recommended setup itself, computed afresh.
        const after = computeState(report.after, parameters);
        for (const [field, on] of [
          ['hairinessIndex', 'hairiness'],
          ['softnessIndex', 'softness'],
          ['flyIndex', 'fly'],
          ['outputGPerRotorH', 'output'],
        ] as const) {
          const { least, most } = limitOf(resolved.endUse, on);
          const percent = (state: typeof after) => 100 * (state[field] / usual[field] - 1);
          expect(percent(after)).toBeLessThanOrEqual(Math.max(most, percent(now)) + 1e-6);
          expect(percent(after)).toBeGreaterThanOrEqual(Math.min(least, percent(now)) - 1e-6);
        }
        expect(forbiddenSetup(report.after, { knowledge, plans, endUse: resolved.endUse })).toBeUndefined();
      }),
      { numRuns: 25 },
    );
  });

  it('are the same every time', () => {
    const strip = ({ milliseconds: _unused, ...rest }: ReturnType<typeof makePlans>) => rest;
    const once = makePlans(knowledge, caseOf(KNIT), SMALL);
    expect(strip(makePlans(knowledge, caseOf(KNIT), SMALL))).toEqual(strip(once));
  });

  it('count every combination and say why the rest is out', () => {
    const report = makePlans(knowledge, caseOf(KNIT_SETUP), {
      options: {
        texture: ['spiral', '3-notches'],
        'nozzle-radius': [],
        'nozzle-material': [],
        'nozzle-protrusion': [],
        'tube-bend': [],
        insert: ['smooth', '1-groove'],
        twist: [2],
        'rotor-speed': [],
      },
    });
    // none; 5 alone; 2·2 + 2·1 + 2·1 in pairs; 2·2·1 in threes
    expect(report.tried).toBe(1 + 5 + 8 + 4);
    expect(report.allowed + report.refused.reduce((sum, one) => sum + one.count, 0)).toBe(report.tried);
  });

  it('never run a frame in trouble worse than it runs, unless it runs surely', async () => {
    const input = caseOf(KNIT);
    const report = makePlans(knowledge, input, { ...SMALL, ranking: await diagnostician.rank(input) });
    expect(report.present.effects.chance).toBeLessThan(0.9);
    for (const plan of report.efficient)
      expect(plan.effects.chance).toBeGreaterThanOrEqual(report.present.effects.chance - 0.05);
    expect(report.recommended?.effects.chance ?? 0).toBeGreaterThan(report.present.effects.chance);
  });

  it('take the diagnosis into account: tapering tails lower the chance that the twist suffices', async () => {
    const input = caseOf(KNIT);
    const alone = makePlans(knowledge, input, SMALL);
    const diagnosed = makePlans(knowledge, input, { ...SMALL, ranking: await diagnostician.rank(input) });
    expect(diagnosed.present.effects.margins.twist).toBeLessThan(alone.present.effects.margins.twist - 0.1);
    expect(diagnosed.present.effects.margins.tension).toBeGreaterThan(
      alone.present.effects.margins.tension - 0.05,
    );
  });

  it('offer only stocked parts', () => {
    const report = makePlans(knowledge, caseOf(KNIT), {
      stock: {
        nozzles: [{ texture: '3-notches', radiusMm: 4, material: 'ceramic' }],
        inserts: [],
        tubesDeg: [],
        washersMm: [],
      },
    });
    const changed = new Set(report.efficient.flatMap((plan) => plan.changes.map((change) => change.setting)));
    expect(
      [...changed].filter((setting) =>
        ['insert', 'tube-bend', 'nozzle-protrusion', 'nozzle-radius', 'nozzle-material'].includes(setting),
      ),
    ).toEqual([]);
    for (const plan of report.efficient)
      for (const change of plan.changes.filter((one) => one.setting === 'texture'))
        expect(change.to).toBe('3 notches');
    expect(report.efficient.some((plan) => plan.changes.some((change) => change.setting === 'texture'))).toBe(
      true,
    );
  });

  it('leave fixed what may not move', () => {
    const report = makePlans(knowledge, caseOf(KNIT), { move: ['insert', 'tube-bend'] });
    const changed = new Set(report.efficient.flatMap((plan) => plan.changes.map((change) => change.setting)));
    expect([...changed].every((setting) => setting === 'insert' || setting === 'tube-bend')).toBe(true);
  });

  it('propose a setup for a new yarn from its end use, with nothing charged for what is not mounted yet', () => {
    const report = makePlans(knowledge, caseOf('setup: {fibre: cotton, count: 20 Ne, end-use: knitting}'));
    expect(report.kind).toBe('new-yarn');
    expect(report.recommended?.cost.minutes).toBe(0);
    expect(report.recommended?.cost.parts).toEqual([]);
    expect(report.setup.find((one) => one.path === 'twist')?.assumed).toBe(true);
    expect(report.setup.find((one) => one.path === 'count')?.assumed).toBe(false);
    expect(report.recommended?.score ?? 0).toBeGreaterThanOrEqual(report.present.score);
  });

  it('order the steps so that every one stands alone, with what to measure and when to go back', async () => {
    const input = caseOf(KNIT);
    const report = makePlans(knowledge, input, { ranking: await diagnostician.rank(input) });
    expect(report.steps.length).toBeGreaterThan(0);
    expect(report.steps.flatMap((step) => step.settings).sort()).toEqual(
      report.recommended?.changes.map((change) => change.setting).sort(),
    );
    for (const step of report.steps) {
      expect(step.measure.length).toBeGreaterThan(0);
      expect(step.goBack.length).toBeGreaterThan(10);
      expect(step.why.length).toBeGreaterThan(20);
      for (const id of step.cautions) expect(knowledge.book.cautions.has(id)).toBe(true);
    }
    expect(report.steps.at(-1)?.chance).toBeCloseTo(report.recommended?.effects.chance ?? -1, 10);
    expect(report.cautions.map((caution) => caution.id)).toContain('change-one-thing');
    for (const other of report.beats) expect(other.words).toMatch(/^Beside “|hardly be told/);
  });

  it('change texture, radius and material in one go: a nozzle is one part', () => {
    const report = makePlans(knowledge, caseOf(`${POLYESTER_SETUP}\nobservations: {melt: marked}`));
    const step = report.steps.find((one) => one.settings.length > 1);
    expect(
      step?.settings.every((setting) => ['texture', 'nozzle-radius', 'nozzle-material'].includes(setting)),
    ).toBe(true);
    expect(step?.minutes).toBe(2 * 240);
  });

  it('carry out on one position what shows on one', () => {
    const report = makePlans(knowledge, caseOf(`${KNIT}\nscope: position`));
    expect(report.recommended?.cost.positions).toBe(1);
    expect(makePlans(knowledge, caseOf(KNIT), { positions: 96 }).present.cost.positions).toBe(96);
    expect(() => makePlans(knowledge, caseOf(KNIT), { positions: 0 })).toThrow(
      /positions: 0 is not possible/,
    );
  });

  it('say when no combination keeps the limits', () => {
    const text = 'setup: {fibre: polypropylene, count: 30 tex, end-use: weft, nozzle: {material: ceramic}}';
    const report = makePlans(knowledge, caseOf(text), { move: ['twist'] });
    expect(report.recommended).toBeUndefined();
    expect(report.efficient).toEqual([]);
    expect(report.presentForbidden).toMatch(/Polypropylene/);
    expect(report.summary).toMatch(/No combination/);
  });

  it('does not take twist out of a frame that breaks on no more twist than usual', () => {
    const seen = (sign: string) => caseOf(`${KNIT_SETUP}\nobservations: {${sign}: marked}`);
    const report = makePlans(knowledge, seen('end-breaks'), { options: { twist: [-4, 4] } });
    expect(report.leftOut.some((one) => one.setting === 'twist' && /once they run/.test(one.because))).toBe(
      true,
    );
    expect(report.after.twistPerMetre).toBeGreaterThanOrEqual(report.before.twistPerMetre);
    const runs = makePlans(knowledge, seen('harsh'), { options: { twist: [-4, 4] } });
    expect(runs.leftOut.some((one) => /once they run/.test(one.because))).toBe(false);
  });

  it('does not speed up a frame that breaks, unless asked', () => {
    const request = { options: { 'rotor-speed': [-6, 6] } };
    const plain = makePlans(knowledge, caseOf(KNIT), request);
    expect(plain.leftOut.some((one) => one.setting === 'rotor-speed' && /breaks/.test(one.because))).toBe(
      true,
    );
    expect(plain.after.rotorSpeedRpm).toBeLessThanOrEqual(plain.before.rotorSpeedRpm);
    const asked = makePlans(knowledge, caseOf(KNIT), { ...request, faster: true });
    expect(asked.leftOut.some((one) => /breaks is not speeded up/.test(one.because))).toBe(false);
    expect(asked.tried).toBeGreaterThan(plain.tried);
  });
});
