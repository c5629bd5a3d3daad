import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addFrame,
  ensureMillZone,
  findComplaint,
  logComplaint,
  openCase,
  readMillZone,
  setMillZone,
} from '../../../src/journal/index.js';
import { type JournalSite, openJournalSite, send } from './journal-site.js';

let site: JournalSite;
const get = async (path: string) => (await site.app.request(`http://plant.test${path}`)).text();
beforeAll(async () => {
  site = await openJournalSite(false);
  const by = { who: 'Ruth', at: '2026-03-01T20:00:00Z' };
  await addFrame(site.journal, { id: 'frame-1', name: 'Frame 1', positions: 8 }, by);
  await openCase(site.journal, { title: 'Ends break', frame: 'frame-1' }, by);
});
afterAll(() => site.close());

describe('the time zone of the mill', () => {
  it('is chosen on its page and holds for every time said', async () => {
    const sent = await send(site.app, '/settings/mill', { 'time-zone': 'Asia/Kolkata', who: 'Ruth' });
    expect(sent.status).toBe(303);
    expect(await readMillZone(site.journal)).toBe('Asia/Kolkata');
    expect(await get('/cases/case-1')).toContain('2 Mar 2026, 01:30');
    await setMillZone(site.journal, 'America/New_York', { who: 'Ruth' });
    const page = await get('/cases/case-1');
    expect(page).toContain('1 Mar 2026, 15:00');
    expect(page).not.toContain('2 Mar 2026');
    expect(await get('/settings/mill')).toContain('go by America/New_York');
  });

  it('holds for the pages beside the journal too', async () => {
    const since = async (zone: string) => {
      await send(site.app, '/settings/mill', { 'time-zone': zone, who: 'Ruth' });
      const [, hours = '', minutes = ''] =
        /in use since [^<]*?(\d\d):(\d\d)/.exec(await get('/knowledge')) ?? [];
      return Number(hours) * 60 + Number(minutes);
    };
    const [india, nepal] = [await since('Asia/Kolkata'), await since('Asia/Kathmandu')];
    expect((nepal - india + 1440) % 1440).toBe(15);
  });

  it('that is none is refused with what is allowed, and nothing changes', async () => {
    await setMillZone(site.journal, 'Europe/Berlin', { who: 'Ruth' });
    const sent = await send(site.app, '/settings/mill', { 'time-zone': 'Mars/Base', who: 'Ruth' });
    expect(sent.status).toBe(422);
    const html = await sent.text();
    expect(html).toContain('Mars/Base');
    expect(html).toContain('a time zone such as Europe/Istanbul');
    expect(await readMillZone(site.journal)).toBe('Europe/Berlin');
  });

  it('reads what is typed: a time that was skipped is refused, a last day counts whole', async () => {
    await setMillZone(site.journal, 'Europe/Berlin', { who: 'Ruth' });
    const skipped = await send(site.app, '/frames/frame-1/setup', {
      who: 'Ruth',
      at: '2026-03-29T02:30',
      note: 'Other nozzle',
    });
    expect(skipped.status).toBe(422);
    expect(await skipped.text()).toContain('the clocks were put forward over it');
    const { id } = await logComplaint(
      site.journal,
      { customer: 'A knitter', fabricFault: 'barré', receivedAt: '2026-04-02T08:00:00Z' },
      { who: 'Ruth' },
    );
    const sent = await send(site.app, `/complaints/${id}/record/changed`, {
      who: 'Ruth',
      customer: 'A knitter',
      fabricFault: 'barré',
      spunFrom: '2026-03-28',
      spunUntil: '2026-03-29',
    });
    expect(sent.status).toBe(303);
    // The last day had 23 hours: it ended at 22:00 of UTC.
    expect(await findComplaint(site.journal, id)).toMatchObject({
      spunFrom: '2026-03-27T23:00:00.000Z',
      spunUntil: '2026-03-29T21:59:59.999Z',
    });
    expect(await get(`/complaints/${id}`)).toContain('28 Mar 2026 to 29 Mar 2026');
  });

  it('bounds searches by its days', async () => {
    await setMillZone(site.journal, 'Asia/Kolkata', { who: 'Ruth' });
    expect(await get('/cases?from=2026-03-02&until=2026-03-02')).toContain('Ends break');
    expect(await get('/cases?from=2026-03-01&until=2026-03-01')).not.toContain('Ends break');
    await setMillZone(site.journal, 'UTC', { who: 'Ruth' });
    expect(await get('/cases?from=2026-03-02&until=2026-03-02')).not.toContain('Ends break');
    expect(await get('/cases?from=2026-03-01&until=2026-03-01')).toContain('Ends break');
  });

  it('once there, is not changed by the next start', async () => {
    await setMillZone(site.journal, 'Asia/Kolkata', { who: 'Ruth' });
    await ensureMillZone(site.journal, 'UTC');
    expect(await readMillZone(site.journal)).toBe('Asia/Kolkata');
  });
});
