import { describe, expect, it } from 'vitest';
import { createTableStore, KEPT_MINUTES, TABLE_BYTES } from '../../src/server/counts/table-store.js';
import { formFields, page, testSite, textOf } from './site.js';

const ORIGIN = 'http://plant.test';

async function send(parts: Record<string, string | Blob>): Promise<Response> {
  const form = new FormData();
  for (const [name, value] of Object.entries(parts))
    if (typeof value === 'string') form.append(name, value);
    else form.append(name, value, 'table.csv');
  return testSite().app.request(`${ORIGIN}/counts/table`, {
    method: 'POST',
    body: form,
    headers: { Origin: ORIGIN },
  });
}

async function sent(parts: Record<string, string | Blob>): Promise<string> {
  const response = await send(parts);
  expect(response.status).toBe(303);
  return response.headers.get('location') ?? '';
}

/** The address that a page's form leads to when it is sent as it stands. */
function follow(html: string, changes: Record<string, string> = {}): string {
  const action = /<form method="get" action="([^"]+)"/.exec(html)?.[1] ?? '';
  const fields = new Map(formFields(html));
  for (const [name, value] of Object.entries(changes)) fields.set(name, value);
  return `${action}?${new URLSearchParams([...fields])}`;
}

const CSV = `frame;position;breaks;hours\n${Array.from(
  { length: 120 },
  (_, i) =>
    `3;${i + 1};${i === 76 ? 14 : [0, 1, 1, 2, 0, 1, 2, 3, 1, 2, 0, 1, 3, 1, 2, 4, 0, 2, 1, 1][(i * 7) % 20]};24`,
).join('\n')}\n`;

