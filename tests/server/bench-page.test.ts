import { describe, expect, it } from 'vitest';
import { stateOfCase, writeQuery } from '../../src/server/bench-state.js';
import { COMMON_SYMPTOMS } from '../../src/server/views/bench.js';
import { formFields, page, post, testSite, textOf } from './site.js';

const { app, diagnostician, vignettes } = testSite();
const HTMX = { 'HX-Request': 'true' };
const CASE =
  'frame=frame-1&before.nozzle.surface=spiral&observations.end-breaks=marked&scope=frame&onset=since-change&changed=nozzle-surface';

/** Follows a form without scripting: its fields with some set anew, posted, the redirect opened. */
async function submit(
  html: string,
  set: readonly (readonly [string, string])[],
): Promise<{ path: string; html: string }> {
  const names = new Set(set.map(([name]) => name));
  const radios = formFields(html).filter(
    ([name]) => !names.has(name) || name === 'changed' || name === 'later',
  );
  const response = await post(app, '/bench', [...radios, ...set]);
  expect(response.status).toBe(303);
  const location = response.headers.get('Location') ?? '';
  expect(location.endsWith('#answer')).toBe(true);
  const path = location.replace('#answer', '');
  return { path, html: await page(app, path) };
}

describe('the bench without scripting', () => {
  it('leads from the first page to a ranking in three steps', async () => {
    const first = await page(app, '/');
    expect(first).toContain('href="/bench?frame=frame-1"');
    const bench = await page(app, '/bench?frame=frame-1');
    expect(textOf(bench)).toContain('Tick at least one sign');
    expect(bench).not.toContain('class="cause"');
    const answer = await submit(bench, [['observations.end-breaks', 'marked']]);
    expect(answer.path).toBe('/bench?frame=frame-1&observations.end-breaks=marked');
    expect(answer.html).toContain('class="cause"');
    // Checks and actions are in the page: nothing is left to load.
    expect(answer.html).toContain('What did you see?');
    expect(answer.html).toContain('id="first-actions"');
    expect(answer.html).not.toContain('Working out what to look at next');
  });

  it('shows the cause that the engine puts first, with figure, words and reason', async () => {
    const html = await page(app, `/bench?${CASE}`);
    const text = textOf(html);
    const first = /class="cause-name" href="\/cause\/([a-z-]+)\?/.exec(html)?.[1];
    expect(first).toBe('nozzle-too-smooth');
    expect(text).toContain('Nozzle texture too smooth');
    expect(text).toMatch(/\d+ % (very likely|likely|almost certain)/);
    expect(text).toContain('Changed: nozzle texture – speaks clearly for it.');
  });

  it('weighs the answer to a check, lists it, and takes it back', async () => {
    const html = await page(app, `/bench?${CASE}`);
    const [, name = '', value = ''] = /name="(findings\.[a-z-]+)" value="([a-z-]+)"/.exec(html) ?? [];
    expect(name).not.toBe('');
    const after = await submit(html, [[name, value]]);
    expect(after.path).toContain(`${name}=${value}`);
    expect(after.html).toContain('Looked at already');
    expect(after.html).toContain(`name="drop" value="${name}"`);
    const back = await submit(after.html, [['drop', name]]);
    expect(back.path).not.toContain(name);
    expect(textOf(back.html)).not.toContain('Looked at already');
  });

  it('puts a check off and shows it again', async () => {
    const html = await page(app, `/bench?${CASE}`);
    const check = /name="later" value="([a-z-]+)" hx-get/.exec(html)?.[1] ?? '';
    const after = await submit(html, [['later', check]]);
    expect(after.path).toContain(`later=${check}`);
    expect(after.html).not.toContain(`id="check-${check}"`);
    const again = await submit(after.html, [['drop', `later.${check}`]]);
    expect(again.html).toContain(`id="check-${check}"`);
  });

  it('weighs what was tried already, says so in the ledger, and keeps a row without an action', async () => {
    const html = await page(app, `/bench?${CASE}`);
    const percent = (text: string) => /Nozzle texture too smooth .*?(\d+) % /.exec(textOf(text))?.[1];
    const after = await submit(html, [
      ['tried.1.action', 'fit-rougher-nozzle'],
      ['tried.1.result', 'no-change'],
      ['tried.2.action', 'raise-twist'],
    ]);
    expect(after.path).toContain('&tried.fit-rougher-nozzle=no-change&tried.raise-twist=undecided');
    expect(Number(percent(after.html))).toBeLessThan(Number(percent(html)));
    expect(textOf(after.html)).toContain(
      'Not weighed, because what came of it is not known yet: raise the twist',
    );
    // The rows come back as they were, with two more that are empty.
    expect(formFields(after.html).filter(([name]) => name.startsWith('tried.'))).toEqual([
      ['tried.1.action', 'fit-rougher-nozzle'],
      ['tried.1.result', 'no-change'],
      ['tried.2.action', 'raise-twist'],
      ['tried.2.result', 'undecided'],
      ['tried.3.action', ''],
      ['tried.3.result', 'undecided'],
      ['tried.4.action', ''],
      ['tried.4.result', 'undecided'],
    ]);
    // What was done in vain is not the first advice again.
    const advice = (text: string) =>
      [...text.matchAll(/class="action-name">([^<]*)/g)].map(([, name]) => name);
    expect(advice(html)[0]).toBe('Fit a nozzle one step rougher');
    expect(advice(after.html).indexOf('Fit a nozzle one step rougher')).toBeGreaterThan(0);
    expect(textOf(after.html)).toContain('tried already: nothing changed');
    const cause = await page(app, after.path.replace('/bench', '/cause/nozzle-too-smooth'));
    expect(textOf(cause)).toMatch(/Tried: [^;]*one step rougher; nothing changed/);
    const wrong = await submit(after.html, [['tried.3.result', 'helped']]);
    expect(wrong.html).toContain('href="#f-tried--"');
    expect(wrong.html).toMatch(/<select[^>]*id="f-tried--"[^>]*aria-invalid="true"/);
    expect(textOf(wrong.html)).toContain('Already tried: choose what was tried.');
  });

  it('keeps what was typed wrong, with all errors at once and links to the fields', async () => {
    const html = await page(app, '/bench?frame=frame-3');
    const after = await submit(html, [
      ['observations.end-breaks', 'marked'],
      ['measurements.tenacity.mean', 'strong'],
      ['measurements.end-breaks.count', '4.5'],
    ]);
    const text = textOf(after.html);
    expect(after.html).toContain('<title>Error: What is wrong on Frame 3?');
    expect(after.html).toContain('value="strong"');
    for (const name of [
      'measurements-tenacity-mean',
      'measurements-tenacity-tests',
      'measurements-end-breaks-count',
      'measurements-end-breaks-norm-per-1000',
    ]) {
      expect(after.html).toContain(`href="#f-${name}"`);
      expect(after.html).toMatch(new RegExp(`id="f-${name}"[^>]*aria-invalid="true"`));
      expect(after.html).toContain(`id="f-${name}-error"`);
    }
    expect(text).toContain('Worked out without: End breaks; Tenacity.');
    // The rest of the case still gets its answer.
    expect(after.html).toContain('class="cause"');
  });

  it('points errors of the setup at the setup page', async () => {
    const html = await page(
      app,
      '/bench?frame=frame-3&setup.rotor.speed=fast&observations.end-breaks=marked',
    );
    expect(html).toMatch(/href="\/setup\?frame=frame-3[^"]*#f-setup-rotor-speed"/);
  });

  it('offers every sign once, the common ones before the rest, "not looked at" as the standing choice', async () => {
    const html = await page(app, '/bench');
    const names = [...html.matchAll(/name="observations\.([a-z-]+)" value=""( checked)?/g)];
    expect(names.map((match) => match[1]).sort()).toEqual(
      [...diagnostician.knowledge.book.symptoms.keys()].sort(),
    );
    expect(names.every((match) => match[2] === ' checked')).toBe(true);
    expect(names.slice(0, COMMON_SYMPTOMS.length).map((match) => match[1])).toEqual([...COMMON_SYMPTOMS]);
  });

  it('offers several places at once when the case names several', async () => {
    const html = await page(app, '/bench?scope=frame&scope=lot&observations.hairy=slight');
    const boxes = [...html.matchAll(/<input[^>]*type="checkbox"[^>]*name="scope"[^>]*>/g)].map(
      ([tag]) => tag,
    );
    expect(boxes.length).toBeGreaterThan(5);
    expect(
      boxes.filter((tag) => tag.includes(' checked')).map((tag) => /value="([a-z]+)"/.exec(tag)?.[1]),
    ).toEqual(['frame', 'lot']);
  });

  it('escapes what is typed', async () => {
    const title = '"><img src=x onerror=alert(1)>';
    const html = await page(app, `/bench?title=${encodeURIComponent(title)}&observations.end-breaks=marked`);
    expect(html).not.toContain('<img');
    expect(html).toContain('&lt;img');
  });
});

