import { beforeAll, expect, it } from 'vitest';
import {
  countBreaksByPosition,
  countByFrame,
  countFrameDays,
  findPartHours,
  findRepeatOffenders,
  type Journal,
  recordBreaks,
  recordRuns,
  recordSetup,
  setMillZone,
} from '../../src/journal/index.js';
import { createRandom } from '../../src/statistics/random.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, given } from './fixtures.js';

/** What the sums say must be what one gets by looking at every run and every break. */
describeOnBothEngines('sums of breaks and hours', (on) => {
  const random = createRandom(11);
  const start = Date.parse('2026-03-20T00:00:00Z');
  const DAYS = 12;
  const HOUR = 3_600_000;
  const instant = (hours: number) => new Date(start + Math.round(hours * HOUR)).toISOString();
  /** Any moment, the end of a quarter of an hour or of a day. */
  const moment = () => {
    const hours = random() * DAYS * 24;
    const kind = Math.floor(3 * random());
    return instant(kind === 0 ? hours : kind === 1 ? Math.floor(hours * 4) / 4 : Math.floor(hours / 24) * 24);
  };
  const period = () => {
    const [from = '', until = ''] = [moment(), moment()].sort();
    return { from, until };
  };
  const frames = ['frame-1', 'frame-2'] as const;
  // Runs of some hours with gaps between; some of the second frame were counted.
  const runs = frames.flatMap((frame) => {
    const list = [];
    for (let at = 3 * random(); at < DAYS * 24 - 12; ) {
      const until = at + 1 + 9 * random();
      list.push({
        frame,
        from: instant(at),
        until: instant(until),
        rotorHours: 8 * (until - at) * (0.4 + 0.5 * random()),
        ...(frame === 'frame-2' && random() < 0.4 ? { breaks: Math.floor(9 * random()) } : {}),
      });
      at = until + (random() < 0.5 ? 0 : 5 * random());
    }
    return list;
  });
  const events = Array.from({ length: 900 }, () => ({
    frame: frames[Math.floor(2 * random())] ?? 'frame-1',
    position: 1 + Math.floor(8 * random()),
    at: instant(random() * DAYS * 24),
  }));
  const fitted = Array.from({ length: 4 }, moment).sort();
  const opened = Array.from({ length: 6 }, moment).sort();

  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await setMillZone(journal, 'Asia/Kathmandu', by());
    await addSmallMill(journal);
    await recordRuns(journal, 'runs', runs, by());
    await recordBreaks(journal, 'breaks-1', events.slice(0, 500), by());
    await recordBreaks(journal, 'breaks-2', events.slice(300), by());
    for (const [n, at] of fitted.entries())
      await recordSetup(
        journal,
        { frame: 'frame-1', given: given({}), renewed: [{ part: 'nozzle', positions: [n + 1], hours: n }] },
        by(at),
      );
    for (const [n, at] of opened.entries())
      await caseThrough(journal, { title: `Case ${n}`, frame: frames[n % 2] ?? null }, at, []);
  });

  const share = (run: { from: string; until: string }, { from, until }: { from: string; until: string }) => {
    const inside =
      Math.min(Date.parse(run.until), Date.parse(until)) - Math.max(Date.parse(run.from), Date.parse(from));
    return Math.max(0, inside) / (Date.parse(run.until) - Date.parse(run.from));
  };
  const within = (at: string, { from, until }: { from: string; until: string }) => from <= at && at < until;

  it('agree on breaks by position', async () => {
    for (let n = 0; n < 25; n++) {
      const wanted = period();
      const counts = new Map<number, number>();
      for (const { frame, position, at } of events)
        if (frame === 'frame-1' && within(at, wanted)) counts.set(position, (counts.get(position) ?? 0) + 1);
      const found = await countBreaksByPosition(journal, 'frame-1', wanted);
      expect(new Map(found.map((row) => [row.position, row.breaks])), JSON.stringify(wanted)).toEqual(
        new Map([...counts].sort(([a], [b]) => a - b)),
      );
    }
  });

  it('agree on the rates of frames', async () => {
    for (let n = 0; n < 25; n++) {
      const wanted = period();
      const found = await countByFrame(journal, wanted);
      for (const frame of frames) {
        const own = runs.filter((run) => run.frame === frame);
        const times = events.filter((one) => one.frame === frame).map((one) => one.at);
        const [first = '', last = ''] = [times.sort()[0], times.sort().at(-1)];
        const reported = own.filter(
          (run) => run.breaks === undefined && run.until > first && run.from <= last,
        );
        const counted = own.filter((run) => run.breaks !== undefined && within(run.from, wanted));
        const count =
          counted.reduce((sum, run) => sum + (run.breaks ?? 0), 0) +
          times.filter((at) => within(at, wanted) && reported.some((run) => within(at, run))).length;
        const hours =
          counted.reduce((sum, run) => sum + run.rotorHours, 0) +
          reported.reduce((sum, run) => sum + run.rotorHours * share(run, wanted), 0);
        const rate = found.find((one) => one.frame === frame);
        expect(rate?.rotorHours ?? 0, JSON.stringify(wanted)).toBeCloseTo(hours, 6);
        if (rate !== undefined) expect(rate.count, JSON.stringify(wanted)).toBe(count);
      }
    }
  });

  it('agree on the breaks of a frame, and on those of its rates, over the days', async () => {
    const wanted = { from: instant(0), until: instant(DAYS * 24) };
    for (const frame of frames) {
      const days = await countFrameDays(journal, frame, wanted);
      const rate = (await countByFrame(journal, wanted)).find((one) => one.frame === frame);
      expect(days.reduce((sum, day) => sum + day.events, 0)).toBe(
        events.filter((one) => one.frame === frame).length,
      );
      expect(days.reduce((sum, day) => sum + day.rateBreaks, 0)).toBe(rate?.count);
    }
  });

  it('agree on the hours of parts, to the moment', async () => {
    for (const at of [instant(DAYS * 24), moment(), fitted[2] ?? '']) {
      const found = await findPartHours(journal, 'frame-1', at);
      for (const [n, from] of fitted.entries()) {
        const part = found.find((one) => one.position === n + 1);
        if (from > at) expect(part).toBeUndefined();
        else
          expect(part?.hours, `${from} to ${at}`).toBeCloseTo(
            n +
              runs
                .filter((run) => run.frame === 'frame-1')
                .reduce((sum, run) => sum + (run.rotorHours / 8) * share(run, { from, until: at }), 0),
            6,
          );
      }
    }
  });

  it('agree on the cases expected of a frame by the hours it ran', async () => {
    for (let n = 0; n < 10; n++) {
      const wanted = period();
      const found = await findRepeatOffenders(journal, 'frame', {
        openedFrom: wanted.from,
        openedUntil: wanted.until,
      });
      const hours = (frame: string) =>
        runs
          .filter((run) => run.frame === frame)
          .reduce((sum, run) => sum + run.rotorHours * share(run, wanted), 0);
      const ran = frames.every((frame) => hours(frame) > 0);
      const cases = opened.filter((at) => within(at, wanted)).length;
      for (const { frame, expected } of found)
        expect(expected, JSON.stringify(wanted)).toBeCloseTo(
          ran ? (cases * hours(frame ?? '')) / (hours('frame-1') + hours('frame-2')) : cases / 2,
          6,
        );
    }
  });
});
