import { beforeAll, describe, expect, it } from 'vitest';
import {
  countBreaksByHour,
  countBreaksByPosition,
  countByFrame,
  countCases,
  countFrameDays,
  findFrameHistory,
  findPartHours,
  findRepeatOffenders,
  type Journal,
  listReplacements,
  measureCalibration,
  measureDurations,
  measureHits,
  rankRootCauses,
  recordBreaks,
  recordRuns,
  recordSetup,
  searchCases,
  setMillZone,
} from '../../src/journal/index.js';
import { scoreInBins, sumForecasts } from '../../src/journal/quality/forecast-groups.js';
import { costInterval } from '../../src/journal/quality/sum-interval.js';
import { poissonInterval } from '../../src/statistics/index.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, given, LOOKED } from './fixtures.js';

describeOnBothEngines('machine data', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await setMillZone(journal, 'UTC', by());
    await addSmallMill(journal);
  });
  const at = (text: string, position: number, frame = 'frame-1') => ({ frame, position, at: text });
  const events = [
    at('2026-03-01T23:30:00Z', 1),
    at('2026-03-02T00:30:00Z', 1),
    at('2026-03-02T00:45:00.5Z', 2),
    at('2026-03-02T12:00:00+02:00', 2),
    at('2026-03-03T08:00:00Z', 8),
    at('2026-03-02T00:10:00Z', 4, 'frame-2'),
  ];

  it('takes a batch once, however often it comes', async () => {
    const first = await recordBreaks(journal, 'batch-1', events, by());
    expect(first).toMatchObject({ given: 6, added: 6, repeated: false });
    expect(await recordBreaks(journal, 'batch-1', [...events].reverse(), by())).toMatchObject({
      added: 6,
      repeated: true,
    });
    await expect(recordBreaks(journal, 'batch-1', events.slice(1), by())).rejects.toThrow('other content');
  });

  it('does not count an event twice that comes in two batches', async () => {
    const overlap = [...events.slice(2, 4), at('2026-03-03T09:00:00Z', 8)];
    expect(await recordBreaks(journal, 'batch-2', overlap, by())).toMatchObject({ given: 3, added: 1 });
  });

  it('takes a batch once also when it comes twice at once', async () => {
    const one = [at('2026-03-09T09:00:00Z', 8)];
    const both = await Promise.all([
      recordBreaks(journal, 'batch-3', one, by()),
      recordBreaks(journal, 'batch-3', one, by()),
    ]);
    expect(both.map((receipt) => receipt.repeated).sort()).toEqual([false, true]);
  });

  it('counts any period exactly, whole days and edges', async () => {
    const count = (from: string, until: string) => countBreaksByPosition(journal, 'frame-1', { from, until });
    expect(await count('2026-03-01T00:00:00Z', '2026-03-04T00:00:00Z')).toEqual([
      { position: 1, breaks: 2 },
      { position: 2, breaks: 2 },
      { position: 8, breaks: 2 },
    ]);
    expect(await count('2026-03-02T00:31:00Z', '2026-03-03T08:30:00Z')).toEqual([
      { position: 2, breaks: 2 },
      { position: 8, breaks: 1 },
    ]);
    expect(await count('2026-03-02T00:40:00Z', '2026-03-02T01:00:00Z')).toEqual([{ position: 2, breaks: 1 }]);
    expect(
      await countBreaksByHour(journal, 'frame-1', {
        from: '2026-03-02T00:00:00Z',
        until: '2026-03-02T10:00:00Z',
      }),
    ).toEqual([{ hour: '2026-03-02T00:00:00.000Z', breaks: 2 }]);
  });

  it('shares running time out over the days and holds breaks against it', async () => {
    await recordRuns(
      journal,
      'runs-1',
      [
        { frame: 'frame-1', from: '2026-03-01T12:00:00Z', until: '2026-03-02T12:00:00Z', rotorHours: 160 },
        {
          frame: 'frame-2',
          from: '2026-03-02T00:00:00Z',
          until: '2026-03-02T12:00:00Z',
          rotorHours: 96,
          breaks: 7,
        },
      ],
      by(),
    );
    const days = await countFrameDays(journal, 'frame-1', {
      from: '2026-03-01T00:00:00Z',
      until: '2026-03-03T00:00:00Z',
    });
    expect(days).toMatchObject([
      { day: '2026-03-01', events: 1, rotorHours: 80 },
      { day: '2026-03-02', events: 3, rotorHours: 80 },
    ]);
    const period = { from: '2026-03-02T00:00:00Z', until: '2026-03-03T00:00:00Z' };
    expect(await countByFrame(journal, period)).toEqual([
      { frame: 'frame-1', count: 3, rotorHours: 80, source: 'events' },
      { frame: 'frame-2', count: 7, rotorHours: 96, source: 'counts' },
    ]);
    await expect(
      recordRuns(
        journal,
        'runs-2',
        [{ frame: 'frame-1', from: '2026-03-05T00:00:00Z', until: '2026-03-05T01:00:00Z', rotorHours: 9 }],
        by(),
      ),
    ).rejects.toThrow('at most 8 positions × 1 h');
  });

  it('names the event that cannot be used', async () => {
    await expect(recordBreaks(journal, 'bad-1', [at('yesterday', 1)], by())).rejects.toThrow('events[0].at');
    await expect(recordBreaks(journal, 'bad-2', [at('2026-03-01T00:00:00Z', 9)], by())).rejects.toThrow(
      '1 to 8',
    );
    await expect(
      recordBreaks(journal, 'bad-3', [at('2026-03-01T00:00:00Z', 1, 'none')], by()),
    ).rejects.toThrow('no frame');
  });

  it('follows the hours of parts by position, and lists what is due', async () => {
    await recordSetup(
      journal,
      {
        frame: 'frame-1',
        given: given({}),
        renewed: [
          { part: 'nozzle', hours: 100 },
          { part: 'nozzle', positions: [2] },
        ],
      },
      by('2026-03-01T00:00:00Z'),
    );
    await recordSetup(
      journal,
      {
        frame: 'frame-1',
        given: given({}),
        renewed: [
          { part: 'nozzle', positions: [3] },
          { part: 'rotor', positions: [3], hours: 5 },
        ],
      },
      by('2026-03-02T00:00:00Z'),
    );
    const hours = await findPartHours(journal, 'frame-1', '2026-03-04T00:00:00Z');
    const of = (part: string, position: number) =>
      hours.find((one) => one.part === part && one.position === position)?.hours;
    // 160 rotor-hours of 8 positions are 20 hours of the frame, half of them on each day.
    expect(of('nozzle', 1)).toBeCloseTo(120, 9);
    expect(of('nozzle', 3)).toBeCloseTo(10, 9);
    expect(of('rotor', 3)).toBeCloseTo(15, 9);
    expect(of('rotor', 1)).toBeUndefined();
    const due = await listReplacements(journal, () => ({ nozzle: 125 }), { at: '2026-03-04T00:00:00Z' });
    expect(due).toMatchObject([{ frame: 'frame-1', part: 'nozzle', expectedLife: 125 }]);
    expect(due[0]?.positions).toEqual(expect.arrayContaining([1, 4, 8]));
    expect(due[0]?.daysLeft).toBeCloseTo(5 / (20 / 28), 6);
  });
});

