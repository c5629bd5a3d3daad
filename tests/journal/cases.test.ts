import { beforeAll, expect, it } from 'vitest';
import {
  addFrame,
  changeFrame,
  correctSetup,
  correctStep,
  findCase,
  findDiagnosis,
  findFrame,
  findSpinningWindows,
  historyOfFrame,
  type Journal,
  JournalInputError,
  listFrames,
  listSetups,
  openCase,
  recordDiagnosis,
  recordSetup,
  recordStep,
  StaleError,
  setupAt,
  setupReports,
  setupReportsOf,
  setupsAt,
  whatChangedLately,
} from '../../src/journal/index.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, diagnosis, given, LOOKED } from './fixtures.js';

describeOnBothEngines('frames and setups', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
  });

  it('keeps frames with sections, and every change of them', async () => {
    const frame = await findFrame(journal, 'frame-1');
    expect(frame).toMatchObject({
      version: 1,
      positions: 8,
      retired: false,
      sections: [{ name: 'Left' }, { name: 'Right' }],
    });
    const { version, ...fields } = frame;
    const changed = await changeFrame(journal, version, { ...fields, place: 'Hall B' }, by());
    expect(changed.version).toBe(2);
    expect((await listFrames(journal)).map((one) => one.place)).toEqual(['Hall B', '']);
    const history = await historyOfFrame(journal, 'frame-1');
    expect(history.map((entry) => entry.step)).toEqual(['added', 'changed']);
    expect(history[0]?.data).toMatchObject({ place: '' });
  });

  it('names every field that cannot be used', async () => {
    const bad = { id: 'has space', name: '', positions: 0, colour: 'red' };
    const error = await addFrame(journal, bad as never, by()).catch((caught: unknown) => caught);
    expect(error).toBeInstanceOf(JournalInputError);
    expect((error as JournalInputError).problems.map((problem) => problem.field)).toEqual(
      expect.arrayContaining(['frame.id', 'frame.name', 'frame.positions', 'frame.colour']),
    );
    await expect(
      addFrame(
        journal,
        {
          id: 'f9',
          name: 'F',
          positions: 8,
          sections: [
            { name: 'A', first: 1, last: 5 },
            { name: 'B', first: 5, last: 8 },
          ],
        },
        by(),
      ),
    ).rejects.toThrow('do not overlap');
    await expect(addFrame(journal, { id: 'frame-1', name: 'F', positions: 8 }, by())).rejects.toThrow(
      'already',
    );
  });

  it('refuses a change that rests on an old version and says what changed', async () => {
    const { version, ...fields } = await findFrame(journal, 'frame-2');
    await changeFrame(journal, version, { ...fields, note: 'first' }, by(undefined, 'Ana'));
    const error = await changeFrame(journal, version, { ...fields, note: 'second' }, by()).catch(
      (caught: unknown) => caught,
    );
    expect(error).toBeInstanceOf(StaleError);
    expect((error as StaleError).since).toMatchObject([{ version: 2, who: 'Ana', data: { note: 'first' } }]);
    expect((await findFrame(journal, 'frame-2')).note).toBe('first');
  });

  it('tells what was changed lately, in words of a case and as differences', async () => {
    const put = (at: string, fields: object) =>
      recordSetup(
        journal,
        { frame: 'frame-1', yarn: 'weft-20', lot: 'lot-1', given: given({}), ...fields },
        by(at),
      );
    const old = given(
      { nozzleSurface: 'spiral', twistPerMetre: 800, humidityPct: 58, nozzleHours: 9000 },
      { twist: '4.3 alpha-e' },
    );
    await put('2026-02-01T00:00:00Z', {
      given: old,
      reportBefore: { margin: 1 },
      reportAfter: { margin: 2 },
    });
    expect(await whatChangedLately(journal, 'frame-1', '2026-01-15T00:00:00Z')).toMatchObject({
      changed: [],
      onset: null,
      before: null,
    });
    expect(await whatChangedLately(journal, 'frame-1', '2026-02-10T00:00:00Z')).toMatchObject({
      changed: ['none'],
    });
    await put('2026-02-20T00:00:00Z', { given: old, lot: 'lot-2' });
    const now = given(
      { nozzleSurface: 'smooth', twistPerMetre: 800, humidityPct: 57, nozzleHours: 20 },
      { twist: '4.3 alpha-e' },
    );
    const last = await put('2026-02-25T00:00:00Z', {
      given: now,
      lot: 'lot-2',
      changes: ['cleaning-round'],
      note: 'To please the knitter',
    });
    const lately = await whatChangedLately(journal, 'frame-1', '2026-02-10T00:00:00Z');
    expect(new Set(lately.changed)).toEqual(
      new Set(['nozzle-surface', 'nozzle-renewed', 'cleaning-round', 'lot']),
    );
    expect(lately.onset).toBe('since-change');
    expect(lately.entries[0]).toMatchObject({
      setup: last.id,
      note: 'To please the knitter',
      differences: expect.arrayContaining([{ field: 'nozzle.surface', before: 'spiral', after: 'smooth' }]),
    });
    expect(lately.entries[1]).toMatchObject({ changes: ['lot'], lot: { before: 'lot-1', after: 'lot-2' } });
    expect(lately.before?.lot).toBe('lot-1');
    expect(lately.present?.id).toBe(last.id);
  });

  it('keeps what the model said, and corrected entries', async () => {
    const [newest, , first] = await listSetups(journal, 'frame-1');
    expect(await setupReports(journal, first?.id ?? '')).toEqual({
      before: { margin: 1 },
      after: { margin: 2 },
    });
    const both = await setupReportsOf(journal, [first?.id ?? '', newest?.id ?? '', 'setup-none']);
    expect([...both.keys()].sort()).toEqual([first?.id, newest?.id].sort());
    expect(both.get(newest?.id ?? '')).toEqual(await setupReports(journal, newest?.id ?? ''));
    await expect(setupReports(journal, 'setup-none')).rejects.toThrow('setup-none');
    const { id: wrong } = newest ?? { id: '' };
    const right = await correctSetup(
      journal,
      wrong,
      {
        frame: 'frame-1',
        lot: 'lot-1',
        given: given({ nozzleSurface: 'spiral' }),
        renewed: [{ part: 'nozzle', positions: [3] }],
      },
      by(),
    );
    expect(right).toMatchObject({ at: '2026-02-25T00:00:00.000Z', supersedes: wrong });
    await expect(correctSetup(journal, wrong, null, by())).rejects.toThrow('already');
    expect((await listSetups(journal, 'frame-1')).map((one) => one.id)).not.toContain(wrong);
    expect((await listSetups(journal, 'frame-1', { corrected: true })).map((one) => one.id)).toContain(wrong);
    expect((await setupAt(journal, 'frame-1', '2026-03-01T00:00:00Z'))?.id).toBe(right?.id);
    expect(await correctSetup(journal, right?.id ?? '', null, by())).toBeNull();
    expect((await setupAt(journal, 'frame-1', '2026-03-01T00:00:00Z'))?.lot).toBe('lot-2');
  });

  it('tells what holds on every frame as on each of them', async () => {
    await addFrame(journal, { id: 'bare', name: 'Bare', positions: 8 }, by());
    for (const at of ['2025-01-01', '2026-02-01', '2026-02-20', '2026-02-25', '2027-01-01']) {
      const all = await setupsAt(journal, `${at}T00:00:00Z`);
      for (const frame of ['frame-1', 'frame-2', 'bare'])
        expect(all.get(frame), `${frame} ${at}`).toEqual(await setupAt(journal, frame, `${at}T00:00:00Z`));
    }
    const now = await setupsAt(journal, '2027-01-01T00:00:00Z');
    expect([now.has('frame-1'), now.has('bare')]).toEqual([true, false]);
  });

  it('knows when a lot was spun where', async () => {
    expect(await findSpinningWindows(journal, { lot: 'lot-1' })).toEqual([
      {
        frame: 'frame-1',
        from: '2026-02-01T00:00:00.000Z',
        until: '2026-02-20T00:00:00.000Z',
        lot: 'lot-1',
        yarn: 'weft-20',
      },
    ]);
    expect(await findSpinningWindows(journal, { lot: 'lot-2' })).toMatchObject([{ until: null }]);
    expect(await findSpinningWindows(journal, { yarn: 'weft-20' })).toHaveLength(2);
  });
});