describe('the bench with scripting', () => {
  it('gets the ranking first and the rest in a second request', async () => {
    const response = await app.request(`/bench/answer?${CASE}`, { headers: HTMX });
    const html = await response.text();
    expect(html.trimStart().startsWith('<section id="answer"')).toBe(true);
    expect(html).not.toContain('<html');
    expect(html).toContain('class="cause"');
    expect(html).toContain('Working out what to look at next');
    expect(html).toContain('hx-partial hx-target="#announce"');
    expect(response.headers.get('HX-Replace-Url')).toBe(`/bench?${CASE}`);
    expect(response.headers.get('Vary')).toContain('HX-Request');
    const next = /hx-get="(\/bench\/next\?[^"]+)"/.exec(html)?.[1]?.replace(/&amp;/g, '&') ?? '';
    const more = await page(app, next, 200, HTMX);
    expect(more).toContain('What did you see?');
    expect(more).toContain('id="first-actions"');
  });

  it('answers in the same words with and without', async () => {
    const whole = textOf(await page(app, `/bench?${CASE}`));
    const part = /What it probably is (.*?) Working out/.exec(
      textOf(await page(app, `/bench/answer?${CASE}`, 200, HTMX)),
    )?.[1];
    expect(part).toBeDefined();
    expect(whole).toContain(part);
  });

  it('sends a reader who opens a part to the whole page', async () => {
    for (const part of ['answer', 'next']) {
      const response = await app.request(`/bench/${part}?${CASE}`);
      expect(response.status).toBe(303);
      expect(response.headers.get('Location')).toBe(`/bench?${CASE}#answer`);
    }
  });
});

