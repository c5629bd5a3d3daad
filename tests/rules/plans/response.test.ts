import { describe, expect, it } from 'vitest';
import { writeCase } from '../../../src/rules/case/write-case.js';
import { CURVE_SETTINGS, responseCurve } from '../../../src/rules/plans/response.js';
import { changeCase, whatIf } from '../../../src/rules/plans/what-if.js';
import { caseOf, diagnostician, KNIT, KNIT_SETUP, knowledge } from './cases.js';

const input = caseOf(KNIT_SETUP);

describe('response curves', () => {
  it('rise or fall as the model does, with the present point among them', () => {
    const curve = responseCurve(knowledge, input, 'output', 'twist', 11);
    expect(curve.continuous).toBe(true);
    const present = curve.points.filter((point) => point.present);
    expect(present).toHaveLength(1);
    expect(present[0]?.at).toBeCloseTo(616.3, 0);
    for (let i = 1; i < curve.points.length; i++) {
      expect(curve.points[i]?.at).toBeGreaterThan(curve.points[i - 1]?.at ?? 0);
      expect(curve.points[i]?.value).toBeLessThan(curve.points[i - 1]?.value ?? 0);
    }
    expect(curve.words).toMatch(/Output of a rotor goes from/);
  });

  it('lie inside their bands, for every setting', () => {
    for (const setting of CURVE_SETTINGS) {
      const curve = responseCurve(knowledge, input, 'stability-margin', setting, 5);
      expect(curve.points.filter((point) => point.present)).toHaveLength(1);
      for (const point of curve.points) {
        expect(point.low).toBeLessThanOrEqual(point.value);
        expect(point.value).toBeLessThanOrEqual(point.high);
        expect(point.words).not.toBe('');
      }
    }
  });

  it('put a count of notches that is no rung between its neighbours', () => {
    const five = caseOf(KNIT_SETUP.replace('surface: smooth', 'surface: notched, notches: 5'));
    const curve = responseCurve(knowledge, five, 'fly', 'texture');
    expect(curve.continuous).toBe(false);
    const at = curve.points.findIndex((point) => point.present);
    expect([curve.points[at - 1]?.words, curve.points[at]?.words, curve.points[at + 1]?.words]).toEqual([
      '4 notches',
      '5 notches',
      '6 notches',
    ]);
  });

  it('name what is allowed when asked for something else', () => {
    expect(() => responseCurve(knowledge, input, 'joy', 'twist')).toThrow(/quantity: "joy".*twist-margin/);
    expect(() => responseCurve(knowledge, input, 'output', 'mood')).toThrow(/setting: "mood".*tube-bend/);
    expect(() => responseCurve(knowledge, input, 'output', 'twist', 2)).toThrow(/points: 2/);
  });
});

describe('what if', () => {
  it('changes nothing where nothing is changed', () => {
    const same = whatIf(knowledge, input, {});
    expect(same.changed).toEqual([]);
    expect(same.runsAfter).toBe(same.runsBefore);
    for (const one of same.quantities) expect(one.change).toEqual({ value: 0, low: 0, high: 0 });
  });

  it('moves state and chance together', () => {
    const more = whatIf(knowledge, input, { twistPerMetre: 700, insert: '2-groove' });
    expect(more.changed.map((one) => one.label)).toEqual(['insert', 'twist']);
    expect(more.runsAfter).toBeGreaterThan(more.runsBefore);
    const margin = more.margins.find((one) => one.id === 'twist');
    expect(margin?.shortAfter).toBeLessThan(margin?.shortBefore ?? 0);
    expect(more.quantities.find((one) => one.id === 'output')?.change.high).toBeLessThan(0);
  });

  it('agrees with a case that has the settings from the start', async () => {
    const changed = whatIf(knowledge, caseOf(KNIT), { insert: '2-groove', tubeBendDeg: 30 });
    const report = await diagnostician.report(changed.case);
    const fromStart = await diagnostician.report(
      caseOf(KNIT.replace('insert: none', 'insert: 2-groove').replace('bend: 40', 'bend: 30')),
    );
    expect(report.computed).toEqual(fromStart.computed);
  });

  it('writes the changed case back with its new values', () => {
    const text = writeCase(changeCase(input, { rotorSpeedRpm: 95000 }));
    expect(text).toMatch(/speed: 95000 rpm/);
    expect(text).toMatch(/twist: 3.5 alpha-e/);
  });
});
