import { describe, expect, it } from 'vitest';
import { readCase } from '../../src/rules/case/case-file.js';
import { formFields, page, post, testSite, textOf } from './site.js';

const { app, diagnostician, mill } = testSite();
const { book } = diagnostician.knowledge;
const CASE =
  'frame=frame-1&before.nozzle.surface=spiral&observations.end-breaks=marked&observations.piecing-poor=slight&scope=frame&onset=since-change&changed=nozzle-surface';

describe('the page of a cause', () => {
  it('tells the ledger as picture and as table with the same numbers', async () => {
    const html = await page(app, `/cause/nozzle-too-smooth?${CASE}`);
    const frame = mill.get('frame-1');
    expect(frame?.example).toBeDefined();
    const picture = /<svg class="picture waterfall".*?<\/svg>/s.exec(html)?.[0] ?? '';
    const table = /<table class="ledger">.*?<\/table>/s.exec(html)?.[0] ?? '';
    const weights = [...table.matchAll(/<span class="figure">([+−][\d.]+)<\/span>/g)].map(
      (match) => match[1],
    );
    expect(weights.length).toBeGreaterThan(3);
    for (const weight of weights) expect(picture).toContain(`>${weight}<`);
    expect(picture).toContain('<title>');
    expect(picture).toContain('<desc>');
    expect(picture).not.toMatch(/style=|<script/);
  });

  it('draws the chains and lists every step of them', async () => {
    const html = await page(app, `/cause/nozzle-too-smooth?${CASE}`);
    const picture = textOf(/<svg class="picture chains".*?<\/svg>/s.exec(html)?.[0] ?? '');
    const list = textOf(/<ol class="chain">.*?<\/ol>/s.exec(html)?.[0] ?? '');
    for (const label of ['Too little false twist', 'Binding-in zone too', 'More end breaks']) {
      expect(picture).toContain(label);
      expect(list).toContain(label);
    }
    expect(list).toContain('strong link:');
  });

  it('has checks, actions with side effects, what the end use allows, look-alikes', async () => {
    const text = textOf(await page(app, `/cause/nozzle-too-smooth?${CASE}`));
    for (const part of [
      'How to look',
      'Side effects',
      'allows',
      'What else it could be',
      'What would change it',
    ])
      expect(text).toContain(part);
  });

  it('keeps the case on the way back and on to look-alikes', async () => {
    const html = await page(app, `/cause/nozzle-too-smooth?${CASE}`);
    expect(html).toContain(`href="/bench?${CASE.replace(/&/g, '&amp;')}#answer"`);
    expect(html).toContain(`href="/cause/nozzle-worn?${CASE.replace(/&/g, '&amp;')}"`);
  });

  it('weighs the answer to one of its checks on the spot', async () => {
    const html = await page(app, `/cause/nozzle-too-smooth?${CASE}`);
    const link = /class="outcome-link" href="(\/cause\/nozzle-too-smooth\?[^"]*findings\.[^"]*)"/.exec(
      html,
    )?.[1];
    expect(link).toBeDefined();
    const path = (link ?? '').replace(/&amp;/g, '&');
    const [, check, outcome] = /findings\.([a-z-]+)=([a-z-]+)/.exec(path) ?? [];
    const label = book.checks.get(check ?? '')?.outcomes[outcome ?? '']?.label ?? 'none';
    expect(textOf(/<table class="ledger">.*?<\/table>/s.exec(await page(app, path))?.[0] ?? '')).toContain(
      label,
    );
  });

  it('says when a cause is ruled out', async () => {
    const html = await page(
      app,
      '/cause/insert-missing-or-worn?frame=frame-1&observations.end-breaks=marked',
    );
    expect(textOf(html)).toContain('Ruled out: This frame is run without an insert');
  });
});

