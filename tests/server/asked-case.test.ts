import { describe, expect, it } from 'vitest';
import { inLanguage } from '../../src/language/scope.js';
import { startReading } from '../../src/server/asked-case.js';
import { readState } from '../../src/server/bench-state.js';
import { readCaseForm } from '../../src/server/case-form.js';
import { testSite } from './site.js';

const { mill: shipped, diagnostician } = testSite();
const { vocabulary } = diagnostician;
const [first, second] = [...shipped.values()];
if (first === undefined || second === undefined) throw new Error('the mill has no two frames');
const at = (query: string) => `http://plant.test/bench?${query}`;

describe('the case of an address', () => {
  it('is what the address says, and read once for all that is asked about it', () => {
    const read = startReading(shipped, vocabulary);
    const query = `frame=${first.id}&observations.end-breaks=marked&setup.twist=4.6+alpha-e&later=nozzle-look`;
    const asked = read(at(query));
    const state = readState(new URLSearchParams(query), shipped);
    expect(asked).toEqual({ state, form: readCaseForm(state, vocabulary) });
    expect(read(`http://plant.test/bench/next?${query}`)).toBe(asked);
    expect(read(at(`${query}&scope=one-position`))).not.toBe(asked);
  });

  it('follows the frame when its setup is changed, and when it is gone', () => {
    const mill = new Map([[first.id, first]]);
    const read = startReading(mill, vocabulary);
    const query = at(`frame=${first.id}&observations.end-breaks=marked`);
    const before = read(query).form.case.given;
    mill.set(first.id, { ...first, card: { ...first.card, given: second.card.given } });
    expect(read(query).state.frame?.card.given).toBe(second.card.given);
    mill.delete(first.id);
    expect(read(query).form.case.given.values).toEqual({});
    mill.set(first.id, first);
    expect(read(query).form.case.given).toEqual(before);
  });

  it('names what cannot be read in the language of the request', () => {
    const read = startReading(shipped, vocabulary);
    const wrong = at('setup.twist=much');
    const [english] = read(wrong).form.problems;
    const [german] = inLanguage('de', () => read(wrong).form.problems);
    expect(english?.name).toBe('setup.twist');
    expect(german?.message).not.toBe(english?.message);
    expect(inLanguage('en', () => read(wrong).form.problems)[0]).toBe(english);
  });

  it('is not kept for ever, nor when the address is long', () => {
    const read = startReading(shipped, vocabulary);
    const one = read(at('note=1'));
    for (let n = 2; n < 150; n++) read(at(`note=${n}`));
    expect(read(at('note=1'))).toBe(one);
    for (let n = 2; n < 250; n++) read(at(`note=${n}`));
    expect(read(at('note=1'))).not.toBe(one);
    const long = at(`note=${'a'.repeat(4500)}`);
    expect(read(long)).not.toBe(read(long));
  });
});