describe('a table of breaks', () => {
  it('is sent, confirmed and answered, and leads to the bench', async () => {
    const { app } = testSite();
    const start = await page(app, '/counts');
    expect(textOf(start)).toContain('at most 16 MB');
    expect(textOf(start)).toContain(`${KEPT_MINUTES} minutes`);
    const address = await sent({ file: new Blob([CSV]) });
    expect(address).toMatch(/^\/counts\/table\/[0-9a-f]{32}$/);
    const columns = await page(app, address);
    expect(textOf(columns)).toContain('Each row is taken for the breaks of one position');
    expect(textOf(columns)).toMatch(/sure · 1 · 2 · 3/);

    const target = follow(columns, { norm: '60' });
    const html = await page(app, target);
    const text = textOf(html);
    expect(text).toMatch(/Real or chance\? Real, not chance\./);
    expect(text).toContain('Position 77 (14 breaks');
    expect(text).toContain('Carried over: where: one position; 14 breaks in 24 rotor-hours');
    expect(html).toContain('class="picture counts strip-frame"');
    // Back to the columns with everything as it was.
    const back = /<a href="([^"]+)">Columns and norm/.exec(html)?.[1]?.replace(/&amp;/g, '&') ?? '';
    expect(await page(app, back)).toContain('value="60"');

    const bench = /<form method="get" action="\/bench"[\s\S]*?<\/form>/.exec(html)?.[0] ?? '';
    const query = new URLSearchParams(formFields(bench));
    expect(Object.fromEntries(query)).toMatchObject({
      scope: 'position',
      'measurements.end-breaks.count': '14',
      'measurements.end-breaks.picked-from': '120',
    });
    query.set('frame', 'frame-1');
    const answer = textOf(await page(app, `/bench?${query}`));
    expect(answer).not.toContain('There is something to mend');
    expect(answer).toMatch(/14 breaks/);
  });

  it('can be taken away as CSV', async () => {
    const { app } = testSite();
    const address = await sent({ text: CSV });
    const html = await page(app, follow(await page(app, address)));
    const links = [...html.matchAll(/<a href="([^"]+\.csv[^"]*)" download>/g)].map(([, href = '']) =>
      href.replace(/&amp;/g, '&'),
    );
    expect(links.length).toBeGreaterThanOrEqual(2);
    for (const link of links) {
      const response = await app.request(`${ORIGIN}${link}`);
      expect(response.status).toBe(200);
      expect(response.headers.get('content-type')).toContain('text/csv');
      expect(response.headers.get('content-disposition')).toContain('attachment');
      expect((await response.text()).split('\r\n').length).toBeGreaterThan(2);
    }
    await page(app, `${address}/nothing.csv`, 404);
  });

  it('imports nothing with bad rows, lists them, and leaves them out when told', async () => {
    const { app } = testSite();
    const address = await sent({ text: CSV.replace('3;5;', '3;5;x').replace('3;9;', '3;;') });
    const columns = await page(app, address);
    const refused = await page(app, follow(columns));
    const text = textOf(refused);
    expect(text).toContain('Nothing was imported: 2 of 120 rows cannot be read');
    expect(text).toMatch(/6 breaks: "x\d" is no whole number/);
    expect(refused).toMatch(/<title>Error: /);
    const html = await page(app, follow(columns, { 'leave-out': '1' }));
    expect(textOf(html)).toContain('2 of 120 rows could not be read and were left out');
  });

  it('lets the columns be set right, and says what does not fit', async () => {
    const { app } = testSite();
    const address = await sent({
      text: `a,b\n${Array.from({ length: 20 }, (_, i) => `${i + 1},${i % 3}`).join('\n')}`,
    });
    const columns = await page(app, address);
    expect(textOf(columns)).toContain('a guess: please look');
    const twice = await page(app, follow(columns, { 'col.0': 'count', 'col.1': 'count' }));
    expect(textOf(twice)).toContain('another column is already taken for this');
    const none = await page(app, follow(columns, { 'col.0': '', 'col.1': '' }));
    expect(textOf(none)).toContain('say which one holds the number of breaks');
    const wrong = await page(app, follow(columns, { norm: 'high', positions: '2.5' }));
    expect(textOf(wrong)).toContain('“high” cannot be used');
    expect(textOf(wrong)).toContain('“2.5” cannot be used');
    expect(wrong).toContain('value="high"');
    await page(app, follow(columns, { 'col.0': 'position', 'col.1': 'count' }));
  });

  it('asks for the order of dates', async () => {
    const { app } = testSite();
    const days = Array.from({ length: 9 }, (_, i) => `0${i + 1}/04/2026,${10 + i}`).join('\n');
    const columns = await page(app, await sent({ text: `date,breaks\n${days}` }));
    const refused = await page(app, follow(columns));
    expect(textOf(refused)).toContain('day first or month first');
    expect(textOf(await page(app, follow(columns, { dates: 'dmy' })))).toContain('What the counts say');
  });

  it('tries the examples, with what is known beside them', async () => {
    const { app } = testSite();
    const said: Record<string, string> = {};
    for (const sample of ['positions', 'log', 'shifts']) {
      const columns = await page(app, await sent({ sample }));
      said[sample] = textOf(
        await page(app, follow(columns, { norm: '80', ...(sample === 'log' ? { positions: '120' } : {}) })),
      );
    }
    expect(said.positions).toMatch(
      /Positions 49 to 60 of frame 3 break together|Positions \d+ to \d+ break together/,
    );
    expect(said.log).toMatch(/Since about 11 Nov/);
    expect(said.log).toContain('sliver out');
    expect(said.shifts).toContain('in shift night');
  });

  it('leaves out reasons that are no breaks', async () => {
    const { app } = testSite();
    const columns = await page(app, await sent({ sample: 'log' }));
    const html = await page(app, `${follow(columns)}&without=sliver+out`);
    expect(textOf(html)).toMatch(/rows with other reasons passed over/);
    expect(html).toMatch(/value="sliver out" checked/);
  });

  it('refuses what is no table, too large, or over', async () => {
    const { app } = testSite();
    const empty = await send({ text: '  ' });
    expect(empty.status).toBe(422);
    expect(textOf(await empty.text())).toContain('There is no table');
    const nonsense = await page(
      app,
      await sent({ file: new Blob([new Uint8Array([0, 1, 2, 255, 254, 0])]) }),
    );
    expect(textOf(nonsense)).toContain('not clear yet');
    const large = await send({ file: new Blob([new Uint8Array(TABLE_BYTES + 10_000)]) });
    expect(large.status).toBe(413);
    expect(textOf(await page(app, '/counts/table/00000000000000000000000000000000', 404))).toContain(
      'no longer here',
    );
    expect(textOf(await page(app, '/counts/table/x/answer', 404))).toContain('no longer here');
  });

  it('escapes whatever the table holds', async () => {
    const { app } = testSite();
    const evil = '<img src=x onerror=alert(1)>';
    const address = await sent({
      text: `position,breaks,${evil}\n${evil},3,${evil}\n2,"x${evil}",a\n3,1,b\n4,1,c\n`,
    });
    const columns = await page(app, address);
    expect(columns).not.toContain('<img');
    const refused = await page(app, follow(columns, { 'col.0': 'position', 'col.1': 'count' }));
    expect(refused).not.toContain('<img');
    const html = await page(
      app,
      follow(columns, { 'col.0': 'position', 'col.1': 'count', 'col.2': 'reason', 'leave-out': '1' }),
    );
    expect(html).not.toContain('<img');
  });
});