describe('the setup page', () => {
  it('shows values in every unit, what differs from the card and what is assumed', async () => {
    const html = await page(app, '/setup?frame=frame-1&setup.twist=4.1+alpha-e&setup.room.humidity=-');
    const text = textOf(html);
    expect(text).toContain('20 Ne = 29.53 tex = 33.87 Nm');
    expect(text).toContain('4.1 αe = ');
    expect(text).toContain('Differs: the card says 3.7 αe');
    expect(text).toContain('Differs: the card says 58 %');
    expect(text).toMatch(/assumed: \d+ %/);
  });

  it('shows margins with interval and chance, and computed quantities with their standing', async () => {
    const text = textOf(await page(app, '/setup?frame=frame-4'));
    expect(text).toContain('Chance that nothing is left');
    expect(text).toContain('Heat margin');
    expect(text).toMatch(/judgement/);
    expect(text).toMatch(/physics/);
  });

  it('goes to the bench with a good setup and stays with a wrong one', async () => {
    const html = await page(app, '/setup?frame=frame-1&observations.hairy=slight');
    const fields = formFields(html).filter(([name]) => name !== 'setup.twist');
    const good = await post(app, '/setup', [...fields, ['setup.twist', '4.2'], ['go', 'bench']]);
    expect(good.headers.get('Location')).toBe(
      '/bench?frame=frame-1&setup.twist=4.2+alpha-e&observations.hairy=slight',
    );
    const wrong = await post(app, '/setup', [...fields, ['setup.twist', '42 alpha-e'], ['go', 'bench']]);
    const location = wrong.headers.get('Location') ?? '';
    expect(location.startsWith('/setup?')).toBe(true);
    const again = await page(app, location);
    expect(again).toContain('<title>Error: ');
    expect(again).toContain('href="#f-setup-twist"');
    expect(again).toContain('value="42"');
  });

  it('posts a card unchanged as no change at all', async () => {
    for (const frame of mill.values()) {
      const html = await page(app, `/setup?frame=${frame.id}`);
      const response = await post(app, '/setup', [...formFields(html), ['go', 'bench']]);
      expect(response.headers.get('Location')).toBe(`/bench?frame=${frame.id}`);
    }
  });

  it('works out anew while the fields stay', async () => {
    const response = await app.request(
      '/setup/report?frame=frame-1&setup.twist=abc&setup.twist.unit=alpha-e',
      {
        headers: { 'HX-Request': 'true' },
      },
    );
    const html = await response.text();
    expect(html.trimStart().startsWith('<section id="computed"')).toBe(true);
    expect(html).toContain('hx-partial hx-target="#f-setup-twist-about"');
    expect(textOf(html)).toContain('"abc" is not a number');
    expect(response.headers.get('HX-Replace-Url')).toBe('/setup?frame=frame-1&setup.twist=abc');
  });
});

describe('the converter', () => {
  it('turns a count and a twist into every system', async () => {
    const text = textOf(await page(app, '/convert?count=20&count-unit=Ne&twist=4.3&twist-unit=alpha-e'));
    expect(text).toMatch(/tex Grams a kilometre 29\.527/);
    expect(text).toMatch(/Nm Metric count 33\.867/);
    expect(text).toMatch(/t\/m Turns a metre 757\.09/);
  });

  it('says what is wrong with what was typed', async () => {
    const html = await page(app, '/convert?count=twenty&twist=4.3&twist-unit=alpha-e');
    expect(html).toContain('id="f-count-error"');
    expect(html).toContain('value="twenty"');
  });
});

describe('case files', () => {
  it('come back to the bench as they were saved', async () => {
    const saved = await app.request(`/case.yaml?${CASE}`);
    expect(saved.headers.get('Content-Disposition')).toContain('attachment; filename="case-frame-1.yaml"');
    const text = await saved.text();
    const first = readCase(text, diagnostician.vocabulary);
    expect(first.ok).toBe(true);
    const opened = await post(app, '/case', [['text', text]]);
    expect(opened.status).toBe(303);
    const again = await page(app, (opened.headers.get('Location') ?? '').replace('/bench', '/case.yaml'));
    expect(readCase(again, diagnostician.vocabulary)).toEqual(first);
  });

  it('can be uploaded', async () => {
    const body = new FormData();
    body.set(
      'file',
      new File(['setup: {fibre: cotton, count: 20 Ne}\nobservations: {hairy: slight}\n'], 'a.yaml'),
    );
    const response = await app.request('http://plant.test/case', {
      method: 'POST',
      headers: { Origin: 'http://plant.test' },
      body,
    });
    expect(response.status).toBe(303);
    expect(response.headers.get('Location')).toBe(
      '/bench?setup.fibre=cotton&setup.count=20+Ne&observations.hairy=slight',
    );
  });

  it('that are wrong are shown with every problem, its line, and the text kept', async () => {
    const text = 'setup:\n  fibre: cotten\n  count: 20 Ne\nobservations:\n  hairy: very\n';
    const response = await post(app, '/case', [['text', text]]);
    expect(response.status).toBe(422);
    const html = await response.text();
    expect(textOf(html)).toContain('line 2, setup.fibre');
    expect(textOf(html)).toContain('line 5, observations.hairy');
    expect(html).toContain('fibre: cotten');
  });

  it('too long for an address are refused with the reason', async () => {
    const response = await post(app, '/case', [
      ['text', `setup: {fibre: cotton, count: 20 Ne}\nnote: ${'ä'.repeat(4900)}\n`],
    ]);
    expect(response.status).toBe(422);
    expect(textOf(await response.text())).toContain('too long for an address');
  });
});

describe('the first page', () => {
  it('has the frames, and examples that put a known cause among the first', async () => {
    const html = await page(app, '/');
    for (const frame of mill.values()) expect(html).toContain(`href="/bench?frame=${frame.id}"`);
    const stories = [...html.matchAll(/<a href="(\/bench\?[^"]+)">Try:/g)].map((match) =>
      (match[1] ?? '').replace(/&amp;/g, '&'),
    );
    expect(stories.length).toBe([...mill.values()].filter((frame) => frame.story !== undefined).length);
    expect(stories.length).toBeGreaterThanOrEqual(3);
    for (const story of stories) expect(await page(app, story)).toContain('class="cause"');
  });
});
