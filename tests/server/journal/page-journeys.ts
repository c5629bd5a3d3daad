import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  findCase,
  findComplaint,
  findDiagnosis,
  type Journal,
  listFrames,
  searchCases,
  searchComplaints,
  sniffPicture,
} from '../../../src/journal/index.js';
import { page, post, textOf } from '../site.js';
import { fill, type JournalSite, openJournalSite, send } from './journal-site.js';

/** The journeys through the journal's pages, on one engine. */
export function describePageJourneys(engine: Journal['engine']): void {
  let site: JournalSite;
  beforeAll(async () => {
    site = await openJournalSite(true, () => ({}), engine);
  });
  afterAll(async () => site?.close());
  const read = (path: string, status = 200) => page(site.app, path, status);
  const SEEN = 'frame=frame-3&observations.end-breaks=marked&scope=position';

  /** Opens a case from the bench and gives its address. */
  async function openCase(values: Readonly<Record<string, string>> = {}, query = SEEN): Promise<string> {
    const response = await send(site.app, `/cases/new?${query}`, { who: 'Asha', position: '17', ...values });
    if (response.status !== 303) throw new Error(textOf(await response.text()));
    return response.headers.get('Location') ?? '';
  }
  const record = (path: string, step: string, values: Readonly<Record<string, string>>) =>
    send(site.app, `${path}/record/${step}`, { who: 'Asha', ...values });

  describe('what the journal shows', () => {
    it('says on every page of it that the mill is invented', async () => {
      for (const path of ['/journal', '/frames', '/cases', '/complaints', '/quality', '/learning', '/parts'])
        expect(textOf(await read(path)), path).toContain('Demonstration mill. Every frame, person');
    });

    it('lists the frames of the journal on the first page, with their present setup on the bench', async () => {
      const frames = await listFrames(site.journal);
      const first = await read('/');
      for (const frame of frames) expect(first).toContain(`href="/bench?frame=${frame.id}"`);
      expect(frames.some((frame) => frame.id === 'frame-12')).toBe(true);
      expect(textOf(await read('/bench?frame=frame-12'))).toContain('rotor at');
    });

    it('has no link that leads nowhere', async () => {
      const seen = new Set<string>();
      for (const start of ['/journal', '/frames', '/cases', '/complaints', '/quality', '/learning', '/parts'])
        for (const [, href = ''] of (await read(start)).matchAll(
          /href="(\/(?:cases|complaints|frames|quality|parts)[^"#]*)/g,
        ))
          seen.add(href.replace(/&amp;/g, '&'));
      expect(seen.size).toBeGreaterThan(80);
      for (const href of [...seen].filter((_, n) => n % 3 === 0)) {
        const response = await site.app.request(href);
        expect(response.status, href).toBe(200);
        await response.arrayBuffer();
      }
    });

    it('names what is not there', async () => {
      expect(textOf(await read('/cases/case-9999', 404))).toContain('There is no case "case-9999"');
      for (const step of ['nothing', 'toString', '__proto__'])
        await read(`/cases/case-1/record/${step}`, 404);
      expect(textOf(await read('/frames/frame-99', 404))).toContain('There is no frame "frame-99"');
      await read('/complaints/complaint-999', 404);
    });
  });

  describe('the life of a case', () => {
    it('runs from the bench to the close, every step kept', async () => {
      const path = await openCase({ title: 'Breaks at 17' });
      const opened = await read(path);
      expect(textOf(opened)).toContain('Breaks at 17');
      expect(textOf(opened)).toContain('Frame 3, position 17');
      // The diagnosis is there as it was: causes, the next checks, and a way back to the bench on this case.
      expect(opened).toContain('class="cause-name"');
      const id = path.replace('/cases/', '');
      expect(opened).toContain(`case=${id}`);
      const check = new RegExp(`href="${path}/record/check-made\\?check=([a-z-]+)"`).exec(opened)?.[1] ?? '';
      const outcome =
        Object.keys(site.diagnostician.knowledge.book.checks.get(check)?.outcomes ?? {})[0] ?? '';
      const form = await read(`${path}/record/check-made?check=${check}`);
      expect(form).toContain('class="caution"');
      const checked = await post(site.app, `${path}/record/check-made`, [
        ...fill(form, { who: 'Asha', minutes: '12,5' }),
        ...(check === 'part-exchange'
          ? ([['result', 'cured']] as const)
          : ([['outcomes', outcome]] as const)),
      ]);
      expect(checked.status).toBe(303);
      expect(
        (
          await send(site.app, `${path}/record/action-taken?action=clean-rotor`, {
            who: 'Asha',
            done: 'wiped the groove',
            minutes: '10',
          })
        ).status,
      ).toBe(303);
      // What was done last is proposed for the trial, and its positions must be on the frame.
      expect(await read(`${path}/record/trial-started`)).toContain('value="wiped the groove"');
      const off = await record(path, 'trial-started', { what: 'cleaned', positions: '17, 400' });
      expect(off.status).toBe(422);
      expect(textOf(await off.text())).toContain('1 to 240 on this frame');
      expect(
        (await record(path, 'trial-started', { what: 'cleaned against not cleaned', positions: '17, 20-22' }))
          .status,
      ).toBe(303);
      const early = await record(path, 'closed', { cause: 'rotor-local-dirt', how: 'by-trial' });
      expect(early.status).toBe(422);
      expect(textOf(await early.text())).toContain('a trial is running; finish it first');
      const finished = await record(path, 'trial-finished', {
        verdict: 'better',
        'without.count': '40',
        'without.hours': '300',
        'with.count': '12',
        'with.hours': '300',
      });
      expect(finished.status).toBe(303);
      const closed = await record(path, 'closed', {
        cause: 'rotor-local-dirt',
        how: 'by-trial',
        symptomGone: 'yes',
        'cost.rotorHours': '6',
        'cost.wasteKg': '1,2',
        note: 'A husk in the groove.',
      });
      expect(closed.status).toBe(303);
      const kept = await findCase(site.journal, id);
      expect(kept.state).toBe('closed');
      expect(kept.closure).toMatchObject({
        outcome: 'confirmed',
        cause: 'rotor-local-dirt',
        how: 'by-trial',
      });
      expect(kept.cost).toEqual({ minutes: 22.5, rotorHours: 6, wasteKg: 1.2 });
      const text = textOf(await read(path));
      expect(text).toContain('The drop is more than chance.');
      expect(text).toContain('Positions 17, 20, 21, 22.');
      const report = textOf(await read(`${path}/report`));
      for (const part of ['Breaks at 17', 'What the bench said', 'wiped the groove', 'A husk in the groove.'])
        expect(report).toContain(part);
      expect(textOf(await read(`${path}/diagnoses/1`))).toContain('What it was told');
    });

    it('weighs what an action and a trial brought when the case is ranked again', async () => {
      const path = await openCase();
      const id = path.replace('/cases/', '');
      const taken = (action: string, result = '') =>
        send(site.app, `${path}/record/action-taken?action=${action}`, { who: 'Asha', result });
      expect((await taken('clean-rotor')).status).toBe(303);
      // Nothing is known yet: nothing is left to weigh, and the bench says so.
      expect(textOf(await read(path))).not.toContain('after the last ranking');
      expect(textOf(await read(`${path}/again`))).toContain('Not weighed, because what came of it');
      expect((await taken('replace-nozzle', 'no-change')).status).toBe(303);
      expect(textOf(await read(path))).toContain('Nothing changed.');
      expect(textOf(await read(path))).toContain('1 finding or result was recorded after the last ranking');
      const trial = await read(`${path}/record/trial-started`);
      expect(trial).toMatch(/name="actions" value="replace-nozzle" checked/);
      const begun = await post(site.app, `${path}/record/trial-started`, [
        ...fill(trial, { who: 'Asha', what: 'cleaned' }).filter(([name]) => name !== 'actions'),
        ['actions', 'clean-rotor'],
      ]);
      expect(begun.status).toBe(303);
      expect((await record(path, 'trial-finished', { verdict: 'no-change' })).status).toBe(303);
      const html = await read(path);
      expect(textOf(html)).toContain('2 findings or results were recorded');
      expect(html).toContain('tried.clean-rotor=no-change&amp;tried.replace-nozzle=no-change');
      const again = await read(`${path}/again`);
      expect(textOf(again)).toContain('2 findings or results recorded since then are weighed as well.');
      expect((await post(site.app, `${path}/again`, fill(again, { who: 'Asha' }))).status).toBe(303);
      const kept = await findDiagnosis(site.journal, id);
      expect(kept.input.tried).toEqual({ 'clean-rotor': 'no-change', 'replace-nozzle': 'no-change' });
      const first = await findDiagnosis(site.journal, id, 1);
      const chance = (one: typeof kept) => new Map(one.ranked).get('rotor-local-dirt') ?? 0;
      expect(chance(kept)).toBeLessThan(chance(first) * 0.8);
      expect(textOf(await read(path))).not.toContain('after the last ranking');
    });

    it('keeps corrections with what they corrected', async () => {
      const path = await openCase();
      await record(path, 'noted', { note: 'Nozzle 4711 fitted' });
      const kept = await findCase(site.journal, path.replace('/cases/', ''));
      const version = kept.steps.at(-1)?.version ?? 0;
      const refused = await send(site.app, `${path}/correct/${version}`, {
        who: 'Bruno',
        note: 'Nozzle 4712 fitted',
      });
      expect(refused.status).toBe(422);
      const corrected = await send(site.app, `${path}/correct/${version}`, {
        who: 'Bruno',
        note: 'Nozzle 4712 fitted',
        why: 'misread',
      });
      expect(corrected.status).toBe(303);
      const text = textOf(await read(path));
      expect(text).toContain('Nozzle 4712 fitted');
      expect(text).toMatch(/Corrected by Bruno, .*: misread\. Before: Note – Nozzle 4711 fitted/);
    });

    it('refuses an edit that somebody overtook, says what changed, and keeps both texts', async () => {
      const path = await openCase();
      const mine = await read(`${path}/record/noted`);
      expect((await record(path, 'noted', { note: 'It is the nozzle.' })).status).toBe(303);
      const late = await post(
        site.app,
        `${path}/record/noted`,
        fill(mine, { who: 'Chen', note: 'It is the sliver.' }),
      );
      expect(late.status).toBe(409);
      const html = await late.text();
      expect(textOf(html)).toContain('Somebody was quicker');
      expect(textOf(html)).toContain('Note – It is the nozzle.');
      expect(html).toContain('It is the sliver.</textarea>');
      // Sent again from that page, it goes in.
      const again = await post(site.app, `${path}/record/noted`, fill(html, {}));
      expect(again.status).toBe(303);
      const notes = (await findCase(site.journal, path.replace('/cases/', ''))).steps.flatMap(({ data }) =>
        data.step === 'noted' ? [data.note] : [],
      );
      expect(notes).toEqual(['It is the nozzle.', 'It is the sliver.']);
    });

    it('carries a form out once, however often it is sent', async () => {
      const path = await openCase();
      const fields = fill(await read(`${path}/record/noted`), { who: 'Asha', note: 'Once.' });
      expect((await post(site.app, `${path}/record/noted`, fields)).status).toBe(303);
      expect((await post(site.app, `${path}/record/noted`, fields)).status).toBe(303);
      const kept = await findCase(site.journal, path.replace('/cases/', ''));
      expect(kept.steps.filter(({ data }) => data.step === 'noted')).toHaveLength(1);
    });

    it('keeps what was typed when something cannot be used, and says what', async () => {
      const response = await send(site.app, `/cases/new?${SEEN}`, {
        who: '',
        position: 'seven',
        title: 'Odd',
      });
      expect(response.status).toBe(422);
      const html = await response.text();
      expect(html).toContain('<title>Error: ');
      expect(html).toContain('value="Odd"');
      expect(html).toContain('value="seven"');
      expect(textOf(html)).toContain('“seven” is not a number');
      expect(textOf(html)).toContain('Your name is missing.');
      expect(html).toContain('href="#f-position"');
      const beyond = await send(site.app, `/cases/new?${SEEN}`, { who: 'Asha', position: '900' });
      expect(beyond.status).toBe(422);
      expect(textOf(await beyond.text())).toContain('1 to 240 on this frame');
    });

    it('is run again on today’s rules with what was found since, and keeps that too', async () => {
      const path = await openCase();
      await send(site.app, `${path}/record/check-made?check=groove-look`, {
        who: 'Asha',
        outcomes: 'even-dust',
      });
      // The case says that its ranking is older than the finding, and takes the finding to the bench.
      const waiting = await read(path);
      expect(textOf(waiting)).toContain('1 finding or result was recorded after the last ranking');
      expect(waiting).toMatch(/href="\/bench\?[^"]*findings\.groove-look=even-dust/);
      const html = await read(`${path}/again`);
      expect(textOf(html)).toContain('The knowledge is the same as then.');
      expect(textOf(html)).toContain('1 finding or result recorded since then is weighed as well.');
      expect((await post(site.app, `${path}/again`, fill(html, { who: 'Asha' }))).status).toBe(303);
      expect(textOf(await read(path))).not.toContain('recorded after the last ranking');
      expect((await findCase(site.journal, path.replace('/cases/', ''))).diagnoses).toHaveLength(2);
    });

    it('goes on at the bench and keeps the new diagnosis with the same case', async () => {
      const path = await openCase();
      const id = path.replace('/cases/', '');
      const bench = await read(`/bench?${SEEN}&observations.hairy=slight&case=${id}`);
      expect(bench).toContain(`href="/cases/${id}/keep?`);
      const kept = await send(site.app, `/cases/${id}/keep?${SEEN}&observations.hairy=slight&case=${id}`, {
        who: 'Asha',
      });
      expect(kept.headers.get('Location')).toBe(path);
      const [, second] = (await findCase(site.journal, id)).diagnoses;
      expect(second?.number).toBe(2);
    });

    it('is found by words, frame and state, a page at a time, and goes out as CSV without formulas', async () => {
      await openCase({ title: '=HYPERLINK("http://x") zwirn' });
      const found = await read('/cases?q=zwirn&frame=frame-3&state=not-closed');
      expect(textOf(found)).toContain('1 found');
      expect(textOf(await read('/cases?q=nothing+like+it'))).toContain('No case is like that.');
      const csv = await read('/cases.csv?q=zwirn');
      expect(csv).toContain(`"'=HYPERLINK(""http://x"") zwirn"`);
      const first = await read('/cases');
      const next = /href="(\/cases\?after=[^"]+)" rel="next"/.exec(first)?.[1] ?? '';
      const second = await read(next.replace(/&amp;/g, '&'));
      const ids = (html: string) => [...html.matchAll(/href="\/cases\/(case-\d+)"/g)].map(([, id]) => id);
      expect(ids(first)).toHaveLength(40);
      expect(ids(second).filter((id) => ids(first).includes(id))).toEqual([]);
      const all = JSON.parse(await read('/cases.json')) as { cases: unknown[] };
      expect(all.cases.length).toBeGreaterThan(60);
    });
  });

  describe('a frame', () => {
    it('tells what was changed lately and takes it to the bench as evidence', async () => {
      const setup = await read('/frames/frame-3/setup?setup.twist=4.6+alpha-e');
      expect(textOf(setup)).toContain('twist: 4.3 αe → 4.6 αe');
      const response = await post(site.app, '/frames/frame-3/setup', [
        ...fill(setup, { who: 'Emil', note: 'More twist for a trial' }),
        ['changes', 'cleaning-round'],
      ]);
      expect(response.status).toBe(303);
      const html = await read('/frames/frame-3');
      expect(textOf(html)).toContain('More twist for a trial');
      expect(textOf(html)).toContain('by the model.');
      const link = /<a class="button-link main" href="([^"]*)"/.exec(html)?.[1]?.replace(/&amp;/g, '&') ?? '';
      const query = new URLSearchParams(link.slice(link.indexOf('?')));
      expect(query.get('frame')).toBe('frame-3');
      expect(query.getAll('changed').sort()).toEqual(['cleaning-round', 'twist']);
      expect(query.get('onset')).toBe('since-change');
      expect(query.get('before.twist')).toBe('4.3 alpha-e');
      // The bench stands on the new setup at once.
      expect(textOf(await read('/bench?frame=frame-3'))).toContain('αe 4.6');
    });

    it('is added, edited with both texts kept, and refused with a wrong id', async () => {
      expect(
        (
          await send(site.app, '/frames/new', {
            id: 'frame-30',
            name: 'Frame 30',
            positions: '120',
            sections: 'Left 1-60\nRight 61-120',
            who: 'Emil',
          })
        ).status,
      ).toBe(303);
      const bad = await send(site.app, '/frames/new', {
        id: 'frame 31',
        name: 'X',
        positions: '0',
        who: 'Emil',
      });
      expect(bad.status).toBe(422);
      const mine = await read('/frames/frame-30/edit');
      await send(site.app, '/frames/frame-30/edit', { place: 'Hall D', who: 'Emil' });
      const late = await post(
        site.app,
        '/frames/frame-30/edit',
        fill(mine, { place: 'Hall E', who: 'Dalia' }),
      );
      expect(late.status).toBe(409);
      const html = await late.text();
      expect(html).toContain('Hall D');
      expect(html).toContain('value="Hall E"');
    });

    it('loses an entry of its history only from what counts', async () => {
      const before = await read('/frames/frame-4');
      const link = /href="(\/frames\/frame-4\/setups\/[^"]+\/withdraw)"/.exec(before)?.[1] ?? '';
      expect((await send(site.app, link, { who: 'Emil' })).status).toBe(303);
      expect(await read('/frames/frame-4')).not.toContain(link);
    });
  });

  describe('a complaint', () => {
    const PNG = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    const upload = (path: string, bytes: Uint8Array, name = 'fault.png') => {
      const body = new FormData();
      body.set('who', 'Quality');
      body.set('caption', 'Stripes');
      body.set('photo', new File([new Uint8Array(bytes)], name, { type: 'image/png' }));
      return site.app.request(`http://plant.test${path}/photos`, {
        method: 'POST',
        headers: { Origin: 'http://plant.test' },
        body,
      });
    };

    it('finds frames and cases by its yarn, and is traced, put right, verified and closed with a letter', async () => {
      const logged = await send(site.app, '/complaints/new', {
        customer: 'Moorgate Knitters',
        fabricFault: 'barré in single jersey',
        claimedKg: '120',
        yarn: 'yarn-1',
        spunFrom: '2026-10-01',
        spunUntil: '2026-11-01',
        who: 'Quality',
      });
      const path = logged.headers.get('Location') ?? '';
      const id = path.replace('/complaints/', '');
      const kept = await findComplaint(site.journal, id);
      expect(kept.frames.length).toBeGreaterThan(0);
      const draft = textOf(await read(`${path}/letter`));
      expect(draft).toContain('Still missing: the root cause, the corrective action, the verification.');
      const early = await send(site.app, `${path}/record/closed`, { who: 'Quality' });
      expect(early.status).toBe(422);
      expect(textOf(await early.text())).toContain('closing needs a root cause');
      for (const [step, values] of [
        ['containment', { text: 'Two pallets held back.' }],
        ['root-cause', { cause: 'nozzle-mixed', text: 'Two kinds of nozzles on one lot.' }],
        ['corrective', { text: 'All nozzles of the lot made alike.' }],
        ['preventive', { text: 'A list of nozzles on every frame.' }],
        ['verified', { fixed: 'yes', text: 'The next delivery was knitted without stripes.' }],
        ['closed', {}],
      ] as const)
        expect(
          (await send(site.app, `${path}/record/${step}`, { who: 'Quality', ...values })).status,
          step,
        ).toBe(303);
      const letter = textOf(await read(`${path}/letter`));
      for (const part of [
        'Moorgate Knitters',
        'barré in single jersey',
        'Two pallets held back.',
        'Two kinds of nozzles',
        'All nozzles of the lot',
        'We regret the trouble',
      ])
        expect(letter).toContain(part);
      expect((await findComplaint(site.journal, id)).state).toBe('closed');
    });

    it('takes pictures only, and serves them so that nothing can run', async () => {
      const [complaint] = (await searchComplaints(site.journal, {})).rows;
      const path = `/complaints/${complaint?.id}`;
      const wrong = await upload(
        path,
        Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
        'x.png',
      );
      expect(wrong.status).toBe(422);
      expect(textOf(await wrong.text())).toContain('a whole PNG, JPEG or WebP picture');
      expect((await upload(path, PNG)).status).toBe(303);
      const html = await read(path);
      const photos = [...html.matchAll(/<img src="(\/photos\/[^"]+)" alt="Stripes"/g)];
      const photo = photos[0]?.[1] ?? '';
      const served = await site.app.request(photo);
      expect(served.headers.get('Content-Type')).toBe('image/png');
      expect(served.headers.get('X-Content-Type-Options')).toBe('nosniff');
      expect(sniffPicture(new Uint8Array(await served.arrayBuffer()))).toBe('image/png');
      expect(
        (await send(site.app, `${photo}/withdraw`, { who: 'Quality', why: 'wrong fabric' })).status,
      ).toBe(303);
      expect((await site.app.request(photo)).status).toBe(404);
      const large = await upload(path, new Uint8Array(6 * 1024 * 1024));
      expect(large.status).toBe(422);
      expect((await upload(path, new Uint8Array(9 * 1024 * 1024))).status).toBe(413);
    });
  });

  describe('the quality desk', () => {
    it('answers what caused the complaints on a yarn, what it cost and whether it was fixed', async () => {
      const overview = await read('/journal');
      const link =
        /href="(\/quality\?yarn=yarn-1&amp;months=6)"/.exec(overview)?.[1]?.replace(/&amp;/g, '&') ?? '';
      const html = await read(link);
      const answer = textOf(/<section class="leaf" id="answer".*?<\/section>/s.exec(html)?.[0] ?? '');
      const found = await searchComplaints(site.journal, {
        yarn: 'yarn-1',
        receivedFrom: new Date(Date.now() - 183 * 86_400_000).toISOString(),
      });
      expect(answer).toContain(
        found.rows.length === 1 ? 'there was 1 complaint' : `there were ${found.rows.length} complaints`,
      );
      expect(answer).toContain('Fixed: ');
      const evidence = /id="complaint-causes".*?<\/table>/s.exec(html)?.[0] ?? '';
      expect(evidence).toMatch(/href="\/complaints\?yarn=yarn-1&amp;months=6/);
    });

    it('shows the same numbers in the picture and in the table, and a bar leads to its cases', async () => {
      const html = await read('/quality?months=all');
      const picture = /<svg class="picture pareto".*?<\/svg>/s.exec(html)?.[0] ?? '';
      const table = /<table class="data" id="pareto">.*?<\/table>/s.exec(html)?.[0] ?? '';
      const bars = [
        ...picture.matchAll(/<a href="([^"]*)" class="pareto-link"><title>(.*?): ([\d.]+)<\/title>/g),
      ];
      expect(bars.length).toBeGreaterThan(3);
      for (const [, href = '', label = '', value = ''] of bars) {
        const row = new RegExp(
          `<a href="[^"]*">${label.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}</a>.*?<td class="number" data-title="Cases"><span>(\\d+)`,
          's',
        ).exec(table);
        expect(row?.[1]).toBe(value);
        const cases = await read(href.replace(/&amp;/g, '&'));
        expect(textOf(cases)).toContain(`${value} found`);
      }
      const sum = bars.reduce((total, [, , , value]) => total + Number(value), 0);
      const confirmed = (await searchCases(site.journal, { outcome: 'confirmed' }, { size: 200 })).rows
        .length;
      expect(sum).toBeLessThanOrEqual(confirmed);
    });

    it('gives its figures as CSV and JSON', async () => {
      expect(await read('/quality.csv?months=all')).toMatch(/^\ufeff?cause,in words,cases/);
      const json = JSON.parse(await read('/quality.json?months=all')) as Record<string, unknown>;
      expect(Object.keys(json).sort()).toEqual([
        'calibration',
        'complaints',
        'durations',
        'filter',
        'hits',
        'pareto',
      ]);
    });
  });

  describe('learning and parts', () => {
    it('shows expert and mill side by side, keeps the switch, and tries both on the closed cases', async () => {
      const off = await read('/learning');
      expect(textOf(off)).toContain('In use: the expert’s rates Once this mill’s rates are in use');
      // The name is asked for without what is said of the choice.
      expect(off).toMatch(/id="f-who" name="who"(?![^>]*aria-describedby)/);
      expect((await send(site.app, '/learning', { who: 'Dalia' })).status).toBe(303);
      const on = textOf(await read('/learning'));
      expect(on).toContain('In use: this mill’s rates');
      expect(on).toContain('Last set by Dalia');
      expect((await post(site.app, '/learning/replay', [['go', 'yes']])).status).toBe(303);
      const tried = textOf(await read('/learning'));
      expect(tried).toMatch(/Tried .* on \d+ closed cases/);
      expect(tried).toContain('learned from these very cases');
    });

    it('lists parts by the life that the model gives them, and by the life stated', async () => {
      const all = textOf(await read('/parts?used=1'));
      expect(all).toMatch(/Nozzle 1–\d+/);
      expect(textOf(await read('/parts?used=1&tube=30000'))).toContain('Tube');
      expect(textOf(await read('/parts?used=many', 422))).toContain('“many” is not a number');
    });
  });
}