describe('tables are kept for a short time', () => {
  it('forgets them after it, and the oldest when there are too many', () => {
    let now = 0;
    const store = createTableStore(() => now);
    const first = store.keep('a', new Uint8Array(10));
    now += (KEPT_MINUTES - 1) * 60_000;
    expect(store.find(first.id)).toBe(first);
    now += (KEPT_MINUTES - 1) * 60_000;
    expect(store.find(first.id)).toBe(first);
    now += (KEPT_MINUTES + 1) * 60_000;
    expect(store.find(first.id)).toBeUndefined();
    const large = Array.from({ length: 6 }, (_, i) =>
      store.keep(String(i), new Uint8Array(15 * 1024 * 1024)),
    );
    expect(store.find(large[0]?.id ?? '')).toBeUndefined();
    expect(store.find(large[5]?.id ?? '')).toBe(large[5]);
  });
});

describe('questions without a file', () => {
  const { app } = testSite();

  it.each([
    [
      '/counts/rate?breaks=30&hours=100&norm=90',
      /Real: 3\.3 times as many as the norm allows/,
      /strip|forest/,
    ],
    ['/counts/rate?breaks=0&hours=100', /0 breaks per 1000 rotor-hours/, /forest/],
    [
      '/counts/compare?breaks-a=30&hours-a=300&breaks-b=14&hours-b=280',
      /Real: the second breaks 50 % less often/,
      /forest/,
    ],
    [
      '/counts/trial-plan?from=100&to=60&positions=8',
      /Run \d+ rotor-hours with the change/,
      /figure|Figures/i,
    ],
    ['/counts/trial?treated=12&treated-hours=300&control=30&control-hours=310', /No worse/, /trial-progress/],
    ['/counts/trial?treated=12&treated-hours=300&norm=90', /Without positions beside/, /forest/],
    ['/counts/trial?treated=12&treated-hours=300&before=40&before-hours=300', /cannot be told/, /forest/],
    ['/counts/trial-positions?frame=240&trial=8', /8 pairs of neighbours/, /Left alone at first/],
    [
      '/counts/wavelength?peak=10.4&unit=cm&diameter=33',
      /It fits the rotor: within 1 %/,
      /findings\.spectrogram" value="groove-period/,
    ],
    [
      '/counts/wavelength?peak=11&unit=m&staple=28&draft=150',
      /drafting before the frame/,
      /value="drafting-wave/,
    ],
    [
      '/counts/wavelength?peak=11.8&unit=m&part-1=25&part-1-draft=150',
      /It fits roller 1/,
      /value="metre-waves/,
    ],
    [
      '/counts/wavelength?peak=50&unit=cm&diameter=33',
      /Nothing that was given makes this wavelength/,
      /The answer/,
    ],
  ])('%s', async (path, words, markup) => {
    const html = await page(app, path);
    expect(textOf(html)).toMatch(words);
    expect(html).toMatch(markup);
    expect(html).not.toMatch(/NaN|Infinity|undefined/);
  });

  it('fills rotor, staple and draft from a frame', async () => {
    const html = await page(app, '/counts/wavelength?frame=frame-1');
    const fields = new Map(formFields(html));
    expect(Number(fields.get('diameter'))).toBeGreaterThan(20);
    expect(Number(fields.get('draft'))).toBeGreaterThan(20);
    expect(html).not.toContain('There is something to mend');
  });

  it('opens empty, keeps what was typed, and says all that is wrong at once', async () => {
    for (const path of [
      '/counts/rate',
      '/counts/compare',
      '/counts/trial-plan',
      '/counts/trial',
      '/counts/trial-positions',
      '/counts/wavelength',
    ]) {
      const html = await page(app, path);
      expect(html).not.toContain('error-summary');
      expect(html).not.toContain('answer-heading');
    }
    const html = await page(app, '/counts/rate?breaks=1.5&hours=none&norm=');
    expect(textOf(html)).toContain('Breaks: “1.5” cannot be used');
    expect(textOf(html)).toContain('Rotor-hours: “none” cannot be used');
    expect(html).toContain('value="none"');
    await page(app, '/counts/trial?treated=12&treated-hours=300');
    await page(app, '/counts/trial?treated=12&treated-hours=300&control=3');
    await page(app, '/counts/trial-plan?from=100&to=100');
    await page(app, '/counts/trial-positions?frame=10&trial=30');
  });

  it('gives the figures as CSV', async () => {
    const response = await app.request(`${ORIGIN}/counts/rate?breaks=30&hours=100&norm=90&format=csv`);
    expect(response.headers.get('content-type')).toContain('text/csv');
    expect(await response.text()).toContain('Break rate,300,per 1000 rotor-hours');
  });
});