describeOnBothEngines('cases', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
  });

  it('keeps a case from opening to closing, with the diagnoses as they were', async () => {
    const first = diagnosis(0.3, 0.5, 0.1);
    let record = await openCase(
      journal,
      { title: 'Ends break', frame: 'frame-1', position: 3, lot: 'lot-1', diagnosis: first },
      by('2026-03-02T06:00:00Z'),
    );
    expect(record).toMatchObject({ id: 'case-1', version: 2, state: 'open' });
    record = await recordStep(journal, { id: record.id, seen: 2 }, LOOKED, by('2026-03-02T07:00:00Z'));
    record = await recordDiagnosis(journal, { id: record.id, seen: 3 }, diagnosis(0.8, 0.1, 0.1, 'v2'), by());
    record = await recordStep(
      journal,
      { id: record.id, seen: 4 },
      closedBy(
        'nozzle-worn',
        'by-look',
        { rotorHours: 12.5 },
        { foundAt: '2026-03-02T06:45:00Z', contributing: ['tube-dirty'] },
      ),
      by('2026-03-02T08:00:00Z'),
    );
    expect(record).toMatchObject({
      state: 'closed',
      findMinutes: 45,
      fixMinutes: 120,
      cost: { minutes: 5, rotorHours: 12.5, wasteKg: 0 },
      firstRanking: { cause: 'twist-too-low', probability: 0.5, place: 2, given: 0.3 },
      lastRanking: { cause: 'nozzle-worn', place: 1, given: 0.8 },
    });
    const detail = await findCase(journal, 'case-1');
    expect(detail.steps.map((step) => step.data.step)).toEqual([
      'opened',
      'diagnosed',
      'check-made',
      'diagnosed',
      'closed',
    ]);
    expect(detail.closure?.contributing).toEqual(['tube-dirty']);
    expect(detail.diagnoses.map((one) => one.knowledgeVersion)).toEqual(['v1', 'v2']);
    const kept = await findDiagnosis(journal, 'case-1', 1);
    expect(kept.diagnosis).toEqual(first.diagnosis);
    expect(kept.input).toEqual(first.input);
    expect((await findDiagnosis(journal, 'case-1')).number).toBe(2);
  });

  it('refuses what refers to nothing, and leaves nothing behind', async () => {
    await expect(openCase(journal, { title: 'x', frame: 'nowhere' }, by())).rejects.toThrow(
      'no frame "nowhere"',
    );
    await expect(openCase(journal, { title: 'x', frame: 'frame-1', position: 9 }, by())).rejects.toThrow(
      '1 to 8',
    );
    const next = await openCase(journal, { title: 'x' }, by());
    expect(next.id).toBe('case-2');
    await expect(findCase(journal, 'case-3')).rejects.toThrow('no case "case-3"');
  });

  it('lets nobody overwrite anybody: of many who saw the same version one gets through', async () => {
    const record = await openCase(journal, { title: 'Contested' }, by());
    const tries = await Promise.allSettled(
      Array.from({ length: 8 }, (_, n) =>
        recordStep(
          journal,
          { id: record.id, seen: record.version },
          { step: 'noted', note: `note ${n}` },
          by(),
        ),
      ),
    );
    expect(tries.filter((one) => one.status === 'fulfilled')).toHaveLength(1);
    for (const one of tries) if (one.status === 'rejected') expect(one.reason).toBeInstanceOf(StaleError);
    const detail = await findCase(journal, record.id);
    expect(detail.entries).toHaveLength(2);
    expect(detail.version).toBe(2);
  });

  it('loses nothing when all try again', async () => {
    const { id } = await openCase(journal, { title: 'Busy' }, by());
    const note = async (text: string): Promise<void> => {
      for (;;) {
        const { version } = await findCase(journal, id);
        try {
          await recordStep(journal, { id, seen: version }, { step: 'noted', note: text }, by());
          return;
        } catch (error) {
          if (!(error instanceof StaleError)) throw error;
        }
      }
    };
    await Promise.all(Array.from({ length: 10 }, (_, n) => note(`note ${n}`)));
    const { entries } = await findCase(journal, id);
    expect(entries.map((entry) => entry.version)).toEqual(Array.from({ length: 11 }, (_, n) => n + 1));
  });

  it('carries out a post with a key once, also when it comes twice at once', async () => {
    const post = () => openCase(journal, { title: 'Posted' }, by('2026-03-03T00:00:00Z', 'Ruth', 'key-0001'));
    const [a, b] = await Promise.all([post(), post()]);
    const c = await post();
    expect(new Set([a.id, b.id, c.id]).size).toBe(1);
    expect(c).toEqual(a);
    await expect(openCase(journal, { title: 'Other' }, by(undefined, 'Ruth', 'key-0001'))).rejects.toThrow(
      'different request',
    );
  });

  it('refuses text and times that it could not keep', async () => {
    await expect(openCase(journal, { title: 'a\0b' }, by())).rejects.toThrow('without the character 0');
    await expect(openCase(journal, { title: 'x' }, by('yesterday'))).rejects.toThrow('by.at');
    await expect(whatChangedLately(journal, 'frame-1', 'lately')).rejects.toThrow('since');
    const odd = await openCase(journal, { title: '  Ünïcödé 线 "quote\' -- ; drop table cases  ' }, by());
    expect((await findCase(journal, odd.id)).title).toBe('Ünïcödé 线 "quote\' -- ; drop table cases');
  });

  it('forgets the key of a post that failed', async () => {
    const key = 'key-0002';
    await expect(
      openCase(journal, { title: 'x', frame: 'nowhere' }, by(undefined, 'R', key)),
    ).rejects.toThrow();
    expect((await openCase(journal, { title: 'y' }, by(undefined, 'R', key))).title).toBe('y');
  });

  it('corrects steps without deleting them', async () => {
    const record = await caseThrough(journal, { title: 'To correct' }, '2026-03-04T00:00:00Z', [
      LOOKED,
      closedBy('nozzle-worn', 'by-look'),
    ]);
    const fixed = await correctStep(
      journal,
      { id: record.id, seen: record.version },
      3,
      { step: 'closed', cause: 'tube-dirty', how: 'by-look' },
      'Wrong cause picked',
      by(),
    );
    expect(fixed.closure).toMatchObject({ cause: 'tube-dirty', at: '2026-03-04T02:00:00.000Z' });
    await expect(
      correctStep(journal, { id: record.id, seen: fixed.version }, 2, null, 'Was not looked at', by()),
    ).rejects.toThrow('needs the check in which it was seen');
    await expect(
      correctStep(
        journal,
        { id: record.id, seen: fixed.version },
        2,
        { step: 'noted', note: 'x' },
        'y',
        by(),
      ),
    ).rejects.toThrow('not turned into');
    const detail = await findCase(journal, record.id);
    expect(detail.entries.map((entry) => entry.step)).toEqual([
      'opened',
      'check-made',
      'closed',
      'corrected',
    ]);
    expect(detail.entries[2]?.data).toMatchObject({ cause: 'nozzle-worn' });
    expect(detail.steps.at(-1)?.corrections).toEqual([4]);
  });

  it('refuses a step that cannot be taken, and writes nothing of it', async () => {
    const record = await openCase(journal, { title: 'Strict' }, by());
    await expect(
      recordStep(journal, { id: record.id, seen: 1 }, { step: 'trial-finished', verdict: 'better' }, by()),
    ).rejects.toThrow('no trial is running');
    expect((await findCase(journal, record.id)).version).toBe(1);
  });
});
