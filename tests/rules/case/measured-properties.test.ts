import { describe, expect, test } from 'vitest';
import { PROPERTIES } from '../../../src/rules/case/measured-properties.js';
import { MEASURED_PROPERTIES } from '../../../src/rules/case/types.js';
import { checkSchema } from '../../../src/rules/knowledge/schema.js';
import { QUANTITY_KINDS } from '../../../src/spinning/units/quantity.js';
import { readFolder } from '../../spinning/knowledge.js';

describe('measured properties', () => {
  const symptoms = readFolder('symptoms');
  const checks = readFolder('checks');

  test.each(MEASURED_PROPERTIES)('%s bears on a symptom or a check of the knowledge base', (property) => {
    const { bearsOn } = PROPERTIES[property];
    if ('symptom' in bearsOn) {
      expect(Object.keys(symptoms)).toContain(bearsOn.symptom);
      return;
    }
    const outcomes = Object.keys(checkSchema.parse(checks[bearsOn.check]).outcomes);
    for (const outcome of [bearsOn.below, bearsOn.above, bearsOn.at]) expect(outcomes).toContain(outcome);
  });

  test.each(MEASURED_PROPERTIES)('%s is read in the unit its quantity has without one', (property) => {
    const info = PROPERTIES[property];
    expect(QUANTITY_KINDS[info.quantity].baseUnit).toBe(info.unit);
    expect(info.leastTarget).toBeGreaterThan(0);
    expect(info.leastTarget).toBeGreaterThanOrEqual(info.possible[0]);
  });
});
