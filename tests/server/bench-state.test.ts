import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  readState,
  setupTexts,
  stateOfCase,
  toCaseObject,
  writeQuery,
} from '../../src/server/bench-state.js';
import { testSite } from './site.js';

const { mill, diagnostician } = testSite();
const read = (query: string) => readState(new URLSearchParams(query), mill);

describe('the state in the address', () => {
  it('drops empty fields and what the card says anyway', () => {
    const state = read('frame=frame-1&setup.twist=3.7+alpha-e&setup.count=20+Ne&observations.hairy=&scope=');
    expect(writeQuery(state)).toBe('?frame=frame-1');
  });

  it('keeps a setting that differs from the card', () => {
    const state = read('frame=frame-1&setup.twist=4.1&setup.twist.unit=alpha-e');
    expect(writeQuery(state)).toBe('?frame=frame-1&setup.twist=4.1+alpha-e');
    expect(setupTexts(state).get('twist')).toBe('4.1 alpha-e');
    expect(setupTexts(state).get('count')).toBe('20 Ne');
  });

  it('tells a card value that was cleared from one that was not touched', () => {
    const state = read('frame=frame-1&setup.twist=');
    expect(writeQuery(state)).toBe('?frame=frame-1&setup.twist=-');
    expect(setupTexts(state).has('twist')).toBe(false);
    expect(read('frame=frame-1&setup.twist=-').fields.get('setup.twist')).toEqual(['-']);
  });

  it('lets a unit that was typed win over the one that was chosen', () => {
    const state = read('setup.count=29.5+tex&setup.count.unit=Ne');
    expect(state.fields.get('setup.count')).toEqual(['29.5 tex']);
  });

  it('puts the rows of a blend together', () => {
    const state = read(
      'setup.fibre.1=cotton&setup.share.1=60&setup.fibre.2=polyester&setup.share.2=40+%25&setup.fibre.3=&setup.share.3=',
    );
    expect(state.fields.get('setup.fibre')).toEqual(['cotton:60,polyester:40']);
    expect(toCaseObject(state).setup).toEqual({ fibre: { cotton: '60', polyester: '40' } });
    expect(read('setup.fibre.1=cotton&setup.share.1=100').fields.get('setup.fibre')).toEqual(['cotton']);
  });

  it('takes out what a button drops', () => {
    const state = read(
      'findings.nozzle-look=chip&later=wax&later=finish&drop=findings.nozzle-look&drop=later.wax',
    );
    expect(writeQuery(state)).toBe('?later=finish');
  });

  it('reads single readings however they are parted', () => {
    const readings = (text: string) =>
      toCaseObject(read(`measurements.cvm.readings=${encodeURIComponent(text)}`)).measurements;
    expect(readings('14 14.5 15')).toEqual({ cvm: { readings: ['14', '14.5', '15'] } });
    expect(readings('11.2 cN/tex; 10.9 cN/tex')).toEqual({
      cvm: { readings: ['11.2 cN/tex', '10.9 cN/tex'] },
    });
  });

  it('shows every example of the mill as the case it is', () => {
    for (const frame of mill.values()) {
      if (frame.example === undefined) continue;
      const shown = read(writeQuery(stateOfCase(frame.example)).slice(1));
      const again = stateOfCase(frame.example);
      expect([...shown.fields]).toEqual([...again.fields]);
    }
  });

  it('gives the same address again, whatever was typed', () => {
    const name = fc.constantFrom(
      'setup.twist',
      'setup.twist.unit',
      'setup.fibre.1',
      'setup.share.1',
      'setup.fibre.2',
      'setup.humidity',
      'before.rotor.speed',
      'observations.end-breaks',
      'observations.__proto__',
      'findings.nozzle-look',
      'findings.part-exchange.nozzle',
      'measurements.cvm.readings',
      'tried.clean-rotor',
      'tried.1.action',
      'tried.1.result',
      'tried.2.action',
      'scope',
      'changed',
      'later',
      'title',
      'frame',
      '__proto__',
    );
    const value = fc.oneof(
      fc.string(),
      fc.constantFrom('4.3', '29,5 tex', 'cotton', 'frame-1', '-', 'marked', 'clean-rotor', 'helped'),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(name, value), { maxLength: 12 }), (pairs) => {
        const once = writeQuery(readState(new URLSearchParams(pairs), mill));
        expect(writeQuery(read(once.slice(1)))).toBe(once);
      }),
    );
  });

  it('reaches no prototype', () => {
    const object = toCaseObject(
      read('observations.__proto__=marked&findings.constructor=x&setup.__proto__.x=1'),
    );
    expect(Object.getPrototypeOf(object.observations)).toBe(Object.prototype);
    expect(Object.hasOwn(object.observations as object, '__proto__')).toBe(true);
    expect(({} as Record<string, unknown>).x).toBeUndefined();
    expect(diagnostician.vocabulary.symptoms.has('__proto__')).toBe(false);
  });
});
