import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  casesOfReplay,
  casesThatGotWorse,
  findKnowledgeVersion,
  holdKnowledgeVersion,
  isEmptyJournal,
  type Journal,
  keepReplay,
  knowledgeInUse,
  listKnowledgeVersions,
  listReplays,
  openCase,
  type RankCase,
  type ReplayedCase,
  replayVersions,
  sampleClosedCases,
  searchAudit,
  seeKnowledgeVersion,
  useKnowledgeVersion,
  whyHeld,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, LOOKED } from './fixtures.js';

const seen = (id: string, reasoning = 'r') => ({
  id,
  reasoning,
  texts: new Map([['a.yaml', `text of ${id}`]]),
});

/** Closed cases, the n-th of them titled and told `Case n`; every third confirmed as twist-too-low, else nozzle-worn. */
async function closeCases(journal: Journal, count: number): Promise<void> {
  for (let n = 1; n <= count; n++) {
    const kept = diagnosis(0.6, 0.3, 0.1);
    await caseThrough(
      journal,
      {
        title: `Case ${n}`,
        frame: 'frame-1',
        diagnosis: { ...kept, input: { ...kept.input, title: `${n}` } },
      },
      new Date(Date.UTC(2026, 0, 1 + n)).toISOString(),
      [LOOKED, closedBy(n % 3 === 0 ? 'twist-too-low' : 'nozzle-worn', 'by-look')],
    );
  }
}

/** Ranks every case alike. */
const always =
  (worn: number, twist: number, tube: number, version: string): RankCase =>
  async () =>
    diagnosis(worn, twist, tube, version).diagnosis;

