import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  type Calibration,
  countCases,
  type Journal,
  measureCalibration,
  measureDurations,
  openJournal,
  searchCases,
} from '../../src/journal/index.js';
import { scoreInBins, sumForecasts } from '../../src/journal/quality/forecast-groups.js';
import { storeOf } from '../../src/journal/store.js';
import { scoreForecasts } from '../../src/statistics/index.js';
import { createRandom } from '../../src/statistics/random.js';
import { describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, LOOKED } from './fixtures.js';

const forecasts = fc.array(
  fc.record({ probability: fc.double({ min: 0, max: 1, noNaN: true }), happened: fc.boolean() }),
  { minLength: 1, maxLength: 200 },
);

describe('sums of forecasts', () => {
  it('give the score of the forecasts themselves, and bins that hold them all', () => {
    fc.assert(
      fc.property(forecasts, (list) => {
        const { score, binned, bins } = scoreInBins(sumForecasts(list));
        expect(score).toBeCloseTo(scoreForecasts(list).score, 10);
        expect(bins.length).toBeLessThanOrEqual(5);
        expect(bins.reduce((sum, bin) => sum + bin.forecasts, 0)).toBe(list.length);
        const sorted = list.map((one) => one.probability).sort((a, b) => a - b);
        expect([bins[0]?.from, bins.at(-1)?.until]).toEqual([sorted[0], sorted.at(-1)]);
        // In each bin all forecasts stand for their mean.
        const inBin = (p: number) => bins.find((bin) => bin.from <= p && p <= bin.until);
        const means = list.map(({ probability, happened }) => ({
          probability: inBin(probability)?.meanForecast ?? Number.NaN,
          happened,
        }));
        const expected = scoreForecasts(means);
        for (const part of ['score', 'reliability', 'resolution', 'uncertainty'] as const)
          expect(binned[part], part).toBeCloseTo(expected[part], 10);
      }),
    );
  });

  it('come in bins of about equal numbers', () => {
    const list = Array.from({ length: 1000 }, (_, n) => ({ probability: n / 1000, happened: n % 3 === 0 }));
    expect(scoreInBins(sumForecasts(list)).bins.map((bin) => bin.forecasts)).toEqual([
      200, 200, 200, 200, 200,
    ]);
  });
});

/** Quartile of a list as its definition has it. */
function quartile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = share * (sorted.length - 1);
  const [low = 0, high = 0] = [sorted[Math.floor(place)], sorted[Math.ceil(place)]];
  return low + (high - low) * (place - Math.floor(place));
}

describeOnBothEngines('how good the bench was', (on) => {
  let journal: Journal;
  const known: { probability: number; happened: boolean; given: number; find: number }[] = [];
  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
    const random = createRandom(5);
    for (let n = 0; n < 23; n++) {
      const p = Math.round((0.4 + 0.55 * random()) * 1e6) / 1e6;
      const rest = Math.round((1 - p) * 0.4 * 1e6) / 1e6;
      const happened = random() < p;
      const hours = 1 + Math.floor(40 * random());
      const openedAt = new Date(Date.UTC(2026, 2, 1 + n)).toISOString();
      const foundAt = new Date(Date.parse(openedAt) + hours * 60_000).toISOString();
      await caseThrough(
        journal,
        {
          title: `Case ${n}`,
          frame: `frame-${1 + (n % 2)}`,
          partHours: { nozzle: 700 * n },
          diagnosis: diagnosis(p, rest, 0),
        },
        openedAt,
        [LOOKED, closedBy(happened ? 'nozzle-worn' : 'twist-too-low', 'by-look', {}, { foundAt })],
      );
      known.push({ probability: p, happened, given: happened ? p : rest, find: hours });
    }
  });
  const expectCalibration = (found: Calibration | null, list: typeof known) => {
    expect(found?.cases).toBe(list.length);
    expect(found?.score).toBeCloseTo(scoreForecasts(list).score, 10);
    expect(found?.logScore).toBeCloseTo(
      list.reduce((sum, one) => sum + Math.log(one.given), 0) / list.length,
      10,
    );
    const inJs = scoreInBins(sumForecasts(list));
    expect(found?.bins.map((bin) => [bin.forecasts, bin.happened])).toEqual(
      inJs.bins.map((bin) => [bin.forecasts, bin.happened]),
    );
  };

  it('is summed up by the engine as it would be case by case', async () => {
    expectCalibration(await measureCalibration(journal), known);
    expectCalibration(await measureCalibration(journal, { which: 'last' }), known);
    const odd = known.filter((_, n) => n % 2 === 1);
    expectCalibration(await measureCalibration(journal, { filter: { frame: 'frame-2' } }), odd);
  });

  it('finds quartiles of times between neighbours in proportion', async () => {
    for (const [filter, list] of [
      [{}, known],
      [{ frame: 'frame-2' }, known.filter((_, n) => n % 2 === 1)],
      [{ closedFrom: '2026-03-05T00:00:00Z' }, known.slice(4)],
    ] as const) {
      const { find } = await measureDurations(journal, filter);
      const times = list.map((one) => one.find);
      expect(find?.cases).toBe(times.length);
      expect(find?.lowerQuartile).toBeCloseTo(quartile(times, 0.25), 9);
      expect(find?.median).toBeCloseTo(quartile(times, 0.5), 9);
      expect(find?.upperQuartile).toBeCloseTo(quartile(times, 0.75), 9);
    }
    expect(await measureDurations(journal, { lot: 'lot-2' })).toEqual({ find: null, fix: null });
  });

  it('is known of cases from before it was kept', async () => {
    const place = await on.newPlace();
    const then = await openJournal({ ...place, schemaStep: '0009-break-quarters' });
    const row = await storeOf(journal)
      .db.selectFrom('cases')
      .selectAll()
      .where('id', '=', 'case-2')
      .executeTakeFirstOrThrow();
    const { first_mille, last_mille, nozzle_age, ...old } = row;
    await storeOf(then)
      .db.insertInto('cases')
      .values({ ...old, frame: null, lot: null, yarn: null, search: 'by words of then' } as never)
      .execute();
    await then.close();
    const now = await openJournal(place);
    expectCalibration(await measureCalibration(now), known.slice(1, 2));
    const kept = await storeOf(now).db.selectFrom('cases').selectAll().executeTakeFirstOrThrow();
    expect([kept.first_mille, kept.last_mille, kept.nozzle_age]).toEqual([
      first_mille,
      last_mille,
      nozzle_age,
    ]);
    expect((await searchCases(now, { text: 'WORDS then' })).rows.map((one) => one.id)).toEqual(['case-2']);
    expect(await countCases(now, { text: 'nowhere' })).toBe(0);
    await now.close();
    expect(first_mille).toBe(Math.floor((known[1]?.probability ?? 0) * 1000));
  });
});