describe('actions on the bench', () => {
  it('show their cautions above the steps', async () => {
    const html = await page(app, `/bench?${CASE}`);
    const actions = html.split('<details class="action">').slice(1);
    expect(actions.length).toBeGreaterThan(0);
    for (const action of actions) {
      const body = action.slice(0, action.indexOf('</details>'));
      expect(body.indexOf('Take care')).toBeGreaterThan(0);
      expect(body.indexOf('Take care')).toBeLessThan(body.indexOf('<h4>Steps</h4>'));
      expect(body).toContain('Going back:');
      expect(body).toContain('It worked when:');
    }
  });
});

describe('a cause that is sure enough', () => {
  const benchOf = async (id: string) => {
    const input = vignettes.get(id)?.case;
    if (input === undefined) throw new Error(`no situation ${id}`);
    const { causes } = await diagnostician.rank(input);
    return { html: await page(app, `/bench${writeQuery(stateOfCase(input))}`), top: causes[0] };
  };

  it('is said to be so, with the check that would confirm it', async () => {
    const { html, top } = await benchOf('bars-every-ten-centimetres');
    expect(top?.probability).toBeGreaterThan(0.85);
    expect(textOf(html)).toContain(`Sure enough to act “${top?.label}” stands at `);
    const first = /<section class="block" aria-labelledby="next-check">.*?id="check-([a-z-]+)"/s.exec(
      html,
    )?.[1];
    expect(top?.checks).toContain(first);
  });

  it('is not claimed below that', async () => {
    const { html, top } = await benchOf('half-a-trial');
    expect(top?.probability).toBeLessThan(0.85);
    expect(textOf(html)).not.toContain('Sure enough to act');
    expect(textOf(html)).toContain('Look at this next');
  });

  it('does not keep the next six from being listed', async () => {
    for (const id of ['bars-every-ten-centimetres', 'half-a-trial']) {
      const { html } = await benchOf(id);
      const more = Number(/Less likely causes \((\d+)\)/.exec(html)?.[1]);
      expect(more).toBeGreaterThanOrEqual(6);
      const listed = /<summary>Less likely causes.*?<\/details>/s.exec(html)?.[0] ?? '';
      expect(listed.match(/<li class="cause">/g)).toHaveLength(more);
    }
  });
});
