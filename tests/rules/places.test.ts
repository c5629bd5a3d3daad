import { describe, expect, it } from 'vitest';
import { loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { PLACES } from '../../src/rules/knowledge/place-schema.js';
import { causePlace, loadPlaces } from '../../src/rules/places.js';

const { book } = loadKnowledge();

describe('places of causes', () => {
  it('are there once for every cause but "no real fault"', () => {
    const listed = Object.values(loadPlaces()).flatMap((place) => place.causes ?? []);
    expect(new Set(listed).size).toBe(listed.length);
    expect([...listed].sort()).toEqual(
      [...book.causes.keys()].filter((id) => book.causes.get(id)?.family !== 'chance').sort(),
    );
  });

  it('name a place of the drawing', () => {
    expect(causePlace('insert-missing-or-worn')).toEqual({
      place: 'insert',
      label: 'twist-retention insert',
    });
    expect(causePlace('no-assignable-cause')).toBeUndefined();
    for (const id of book.causes.keys()) {
      const place = causePlace(id);
      if (place !== undefined) expect(PLACES).toContain(place.place);
    }
  });
});
