import { beforeAll, expect, it } from 'vitest';
import {
  type CaseFilter,
  countCases,
  findCaseRecords,
  findRepeatOffenders,
  type Journal,
  measureDurations,
  measureHits,
  rankRootCauses,
  searchCases,
  sumCaseCosts,
} from '../../src/journal/index.js';
import { inOneTransaction } from '../../src/journal/store.js';
import { createRandom } from '../../src/statistics/random.js';
import { describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, LOOKED } from './fixtures.js';

/** What the quality desk says must be what one gets by going through all cases by hand. */
describeOnBothEngines('questions about many cases', (on) => {
  const random = createRandom(23);
  const pick = <T>(list: readonly [T, ...T[]]): T => list[Math.floor(random() * list.length)] ?? list[0];
  const start = Date.parse('2026-03-01T00:00:00Z');
  const day = (days: number) => new Date(start + Math.round(days * 86_400_000)).toISOString();
  const WORDS = ['Neps', 'and', 'thin', '100%', 'under_score', 'Öl', 'breaks'] as const;

  interface Plain {
    readonly number: number;
    readonly text: string;
    readonly frame: string;
    readonly position: number | null;
    readonly lot: string;
    readonly cause: string | null;
    readonly outcome: 'confirmed' | 'suspected' | 'not-found' | null;
    readonly openedAt: string;
    readonly find: number | null;
    readonly place: number | null;
    readonly nozzle: number;
    readonly waste: number;
  }
  const plain: Plain[] = [];
  let journal: Journal;

  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
    const cases = Array.from({ length: 70 }, (_, n) => ({
      title: Array.from({ length: 3 }, () => pick(WORDS)).join(' '),
      frame: pick(['frame-1', 'frame-2']),
      position: random() < 0.7 ? 1 + Math.floor(3 * random()) : null,
      lot: pick(['lot-1', 'lot-2']),
      nozzle: Math.floor(20_000 * random()),
      // Some are opened at the same moment.
      openedAt: day(Math.floor(n / 2) + Math.floor(3 * random()) / 4),
      how: pick(['by-look', 'by-look', 'unconfirmed', null, 'open'] as const),
      cause: pick(['nozzle-worn', 'twist-too-low', 'tube-dirty'] as const),
      waste: Math.floor(5 * random()),
      minutes: Math.round(1e6 * random()) / 1000,
    }));
    await inOneTransaction(journal, async (inner) => {
      for (const [n, one] of cases.entries()) {
        const cause = one.how === null || one.how === 'open' ? null : one.cause;
        const foundAt = new Date(Date.parse(one.openedAt) + Math.round(one.minutes * 60_000)).toISOString();
        await caseThrough(
          inner,
          {
            title: one.title,
            frame: one.frame,
            position: one.position,
            lot: one.lot,
            partHours: { nozzle: one.nozzle },
            diagnosis: diagnosis(0.6, 0.3, 0.1),
          },
          one.openedAt,
          one.how === 'open'
            ? [LOOKED]
            : [LOOKED, closedBy(cause, one.how, { wasteKg: one.waste }, { foundAt })],
        );
        plain.push({
          number: n + 1,
          text: one.title.toLowerCase(),
          frame: one.frame,
          position: one.position,
          lot: one.lot,
          cause,
          outcome:
            one.how === 'open'
              ? null
              : one.how === null
                ? 'not-found'
                : one.how === 'unconfirmed'
                  ? 'suspected'
                  : 'confirmed',
          openedAt: one.openedAt,
          find: cause === null ? null : (Date.parse(foundAt) - Date.parse(one.openedAt)) / 60_000,
          place: cause === null ? null : ['nozzle-worn', 'twist-too-low', 'tube-dirty'].indexOf(cause) + 1,
          nozzle: one.nozzle,
          waste: one.how === 'open' ? 0 : one.waste,
        });
      }
    });
  });

  /** A filter with some of its conditions, and the cases it lets through. */
  const someFilter = (): { readonly filter: CaseFilter; readonly cases: readonly Plain[] } => {
    const filter: { -readonly [K in keyof CaseFilter]: CaseFilter[K] } = {};
    const chosen = (share: number) => random() < share;
    if (chosen(0.5)) filter.text = pick(['neps', 'ÖL', '0%', 'r_s', 'and thin', 'nowhere', 'a', 'case-1']);
    if (chosen(0.3)) filter.frame = pick(['frame-1', 'frame-2']);
    if (chosen(0.2)) filter.lot = 'lot-1';
    if (chosen(0.2)) filter.cause = 'tube-dirty';
    if (chosen(0.4)) filter.openedFrom = day(20 * random());
    if (chosen(0.3)) filter.openedUntil = day(20 + 20 * random());
    const words = (filter.text ?? '').toLowerCase().split(' ');
    return {
      filter,
      cases: plain.filter(
        (one) =>
          words.every((word) =>
            `case-${one.number} ${one.text} ${one.frame} ${one.lot} ${one.cause ?? ''}`.includes(word),
          ) &&
          (filter.frame === undefined || one.frame === filter.frame) &&
          (filter.lot === undefined || one.lot === filter.lot) &&
          (filter.cause === undefined || one.cause === filter.cause) &&
          (filter.openedFrom === undefined || one.openedAt >= filter.openedFrom) &&
          (filter.openedUntil === undefined || one.openedAt < filter.openedUntil),
      ),
    };
  };
  const quantile = (values: readonly number[], share: number) => {
    const sorted = [...values].sort((a, b) => a - b);
    const at = share * (sorted.length - 1);
    const [low = 0, high = 0] = [sorted[Math.floor(at)], sorted[Math.ceil(at)]];
    return low + (high - low) * (at - Math.floor(at));
  };
  const tally = <T>(list: readonly T[], key: (one: T) => string | null) => {
    const counts: Record<string, number> = {};
    for (const one of list) {
      const name = key(one);
      if (name !== null) counts[name] = (counts[name] ?? 0) + 1;
    }
    return counts;
  };

  it('are answered as by hand, whatever is asked for', async () => {
    for (let n = 0; n < 30; n++) {
      const { filter, cases } = someFilter();
      const said = JSON.stringify(filter);
      const order = pick(['newest', 'oldest'] as const);
      const seen: number[] = [];
      for (let after: string | undefined, page = 0; page < 20; page++) {
        const found = await searchCases(journal, filter, { size: 9, order, ...(after ? { after } : {}) });
        seen.push(...found.rows.map((row) => row.number));
        if (found.next === null) break;
        after = found.next;
      }
      const key = (one: Plain) => `${one.openedAt} case-${one.number}`;
      const listed = [...cases].sort((a, b) => (key(a) < key(b) ? -1 : 1)).map((one) => one.number);
      expect(seen, said).toEqual(order === 'oldest' ? listed : listed.reverse());
      expect(await countCases(journal, filter), said).toBe(cases.length);

      const confirmed = cases.filter((one) => one.outcome === 'confirmed');
      const pareto = await rankRootCauses(journal, 'number', filter);
      expect(Object.fromEntries(pareto.rows.map((row) => [row.cause, row.cases])), said).toEqual(
        tally(confirmed, (one) => one.cause),
      );
      expect([pareto.suspected, pareto.notFound], said).toEqual([
        cases.filter((one) => one.outcome === 'suspected').length,
        cases.filter((one) => one.outcome === 'not-found').length,
      ]);
      const waste = await rankRootCauses(journal, 'waste', filter);
      expect(waste.total, said).toBe(confirmed.reduce((sum, one) => sum + one.waste, 0));
      const costs = await sumCaseCosts(journal, filter);
      expect(costs.wasteKg, said).toBe(waste.total);
      expect(costs.minutes, said).toBeCloseTo((await rankRootCauses(journal, 'minutes', filter)).total, 6);
      expect(costs.rotorHours, said).toBe((await rankRootCauses(journal, 'rotor-hours', filter)).total);

      const hits = await measureHits(journal, 'first', filter);
      expect([hits.cases, hits.first?.cases ?? 0], said).toEqual([
        confirmed.length,
        confirmed.filter((one) => one.place === 1).length,
      ]);

      const { find } = await measureDurations(journal, filter);
      const times = cases.flatMap((one) => (one.find === null ? [] : [one.find]));
      expect(find?.cases ?? 0, said).toBe(times.length);
      if (find !== null)
        for (const [name, share] of [
          ['lowerQuartile', 0.25],
          ['median', 0.5],
          ['upperQuartile', 0.75],
        ] as const)
          expect(find[name], said).toBeCloseTo(quantile(times, share), 6);

      for (const [kind, key] of [
        ['frame', (one: Plain) => one.frame],
        ['lot', (one: Plain) => one.lot],
        ['position', (one: Plain) => (one.position === null ? null : `${one.frame}/${one.position}`)],
      ] as const) {
        const found = await findRepeatOffenders(journal, kind, filter);
        const counts = Object.entries(tally(cases, key)).filter(([, number]) => number > 1);
        expect(Object.fromEntries(found.map((one) => [one.what, one.cases])), said).toEqual(
          Object.fromEntries(counts),
        );
        for (const { what, topCause } of found) {
          const causes = tally(
            cases.filter((one) => key(one) === what),
            (one) => one.cause,
          );
          const [top] = Object.entries(causes).sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1));
          expect(topCause, `${said} ${what}`).toEqual(
            top === undefined ? null : { cause: top[0], cases: top[1] },
          );
        }
      }
      const ages = await findRepeatOffenders(journal, 'part-age', filter);
      expect(Object.fromEntries(ages.map((one) => [one.what, one.cases])), said).toEqual(
        tally(cases, (one) => {
          const age = Math.floor(one.nozzle / 5000);
          return `${age * 5000}–${(age + 1) * 5000} h`;
        }),
      );
    }
  });

  it('are named by id as lists show them, and those that are not there are left out', async () => {
    const listed = (await searchCases(journal, {}, { size: 30 })).rows;
    const found = await findCaseRecords(journal, ['case-9999', ...listed.map((one) => one.id), 'case-1']);
    expect(found.size).toBe(31);
    for (const one of listed) expect(found.get(one.id)).toEqual(one);
    expect(await findCaseRecords(journal, [])).toEqual(new Map());
  });
});
