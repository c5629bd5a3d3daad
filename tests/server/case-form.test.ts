import { describe, expect, it } from 'vitest';
import { readState } from '../../src/server/bench-state.js';
import { readCaseForm } from '../../src/server/case-form.js';
import { testSite } from './site.js';

const { mill, diagnostician } = testSite();
const read = (query: string) =>
  readCaseForm(readState(new URLSearchParams(query), mill), diagnostician.vocabulary);

describe('the case of a form', () => {
  it('reads a whole case', () => {
    const form = read(
      'frame=frame-3&observations.end-breaks=marked&scope=position&onset=sudden&changed=none&findings.groove-look=clean&findings.part-exchange.nozzle=cured&measurements.end-breaks.count=41&measurements.end-breaks.rotor-hours=240&measurements.end-breaks.norm-per-1000=90',
    );
    expect(form.problems).toEqual([]);
    expect(form.case.given.values.countTex).toBeCloseTo(29.53, 2);
    expect(form.case.observations).toEqual({ 'end-breaks': 'marked' });
    expect(form.case.scope).toEqual(['position']);
    expect(form.case.partExchange).toEqual({ nozzle: 'cured' });
    expect(form.case.measurements.endBreaks).toMatchObject({ kind: 'against-norm', count: 41 });
  });

  it('names every control with a problem and still reads the rest', () => {
    const form = read(
      'frame=frame-3&setup.rotor.speed=fast&setup.room.humidity=140&observations.end-breaks=marked&measurements.tenacity.mean=11.2&changed=none&changed=lot',
    );
    expect(form.problems.map((problem) => problem.name)).toEqual(
      expect.arrayContaining([
        'setup.rotor.speed',
        'setup.room.humidity',
        'measurements.tenacity.tests',
        'measurements.tenacity.cv',
        'measurements.tenacity.target',
        'changed',
      ]),
    );
    expect(form.case.observations).toEqual({ 'end-breaks': 'marked' });
    expect(form.case.given.values.rotorSpeedRpm).toBeUndefined();
    expect(form.case.given.values.rotorDiameterMm).toBe(33);
    expect(form.case.measurements.values).toEqual({});
    expect(form.case.changed).toEqual([]);
  });

  it('says that an id does not exist, and where', () => {
    const form = read('observations.end-brakes=marked&observations.hairy=slight&findings.nozzle-look=shiny');
    expect(form.problems.map((problem) => problem.name)).toEqual([
      'observations.end-brakes',
      'findings.nozzle-look',
    ]);
    expect(form.problems[0]?.message).toContain('end-breaks');
    expect(form.case.observations).toEqual({ hairy: 'slight' });
  });

  it('reports a twist that needs the count which could not be read', () => {
    const form = read('setup.count=abc&setup.twist=4.3+alpha-e&setup.fibre=cotton');
    expect(form.problems.map((problem) => problem.name)).toContain('setup.count');
    expect(form.case.given.values.fibres).toEqual([{ fibre: 'cotton', share: 1 }]);
    expect(form.case.given.values.twistPerMetre).toBeUndefined();
  });

  it('points a wrong blend at the fibre', () => {
    const form = read('setup.fibre=cotton:50,polyester:40&setup.count=20+Ne');
    expect(form.problems.map((problem) => problem.name)).toEqual(['setup.fibre']);
  });

  it('reads hostile names without harm', () => {
    const form = read('observations.__proto__=marked&setup.__proto__=1&measurements.constructor.mean=3');
    expect(form.problems.length).toBeGreaterThan(0);
    expect(form.case.observations).toEqual({});
  });
});
