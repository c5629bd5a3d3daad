import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { drawStripes } from '../../src/journal/demo/stripe-picture.js';
import {
  addPhoto,
  findComplaint,
  findPhoto,
  type Journal,
  listCustomers,
  logComplaint,
  MOST_PHOTOS,
  recordComplaintStep,
  recordSetup,
  StaleError,
  searchComplaints,
  sniffPicture,
  withdrawPhoto,
} from '../../src/journal/index.js';
import { storeOf } from '../../src/journal/store.js';
import { by, describeOnBothEngines } from './engines.js';
import { addSmallMill, caseThrough, closedBy, given, LOOKED } from './fixtures.js';

describeOnBothEngines('complaints', (on) => {
  let journal: Journal;
  beforeAll(async () => {
    journal = await on.newJournal();
    await addSmallMill(journal);
    for (const [frame, lot, at] of [
      ['frame-1', 'lot-1', '2026-02-01'],
      ['frame-1', 'lot-2', '2026-02-20'],
      ['frame-2', 'lot-2', '2026-02-01'],
    ] as const)
      await recordSetup(journal, { frame, lot, yarn: 'weft-20', given: given({}) }, by(`${at}T00:00:00Z`));
    await caseThrough(journal, { title: 'In the window', frame: 'frame-1' }, '2026-02-10T00:00:00Z', [
      LOOKED,
      closedBy('nozzle-worn', 'by-look'),
    ]);
    await caseThrough(journal, { title: 'After it', frame: 'frame-1' }, '2026-02-25T00:00:00Z', []);
    await caseThrough(journal, { title: 'Elsewhere', frame: 'frame-2' }, '2026-02-10T00:00:00Z', []);
  });

  it('finds frames and cases in the window in which the lot was spun', async () => {
    const complaint = await logComplaint(
      journal,
      { customer: 'Knitter A', fabricFault: 'barré in single jersey', lot: 'lot-1', claimedKg: 420 },
      by('2026-03-20T00:00:00Z'),
    );
    expect(complaint).toMatchObject({
      id: 'complaint-1',
      state: 'open',
      spunFrom: '2026-02-01T00:00:00.000Z',
      spunUntil: '2026-02-20T00:00:00.000Z',
      frames: ['frame-1'],
      cases: ['case-1'],
    });
  });

  it('goes from containment over the root cause to a verified end', async () => {
    let now = await findComplaint(journal, 'complaint-1');
    const take = async (step: Parameters<typeof recordComplaintStep>[2]) => {
      await recordComplaintStep(journal, { id: now.id, seen: now.version }, step, by('2026-04-01T00:00:00Z'));
      now = await findComplaint(journal, now.id);
      return now.state;
    };
    await expect(take({ step: 'closed' })).rejects.toThrow(
      'a root cause and a corrective action and a verification',
    );
    await expect(take({ step: 'verified', fixed: 'yes', text: 'Looks good' })).rejects.toThrow(
      'no corrective action',
    );
    expect(await take({ step: 'containment', text: 'Lot blocked' })).toBe('contained');
    expect(
      await take({ step: 'root-cause', cause: 'nozzle-worn', case: 'case-1', text: 'Worn nozzles' }),
    ).toBe('traced');
    expect(await take({ step: 'corrective', text: 'New nozzles' })).toBe('corrected');
    expect(await take({ step: 'preventive', text: 'On the weekly round' })).toBe('corrected');
    expect(await take({ step: 'verified', fixed: 'yes', text: 'Next delivery is fine' })).toBe('verified');
    expect(await take({ step: 'closed' })).toBe('closed');
    expect(now).toMatchObject({
      rootCause: { cause: 'nozzle-worn', case: 'case-1' },
      verification: { fixed: 'yes', at: '2026-04-01T00:00:00.000Z' },
    });
    await expect(take({ step: 'containment', text: 'again' })).rejects.toThrow('reopen');
    expect(await take({ step: 'reopened', why: 'It came back' })).toBe('corrected');
    expect(now.entries).toHaveLength(8);
  });

  it('refuses an old version and links to nothing', async () => {
    const { version } = await findComplaint(journal, 'complaint-1');
    await expect(
      recordComplaintStep(
        journal,
        { id: 'complaint-1', seen: version - 1 },
        { step: 'noted', note: 'x' },
        by(),
      ),
    ).rejects.toThrow(StaleError);
    await expect(
      recordComplaintStep(
        journal,
        { id: 'complaint-1', seen: version },
        { step: 'linked', frames: [], cases: ['case-99'] },
        by(),
      ),
    ).rejects.toThrow('no case "case-99"');
    expect((await findComplaint(journal, 'complaint-1')).version).toBe(version);
  });

  it('keeps photos drawn anew and serves them safely', async () => {
    const bytes = drawStripes(9);
    const photo = await addPhoto(journal, 'complaint-1', { bytes, caption: 'Stripes' }, by());
    const served = await findPhoto(journal, photo.id);
    const pixels = (one: Uint8Array) => sharp(one).toColourspace('b-w').raw().toBuffer();
    expect(Buffer.compare(await pixels(served.bytes), await pixels(bytes))).toBe(0);
    expect(photo.size).toBe(served.bytes.length);
    const { db } = storeOf(journal);
    const kept = await db
      .selectFrom('photos')
      .select('bytes')
      .where('id', '=', photo.id)
      .executeTakeFirstOrThrow();
    expect(Buffer.compare(Buffer.from(kept.bytes), bytes)).not.toBe(0);
    expect(served.headers).toMatchObject({
      'Content-Type': 'image/png',
      'X-Content-Type-Options': 'nosniff',
    });
    const html = Buffer.from('<html><script>alert(1)</script>');
    await expect(addPhoto(journal, 'complaint-1', { bytes: html }, by())).rejects.toThrow(
      'PNG, JPEG or WebP',
    );
    const long = Buffer.concat([bytes, Buffer.alloc(5 * 1024 * 1024)]);
    await expect(addPhoto(journal, 'complaint-1', { bytes: long }, by())).rejects.toThrow('5 MB');
  });

  it('takes eight photos and no more, also at once, and keeps withdrawn ones', async () => {
    const { id } = await logComplaint(journal, { customer: 'C', fabricFault: 'slubs' }, by());
    const tries = await Promise.allSettled(
      Array.from({ length: MOST_PHOTOS + 3 }, (_, n) =>
        addPhoto(journal, id, { bytes: drawStripes(4 + n) }, by()),
      ),
    );
    const added = tries.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
    expect(added).toHaveLength(MOST_PHOTOS);
    const [first] = added;
    await withdrawPhoto(journal, first?.id ?? '', 'A face is in it', by());
    await expect(findPhoto(journal, first?.id ?? '')).rejects.toThrow('no photo');
    const detail = await findComplaint(journal, id);
    expect(detail.photos.filter((photo) => photo.withdrawn)).toHaveLength(1);
    await addPhoto(journal, id, { bytes: drawStripes(30) }, by());
    expect(detail.entries.at(-1)).toMatchObject({
      step: 'photo-withdrawn',
      data: { why: 'A face is in it' },
    });
  });

  it('is found by its words, yarn, frame and case', async () => {
    const ids = async (filter: Parameters<typeof searchComplaints>[1]) =>
      (await searchComplaints(journal, filter)).rows.map((row) => row.id);
    expect(await ids({ text: 'BARRÉ knitter' })).toEqual(['complaint-1']);
    expect(await ids({ text: '100% barré' })).toEqual([]);
    expect(await ids({ frame: 'frame-1', cause: 'nozzle-worn' })).toEqual(['complaint-1']);
    expect(await ids({ case: 'case-1' })).toEqual(['complaint-1']);
    expect(await ids({ state: 'open' })).toEqual(['complaint-2']);
    expect(await ids({})).toEqual(['complaint-2', 'complaint-1']);
  });

  it('know who made them, each named once', async () => {
    for (const customer of ['C', 'Alpha'])
      await logComplaint(journal, { customer, fabricFault: 'bars' }, by());
    expect(await listCustomers(journal)).toEqual(['Alpha', 'C', 'Knitter A']);
  });
});

describe('kinds of picture', () => {
  const jpeg = Buffer.concat([
    Buffer.from([0xff, 0xd8, 0xff, 0xe0]),
    Buffer.alloc(40),
    Buffer.from([0xff, 0xd9]),
  ]);
  const webp = Buffer.concat([Buffer.from('RIFF\x10\0\0\0WEBP', 'latin1'), Buffer.alloc(12)]);
  it.each([
    ['a PNG', drawStripes(8), 'image/png'],
    ['a JPEG', jpeg, 'image/jpeg'],
    ['a WebP', webp, 'image/webp'],
    ['a cut-off PNG', drawStripes(8).subarray(0, -6), undefined],
    ['a cut-off JPEG', jpeg.subarray(0, -2), undefined],
    ['a cut-off WebP', webp.subarray(0, -4), undefined],
    ['a GIF', Buffer.from('GIF89a'), undefined],
    ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), undefined],
    ['nothing', Buffer.alloc(0), undefined],
  ])('knows %s', (_, bytes, type) => {
    expect(sniffPicture(bytes)).toBe(type);
  });
});
