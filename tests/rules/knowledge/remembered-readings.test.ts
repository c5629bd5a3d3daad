import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { rememberedReading, rememberReading } from '../../../src/rules/knowledge/remembered-readings.js';

const schema = () => z.object({ rates: z.array(z.number()) });

describe('readings that are remembered', () => {
  it('are those of the same text against the same schema, and no other', () => {
    const [one, other] = [schema(), schema()];
    expect(rememberedReading(one, 'rates: [1]')).toBeUndefined();
    rememberReading(one, 'rates: [1]', { rates: [1] });
    expect(rememberedReading(one, 'rates: [1]')).toEqual({ value: { rates: [1] } });
    expect(rememberedReading(one, 'rates: [2]')).toBeUndefined();
    expect(rememberedReading(other, 'rates: [1]')).toBeUndefined();
  });

  it('cannot be altered by one of those who share them', () => {
    const value = rememberReading(schema(), 'shared', { rates: [1] });
    expect(() => value.rates.push(2)).toThrow(TypeError);
    expect(value).toEqual({ rates: [1] });
  });

  it('give way when the texts grow too long, the longest unused first', () => {
    const one = schema();
    const long = (letter: string) => letter.repeat(3_000_000);
    for (const letter of ['a', 'b']) rememberReading(one, long(letter), { rates: [] });
    expect(rememberedReading(one, long('a'))).toBeDefined();
    rememberReading(one, long('c'), { rates: [] });
    expect(rememberedReading(one, long('b'))).toBeUndefined();
    expect(rememberedReading(one, long('a'))).toBeDefined();
    expect(rememberedReading(one, long('c'))).toBeDefined();
  });

  it('make the same knowledge of the same files', () => {
    const [first, second] = [loadKnowledge(), loadKnowledge()];
    expect(second.version).toBe(first.version);
    expect(second.book).toEqual(first.book);
  });
});
