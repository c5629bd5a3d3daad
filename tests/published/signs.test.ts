/**
 * Directions from the literature on rotor spinning against what the product says of them: the spinning model where it
 * computes the response, else the causal graph. Records marked `read` name the publication that was seen; those marked
 * `memory` are from memory and are no citations. A disagreement is listed here with its reason, not tuned away.
 */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { type PublishedRecord, readRecords } from '../../src/rules/workshop/published-record.js';
import { countSigns, predictSigns, type SignVerdict } from '../../src/rules/workshop/signs.js';

const FILE = new URL('./data/findings.json', import.meta.url);

/** Disagreements that stand, and why. */
const STANDING: Readonly<Record<string, string>> = {
  'kong-or-ipi':
    'Imperfections pass through a best opening-roller speed; the graph has too slow opening make them, too fast opening not.',
  'hal2-waste-quality':
    'At tuned settings 15 to 25 % waste was hardly noticed; the model takes 6 % of the tenacity, as full recycled shares have it.',
  'ulu-groove-tenacity':
    'One study of a half recycled yarn saw no significant effect of the groove; the model gives the narrow one 5 %.',
  'per-tube-carded-soft':
    'One study had the aggressive tube softer with combed and the smooth one softer with carded cotton; the model has hair soften always.',
  'ben-twist-pes-rigidity':
    'Measured rigidity of polyester rotor yarn fell with twist; the graph has twist stiffen the yarn, as the hand of fabric does.',
  'ben-twist-vis-rigidity': 'The same for viscose, from the same study.',
  'gen-bend-stability':
    'A sharper bend holds twist back but adds tension; the graph counts the tension of a bend that is too sharp.',
  'gen-notch-fine':
    'That notches cost more than they gain in fine yarns is weighed by a rule on the count, which a direction does not see.',
};

/** Share of agreement asked for among what is spoken of in the read records. */
const LEAST_AGREEMENT = 0.9;
/** Read records the product must have a word on: silence is no agreement. */
const LEAST_SPOKEN = 50;

let records: readonly PublishedRecord[];
let verdicts: readonly SignVerdict[];

beforeAll(() => {
  const reading = readRecords(readFileSync(FILE, 'utf8'));
  expect(reading.problems).toEqual([]);
  records = reading.records;
  verdicts = predictSigns(loadKnowledge(), records);
});

const read = () => verdicts.filter((one) => one.record.provenance === 'read');

describe('published directions', () => {
  it('has an address for everything that was read, and no source for what is remembered', () => {
    for (const record of records)
      if (record.provenance === 'read') expect(record.address, record.id).toMatch(/^https?:/);
      else expect(record.source, record.id).toBe('from memory');
  });

  it('meets no new disagreement', () => {
    const fresh = verdicts.filter(
      (one) => one.verdict === 'disagree' && STANDING[one.record.id] === undefined,
    );
    expect(
      fresh.map(
        ({ record, product, why }) =>
          `${record.id}: ${record.setting} ${record.from} → ${record.to}: ${record.response} ${record.direction}, product ${product} (${why}); ${record.source}`,
      ),
    ).toEqual([]);
  });

  it('lists only records that exist as standing disagreements', () => {
    const known = new Set(records.map((record) => record.id));
    expect(Object.keys(STANDING).filter((id) => !known.has(id))).toEqual([]);
  });

  it('agrees with nearly all that was read and that it speaks of', () => {
    const { agree, disagree } = countSigns(read()).all;
    expect(agree + disagree).toBeGreaterThanOrEqual(LEAST_SPOKEN);
    expect(agree / (agree + disagree)).toBeGreaterThanOrEqual(LEAST_AGREEMENT);
  });

  it('counts every record once', () => {
    const { settings, all } = countSigns(verdicts);
    expect(all.agree + all.disagree + all.silent).toBe(records.length);
    for (const key of ['agree', 'disagree', 'silent'] as const)
      expect(settings.reduce((sum, one) => sum + one[key], 0)).toBe(all[key]);
  });

  it('calls the opposite of what it agrees with a disagreement', () => {
    const turned = verdicts
      .filter((one) => one.verdict === 'agree')
      .map(({ record }) => record)
      .filter((record) => record.direction === 'up' || record.direction === 'down')
      .map((record) => ({ ...record, direction: record.direction === 'up' ? 'down' : 'up' }) as const);
    expect(turned.length).toBeGreaterThan(80);
    const said = predictSigns(loadKnowledge(), turned);
    expect(said.filter((one) => one.verdict !== 'disagree').map((one) => one.record.id)).toEqual([]);
  });

  it('is silent on settings, responses and levels it does not know', () => {
    const base = records.find((record) => record.id === 'bal-speed-tenacity') as PublishedRecord;
    const odd = [
      { ...base, id: 'a', setting: 'moon_phase' },
      { ...base, id: 'b', response: 'smell' },
      { ...base, id: 'c', from: 'colour A', to: 'colour B' },
    ];
    expect(predictSigns(loadKnowledge(), odd).map((one) => one.product)).toEqual([
      'silent',
      'silent',
      'silent',
    ]);
  });
});

describe('reading records', () => {
  it('names the line and what is wrong', () => {
    const good = JSON.stringify(records[0]);
    const { problems, records: kept } = readRecords(`${good}\n{"id": "x"}\nnot json\n${good}\n`);
    expect(kept).toHaveLength(1);
    expect(problems.map((one) => one.line)).toEqual(expect.arrayContaining([2, 3, 4]));
    expect(problems.find((one) => one.line === 4)?.message).toMatch(/stands twice/);
  });

  it('refuses an array that is not JSON', () => {
    expect(readRecords('[{]').problems[0]?.message).toMatch(/not JSON/);
  });
});