describeOnBothEngines('quality desk', (on) => {
  let journal: Journal;
  const plan = [
    ['nozzle-worn', 'by-look', 'frame-1', 3, 100, diagnosis(0.6, 0.3, 0.1)],
    ['nozzle-worn', 'by-look', 'frame-1', 3, 50, diagnosis(0.2, 0.7, 0.1)],
    ['nozzle-worn', 'by-look', 'frame-1', 3, 10, undefined],
    ['twist-too-low', 'by-look', 'frame-2', null, 500, diagnosis(0.1, 0.8, 0.1)],
    ['tube-dirty', 'unconfirmed', 'frame-2', null, 5, diagnosis(0.3, 0.3, 0.2)],
    [null, null, 'frame-2', 1, 5, undefined],
  ] as const;
  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
    for (const [n, [cause, how, frame, position, rotorHours, kept]] of plan.entries())
      await caseThrough(
        journal,
        {
          title: `Trouble 10${n}%`,
          frame,
          position,
          lot: n < 3 ? 'lot-1' : 'lot-2',
          partHours: { nozzle: n * 4000 },
          ...(kept === undefined ? {} : { diagnosis: kept }),
        },
        `2026-03-0${n + 1}T00:00:00Z`,
        [LOOKED, closedBy(cause, how, { rotorHours, minutes: 30, wasteKg: n })],
      );
    await caseThrough(
      journal,
      { title: 'Still Öpen', frame: 'frame-1', assignee: 'Ana' },
      '2026-03-08T00:00:00Z',
      [LOOKED],
    );
  });

  it('finds cases by words, place, cause, state and time', async () => {
    const ids = async (filter: Parameters<typeof searchCases>[1]) =>
      (await searchCases(journal, filter)).rows.map((row) => row.number).sort();
    expect(await ids({ text: 'still öpen' })).toEqual([7]);
    expect(await ids({ text: '0%' })).toEqual([1]);
    expect(await ids({ text: '10_' })).toEqual([]);
    expect(await ids({ frame: 'frame-2', position: 1 })).toEqual([6]);
    expect(await ids({ cause: 'nozzle-worn', lot: 'lot-1' })).toEqual([1, 2, 3]);
    expect(await ids({ state: ['checking'] })).toEqual([7]);
    expect(await ids({ outcome: ['not-found', 'suspected'] })).toEqual([5, 6]);
    expect(await ids({ openedFrom: '2026-03-02T00:00:00Z', openedUntil: '2026-03-04T00:00:00Z' })).toEqual([
      2, 3,
    ]);
    expect(await ids({ assignee: 'Ana' })).toEqual([7]);
    expect(await countCases(journal, { frame: ['frame-1', 'frame-2'] })).toBe(7);
    await expect(searchCases(journal, { colour: 'red' } as never)).rejects.toThrow('filter.colour');
  });

  it('pages by key, each case once, also backwards', async () => {
    for (const order of ['newest', 'oldest'] as const) {
      const seen: number[] = [];
      let after: string | undefined;
      do {
        const page = await searchCases(
          journal,
          {},
          { size: 3, order, ...(after === undefined ? {} : { after }) },
        );
        seen.push(...page.rows.map((row) => row.number));
        after = page.next ?? undefined;
      } while (after !== undefined);
      expect(seen).toEqual(order === 'newest' ? [7, 6, 5, 4, 3, 2, 1] : [1, 2, 3, 4, 5, 6, 7]);
    }
    await expect(searchCases(journal, {}, { after: 'nonsense' })).rejects.toThrow('page.after');
  });

  it('ranks confirmed causes by number and by cost, with intervals', async () => {
    const byNumber = await rankRootCauses(journal);
    expect(byNumber.rows.map((row) => [row.cause, row.value])).toEqual([
      ['nozzle-worn', 3],
      ['twist-too-low', 1],
    ]);
    expect(byNumber).toMatchObject({ cases: 4, suspected: 1, notFound: 1 });
    expect(byNumber.rows[0]?.interval).toEqual(poissonInterval(3));
    expect(byNumber.rows.map((row) => row.cumulative)).toEqual([0.75, 1]);
    const byHours = await rankRootCauses(journal, 'rotor-hours');
    expect(byHours.rows.map((row) => [row.cause, row.value])).toEqual([
      ['twist-too-low', 500],
      ['nozzle-worn', 160],
    ]);
    expect((await rankRootCauses(journal, 'waste', { frame: 'frame-1' })).total).toBe(3);
    expect((await rankRootCauses(journal, 'minutes', { closedFrom: '2030-01-01T00:00:00Z' })).rows).toEqual(
      [],
    );
  });

  it('says how often the first-ranked cause was right, and how far probabilities hold', async () => {
    const hits = await measureHits(journal);
    expect(hits).toMatchObject({ cases: 3, first: { cases: 2 }, firstThree: { cases: 3 }, notListed: 0 });
    expect(hits.meanReciprocalPlace).toBeCloseTo((1 + 0.5 + 1) / 3, 12);
    const first = await measureCalibration(journal);
    // Forecasts 0.6 right, 0.7 wrong, 0.8 right.
    expect(first?.score).toBeCloseTo((0.16 + 0.49 + 0.04) / 3, 12);
    expect(first?.logScore).toBeCloseTo((Math.log(0.6) + Math.log(0.2) + Math.log(0.8)) / 3, 12);
    expect(first?.few).toBe(true);
    const all = await measureCalibration(journal, { over: 'all', which: 'last' });
    expect(all?.forecasts).toBe(9);
    expect(await measureCalibration(journal, { filter: { lot: 'lot-9' } })).toBeNull();
  });

  it('finds where cases come back', async () => {
    const positions = await findRepeatOffenders(journal, 'position');
    expect(positions).toMatchObject([
      { what: 'frame-1/3', cases: 3, expected: 3 / 8, topCause: { cause: 'nozzle-worn', cases: 3 } },
    ]);
    expect(positions[0]?.adjustedP).toBeLessThan(0.2);
    const frames = await findRepeatOffenders(journal, 'frame');
    expect(frames.map((one) => [one.what, one.cases, one.expected])).toEqual([
      ['frame-1', 4, 3.5],
      ['frame-2', 3, 3.5],
    ]);
    expect((await findRepeatOffenders(journal, 'lot')).map((one) => one.what)).toEqual(['lot-1', 'lot-2']);
    expect((await findRepeatOffenders(journal, 'part-age')).map((one) => [one.what, one.cases])).toEqual([
      ['0–5000 h', 2],
      ['5000–10000 h', 1],
      ['10000–15000 h', 1],
      ['15000–20000 h', 1],
      ['20000–25000 h', 1],
    ]);
  });

  it('measures times and gives the history of a frame', async () => {
    const times = await measureDurations(journal);
    expect(times.fix).toMatchObject({ cases: 5, median: 120 });
    const history = await findFrameHistory(journal, 'frame-1', {
      from: '2026-03-01T00:00:00Z',
      until: '2026-03-03T00:00:00Z',
    });
    expect(history.cases.map((one) => one.number)).toEqual([2, 1]);
    await expect(
      findFrameHistory(journal, 'nowhere', { from: '2026-01-01T00:00:00Z', until: '2026-02-01T00:00:00Z' }),
    ).rejects.toThrow('no frame');
  });
});

describe('figures of the quality desk', () => {
  it('gives Garwood’s interval times the cost where all cases cost the same', () => {
    const { lower, upper } = poissonInterval(7);
    const interval = costInterval({ sum: 7 * 12, sumOfSquares: 7 * 144, largest: 12 });
    expect(interval?.lower).toBeCloseTo(lower * 12, 8);
    expect(interval?.upper).toBeCloseTo(upper * 12, 8);
    expect(costInterval({ sum: 0, sumOfSquares: 0, largest: 0 })).toBeNull();
  });

  it('splits the binned Brier score into its parts and keeps equal forecasts together', () => {
    const forecasts = Array.from({ length: 100 }, (_, n) => ({
      probability: n < 60 ? 0.2 : 0.9,
      happened: n % 5 === 0,
    }));
    const { binned, bins } = scoreInBins(sumForecasts(forecasts));
    expect(bins.map((bin) => bin.forecasts)).toEqual([60, 40]);
    expect(binned.score).toBeCloseTo(binned.reliability - binned.resolution + binned.uncertainty, 12);
  });
});