describeOnBothEngines('versions of the knowledge', (on) => {
  it('are seen, used, held back and accepted; the last one used is in use, and each step is an entry', async () => {
    const journal = await on.newJournal();
    expect(await knowledgeInUse(journal)).toBeUndefined();
    await seeKnowledgeVersion(journal, seen('v1'));
    await seeKnowledgeVersion(journal, seen('v1'));
    expect(await knowledgeInUse(journal)).toBeUndefined();
    await useKnowledgeVersion(journal, 'v1', 'first');
    await seeKnowledgeVersion(journal, seen('v2'));
    await holdKnowledgeVersion(journal, 'v2', ['it does worse']);
    expect(await findKnowledgeVersion(journal, 'v2')).toMatchObject({ state: 'held', useNumber: null });
    expect(await knowledgeInUse(journal)).toMatchObject({ id: 'v1', how: 'first' });

    await useKnowledgeVersion(
      journal,
      'v2',
      'accepted',
      by('2026-03-01T00:00:00Z', 'Ruth'),
      'Two odd cases.',
    );
    const inUse = await knowledgeInUse(journal);
    expect(inUse).toMatchObject({
      id: 'v2',
      state: 'used',
      how: 'accepted',
      who: 'Ruth',
      note: 'Two odd cases.',
    });
    expect(inUse?.texts).toEqual(new Map([['a.yaml', 'text of v2']]));
    // Back to the first one: the later use counts, whatever the clock says.
    await useKnowledgeVersion(journal, 'v1', 'proved', by('2020-01-01T00:00:00Z'));
    expect((await knowledgeInUse(journal))?.id).toBe('v1');
    expect((await listKnowledgeVersions(journal)).map((one) => one.id).sort()).toEqual(['v1', 'v2']);
    const log = await searchAudit(journal, { kind: 'knowledge' });
    expect(log.rows.map((line) => `${line.subject} ${line.action}`).sort()).toEqual(
      ['v1 seen', 'v1 used', 'v1 used', 'v2 accepted', 'v2 held', 'v2 seen'].sort(),
    );
  });

  it('are accepted only while they are held back', async () => {
    const journal = await on.newJournal();
    await seeKnowledgeVersion(journal, seen('v1'));
    await expect(useKnowledgeVersion(journal, 'v1', 'accepted', by())).rejects.toThrow('not held back');
    await expect(useKnowledgeVersion(journal, 'v9', 'accepted', by())).rejects.toThrow(
      'no knowledge version "v9"',
    );
    await expect(useKnowledgeVersion(journal, 'v9', 'proved')).rejects.toThrow('no knowledge "v9"');
    expect(await knowledgeInUse(journal)).toBeUndefined();
  });

  it('keep the texts of the last ones only, and get them back when they are seen again', async () => {
    const journal = await on.newJournal();
    for (let n = 1; n <= 14; n++) {
      await seeKnowledgeVersion(journal, seen(`v${n}`));
      await useKnowledgeVersion(journal, `v${n}`, 'proved');
    }
    expect((await knowledgeInUse(journal))?.texts?.size).toBe(1);
    expect(await listKnowledgeVersions(journal)).toHaveLength(14);
    await useKnowledgeVersion(journal, 'v1', 'proved');
    expect((await knowledgeInUse(journal))?.texts).toBeUndefined();
    await seeKnowledgeVersion(journal, seen('v1'));
    expect((await knowledgeInUse(journal))?.texts?.get('a.yaml')).toBe('text of v1');
  });

  it('are tried on the closed cases whose cause was proved, with figures that can be worked out by hand', async () => {
    const journal = await on.newJournal();
    expect(await isEmptyJournal(journal)).toBe(true);
    await addSmallMill(journal);
    expect(await isEmptyJournal(journal)).toBe(false);
    await closeCases(journal, 6);
    // Not closed, closed without proof, closed without a diagnosis: none of them is tried.
    await openCase(journal, { title: 'Open', ...{ diagnosis: diagnosis(0.5, 0.3, 0.2) } }, by());
    await caseThrough(
      journal,
      { title: 'Guess', diagnosis: diagnosis(0.5, 0.3, 0.2) },
      '2026-02-01T00:00:00Z',
      [LOOKED, closedBy('nozzle-worn', 'unconfirmed')],
    );
    await caseThrough(journal, { title: 'Bare' }, '2026-02-02T00:00:00Z', [
      LOOKED,
      closedBy('nozzle-worn', 'by-look'),
    ]);
    const told: number[] = [];
    const replay = await replayVersions(
      journal,
      always(0.5, 0.2, 0.1, 'v1'),
      always(0.4, 0.5, 0.1, 'v2'),
      { newest: 100, random: 0, seed: 1 },
      (done) => {
        told.push(done);
      },
    );
    expect(told).toEqual([0, 1, 2, 3, 4, 5, 6]);
    expect(replay).toMatchObject({ closed: 6, unreadable: [], first: { before: 4, after: 2 } });
    expect(replay.firstThree).toEqual({ before: 6, after: 6 });
    expect(replay.cases.map((one) => one.id)).toEqual([
      'case-6',
      'case-5',
      'case-4',
      'case-3',
      'case-2',
      'case-1',
    ]);
    // Four cases of the first cause, two of the second.
    expect(replay.logScore.before).toBeCloseTo((4 * Math.log(0.5) + 2 * Math.log(0.2)) / 6, 12);
    expect(replay.logScore.after).toBeCloseTo((4 * Math.log(0.4) + 2 * Math.log(0.5)) / 6, 12);
    expect(replay.brier.before).toBeCloseTo((4 * (0.25 + 0.04 + 0.01) + 2 * (0.25 + 0.64 + 0.01)) / 6, 12);
    expect(replay.brier.after).toBeCloseTo((4 * (0.36 + 0.25 + 0.01) + 2 * (0.16 + 0.25 + 0.01)) / 6, 12);
    expect(casesThatGotWorse(replay.cases).map((one) => one.id)).toEqual([
      'case-1',
      'case-2',
      'case-4',
      'case-5',
    ]);

    await seeKnowledgeVersion(journal, seen('v2'));
    const number = await keepReplay(journal, replay, { version: 'v2', against: 'v1', heldBecause: ['so'] });
    const [kept] = await listReplays(journal, { version: 'v2' });
    const { cases, unreadable, ...figures } = replay;
    expect(kept).toEqual({
      ...figures,
      number,
      at: kept?.at,
      version: 'v2',
      against: 'v1',
      tried: 6,
      unread: 0,
      heldBecause: ['so'],
    });
    expect(await casesOfReplay(journal, number)).toEqual({ cases, unreadable });
    expect(await listReplays(journal, { version: 'v1' })).toEqual([]);
  });

  it('count a case that only the new one cannot read against it, and leave out what the old one cannot', async () => {
    const journal = await on.newJournal();
    await addSmallMill(journal);
    await closeCases(journal, 3);
    const but =
      (title: string, rank: RankCase): RankCase =>
      async (input) =>
        input.title === title ? undefined : rank(input);
    const same = always(0.5, 0.2, 0.1, 'v');
    const sample = { newest: 10, random: 0, seed: 1 };
    const lost = await replayVersions(journal, same, but('1', same), sample);
    expect(lost.cases.find((one) => one.id === 'case-1')?.after).toBeNull();
    expect(lost.firstThree).toEqual({ before: 3, after: 2 });
    expect(lost.logScore.after).toBeCloseTo((Math.log(1e-4) + Math.log(0.5) + Math.log(0.2)) / 3, 12);
    expect(lost.brier.after - lost.brier.before).toBeCloseTo((1 - 0.3) / 3, 12);
    const gone = await replayVersions(journal, but('1', same), same, sample);
    expect(gone.unreadable).toEqual(['case-1']);
    expect(gone.cases).toHaveLength(2);
  });

  it('are tried on the newest and a random rest when there are too many', async () => {
    const journal = await on.newJournal();
    await addSmallMill(journal);
    await closeCases(journal, 12);
    const ids = async (newest: number, random: number, seed: number) => {
      const drawn = await sampleClosedCases(journal, { newest, random, seed });
      expect(drawn.closed).toBe(12);
      return drawn.cases.map((one) => Number(one.id.replace('case-', '')));
    };
    const drawn = await ids(3, 4, 7);
    expect(drawn.slice(0, 3)).toEqual([12, 11, 10]);
    expect(drawn).toHaveLength(7);
    expect(new Set(drawn).size).toBe(7);
    expect([...drawn].sort((a, b) => b - a)).toEqual(drawn);
    expect(await ids(3, 4, 7)).toEqual(drawn);
    const others = await Promise.all([1, 2, 3, 4].map((seed) => ids(3, 4, seed)));
    expect(new Set(others.map(String)).size).toBeGreaterThan(1);
    expect(await ids(20, 5, 1)).toEqual([12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1]);
    expect(await ids(0, 0, 1)).toEqual([]);
  });
});

