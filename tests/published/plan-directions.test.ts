/*
 * Which way the trade goes when a setup has to be changed. Common practice, no source: every spinner would say so, no
 * publication was found that does.
 */
import { describe, expect, it } from 'vitest';
import { insertRank, textureRank } from '../../src/rules/case/ladders.js';
import { makePlans } from '../../src/rules/plans/make-plans.js';
import type { PlanReport } from '../../src/rules/plans/types.js';
import {
  caseOf,
  diagnostician,
  KNIT_SETUP,
  knowledge,
  POLYESTER_SETUP,
  WARP_SETUP,
} from '../rules/plans/cases.js';

const texture = (setup: PlanReport['before']) =>
  textureRank({ surface: setup.nozzleSurface, notches: setup.notches });

describe('directions of plans (common practice, no source)', () => {
  it('a soft knitting yarn short of twist, whose hand is complained of, goes to more texture or an insert, not to more twist', async () => {
    const input = caseOf(`${KNIT_SETUP}
observations: {end-breaks: marked, harsh: marked}
findings: {broken-tail: tapering}`);
    const report = makePlans(knowledge, input, {
      limits: ['dont-lose-output'],
      ranking: await diagnostician.rank(input),
    });
    const { before, after } = report;
    expect(after.twistPerMetre).toBeLessThanOrEqual(before.twistPerMetre * 1.0001);
    expect(texture(after) > texture(before) || insertRank(after.insert) > insertRank(before.insert)).toBe(
      true,
    );
    expect(report.recommended?.effects.margins.twist ?? 0).toBeGreaterThan(
      report.present.effects.margins.twist,
    );
  });

  it('where its hand is the limit, twist alone will not do: texture or an insert is part of the plan', async () => {
    const input = caseOf(`${KNIT_SETUP}
observations: {end-breaks: marked}
findings: {broken-tail: tapering}`);
    const report = makePlans(knowledge, input, {
      limits: ['hand-no-worse', 'dont-lose-output'],
      ranking: await diagnostician.rank(input),
    });
    const { before, after } = report;
    // The model lets texture soften the hand a little, so that some twist may go with it.
    expect(texture(after) > texture(before) || insertRank(after.insert) > insertRank(before.insert)).toBe(
      true,
    );
    expect(report.recommended?.effects.hand.value ?? -1).toBeGreaterThanOrEqual(-0.5);
  });

  it('a hairy warp yarn goes to fewer notches', async () => {
    const input = caseOf(`${WARP_SETUP}\nobservations: {hairy: marked, end-breaks: absent}`);
    const report = makePlans(knowledge, input, { ranking: await diagnostician.rank(input) });
    expect(texture(report.after)).toBeLessThan(texture(report.before));
    expect(report.recommended?.effects.hairiness.value ?? 0).toBeLessThan(-5);
  });

  it('polyester that is to keep a high speed goes to a smaller radius or a nozzle that leads heat away', async () => {
    const input = caseOf(`${POLYESTER_SETUP}\nobservations: {melt: marked}`);
    const report = makePlans(knowledge, input, {
      limits: ['dont-lose-output'],
      ranking: await diagnostician.rank(input),
    });
    const { before, after } = report;
    expect(after.rotorSpeedRpm).toBeGreaterThanOrEqual(before.rotorSpeedRpm * 0.9999);
    expect(after.nozzleRadiusMm < before.nozzleRadiusMm || after.nozzleMaterial !== 'ceramic').toBe(true);
    expect(report.recommended?.effects.margins.heat ?? 0).toBeGreaterThan(
      report.present.effects.margins.heat + 0.2,
    );
  });

  it('a low-melting fibre is never left on, nor led to, plain ceramic', () => {
    for (const nozzle of ['ceramic', 'steel', 'ceramic-head']) {
      const input = caseOf(`
setup:
  fibre: polypropylene
  count: 30 tex
  end-use: weft
  nozzle: {surface: smooth, material: ${nozzle}}
observations: {end-breaks: marked}`);
      const report = makePlans(knowledge, input);
      expect(report.efficient.length).toBeGreaterThan(0);
      for (const plan of report.efficient) {
        const material = plan.changes.find((change) => change.setting === 'nozzle-material')?.to;
        expect(material ?? nozzle).not.toBe('ceramic');
      }
      expect(report.after.nozzleMaterial).not.toBe('ceramic');
    }
  });

  it('a yarn that tears for tension goes to less pull', async () => {
    const input = caseOf(`
setup:
  fibre: cotton
  count: 20 tex
  twist: 4.6 alpha-e
  end-use: weft
  rotor: {diameter: 36 mm, speed: 108000 rpm}
  nozzle: {surface: notched, notches: 4, material: ceramic, radius: 4 mm, protrusion: 1 mm}
  tube: {bend: 60 deg, insert: 2-groove}
observations: {end-breaks: marked}
findings: {broken-tail: short-torn}`);
    const report = makePlans(knowledge, input, { ranking: await diagnostician.rank(input) });
    expect(report.recommended?.effects.margins.tension ?? 0).toBeGreaterThan(
      report.present.effects.margins.tension,
    );
    const { before, after } = report;
    expect(after.tubeBendDeg < before.tubeBendDeg || after.rotorSpeedRpm < before.rotorSpeedRpm).toBe(true);
  });
});