describe('whether a version is held back', () => {
  const tolerance = { logScore: 0.05, firstThree: 0.03 };
  const figures = (log: readonly [number, number], three: readonly [number, number], n = 100) => ({
    cases: Array.from({ length: n }),
    logScore: { before: log[0], after: log[1] },
    firstThree: { before: three[0], after: three[1] },
  });

  it.each([
    ['no change', [-1, -1], [90, 90], 0],
    ['better', [-1, -0.8], [90, 95], 0],
    ['a fall within what is let pass', [-1, -1.049], [90, 87], 0],
    ['a fall of the log score', [-1, -1.051], [90, 90], 1],
    ['a fall of the first three', [-1, -1], [90, 86], 1],
    ['both', [-1, -2], [90, 20], 2],
  ] as const)('%s', (_, log, three, reasons) => {
    expect(whyHeld(figures(log, three), tolerance)).toHaveLength(reasons);
  });

  it('is never said without a case', () => {
    expect(whyHeld(figures([0, -9], [0, 0], 0), tolerance)).toEqual([]);
  });
});

describe('cases that got worse', () => {
  const place = fc.option(
    fc.record({
      place: fc.integer({ min: 1, max: 80 }),
      probability: fc.double({ min: 0, max: 1, noNaN: true }),
    }),
    { nil: null },
  );
  const one: fc.Arbitrary<ReplayedCase> = fc.record({
    id: fc.string({ minLength: 1 }),
    cause: fc.constant('c'),
    before: place,
    after: place,
  });

  it('never hold one that is the same or better', () => {
    fc.assert(
      fc.property(fc.array(one, { maxLength: 20 }), (cases) => {
        for (const found of casesThatGotWorse(cases)) {
          const before = found.before?.place ?? Number.POSITIVE_INFINITY;
          const after = found.after?.place ?? Number.POSITIVE_INFINITY;
          expect(after > before || (found.after?.probability ?? 0) < (found.before?.probability ?? 0)).toBe(
            true,
          );
        }
        const same = cases.map((found) => ({ ...found, after: found.before }));
        expect(casesThatGotWorse(same)).toEqual([]);
      }),
    );
  });
});
