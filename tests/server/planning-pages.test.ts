import { describe, expect, it } from 'vitest';
import { testSite } from './site.js';

const { app } = testSite();
const FRAME = 'frame=frame-1&observations.end-breaks=marked&findings.broken-tail=tapering';

async function page(path: string): Promise<string> {
  const response = await app.request(path);
  expect(response.status, path).toBe(200);
  return response.text();
}
const text = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ');

describe('the plan page', () => {
  it('recommends a plan with steps, cautions before them and the drawing of the change', async () => {
    const html = await page(`/plan?${FRAME}`);
    expect(text(html)).toMatch(/Recommended: .*Chance of a stable run \d+ % → \d+ %/);
    expect(html.indexOf('Take care')).toBeGreaterThan(0);
    expect(html.indexOf('Take care')).toBeLessThan(html.indexOf('Steps, one at a time'));
    expect(html).toContain('class="drawing drawing-wide"');
    expect(html).toContain('class="drawing drawing-tall"');
    expect(text(html)).toMatch(/combinations were tried/);
    expect(html).not.toMatch(/ style=|<style|undefined|\[object/);
  });

  it('keeps limits, fixed settings, positions and shelf in the address', async () => {
    const html = await page(
      `/plan?${FRAME}&limit=no-new-parts&fixed=twist&positions=96&shelf=${encodeURIComponent('inserts: [smooth]')}`,
    );
    expect(html).toMatch(/id="limit-no-new-parts"[^>]* checked/);
    expect(html).toMatch(/id="fixed-twist"[^>]* checked/);
    expect(html).toContain('value="96"');
    expect(html).toContain('inserts: [smooth]</textarea>');
    expect(html).toContain('It needs a new part.');
    expect(html).toMatch(/href="\/drawing\?[^"]*limit=no-new-parts/);
  });

  it('says what cannot be read of shelf and positions, and works without', async () => {
    const html = await page(
      `/plan?${FRAME}&positions=many&shelf=${encodeURIComponent('nozzles: [{texture: rough}]')}`,
    );
    expect(html).toContain('<title>Error: ');
    expect(html).toContain('Give a whole number from 1 to 5000.');
    expect(text(html)).toContain('nozzles.0.texture');
    expect(text(html)).toContain('Recommended');
  });

  it('proposes a setup where nothing is complained of', async () => {
    const html = await page('/plan?setup.fibre=cotton&setup.count=20+Ne&setup.end-use=knitting');
    expect(html).toContain('A setup for this yarn');
    expect(html).toContain('The setup proposed');
  });

  it('answers with nothing given at all', async () => {
    for (const path of ['/plan', '/what-if', '/compare', '/drawing', '/card']) await page(path);
  });

  it('escapes what is typed', async () => {
    const html = await page(
      `/plan?title=${encodeURIComponent('<script>x</script>')}&shelf=${encodeURIComponent('</textarea><b>')}`,
    );
    expect(html).not.toContain('<script>x');
    expect(html).not.toContain('</textarea><b>');
  });
});

describe('side by side', () => {
  it('compares the case with its plan unless told otherwise', async () => {
    const html = await page(`/compare?${FRAME}`);
    expect(html).toContain('The setup of the plan against The setup in hand');
    expect(html).toContain('class="picture differences"');
  });

  it('compares three frames', async () => {
    const html = await page('/compare?a=frame-1&b=frame-2&c=frame-3');
    expect(html.match(/<section class="pair">/g)).toHaveLength(2);
    expect(text(html)).toMatch(/Frame 2 against Frame 1/);
    expect(text(html)).toMatch(/Frame 3 less Frame 1/);
  });

  it('passes over frames there are not', async () => {
    const html = await page('/compare?a=nowhere&b=frame-2');
    expect(text(html)).toContain('Frame 2 against Frame 1');
  });
});

describe('what if', () => {
  it('moves state, risk and causes with the settings', async () => {
    const html = await page(`/what-if?${FRAME}&to.twist=760&to.tube.insert=2-groove`);
    expect(text(html)).toMatch(/Chance of a stable run \d+ % → \d+ %/);
    expect(text(html)).toContain('Insert: none → 2 grooves');
    expect(html).toContain('class="picture curve"');
    expect(html).toContain('Causes now and then');
    expect(html).toMatch(/href="\/bench\?[^"]*setup\.twist=760/);
  });

  it('leaves alone what is as it was', async () => {
    const html = await page(`/what-if?${FRAME}&to.tube.insert=none&to.nozzle.radius=4`);
    expect(text(html)).toContain('As it is, the chance of a stable run is');
  });

  it('keeps what was typed wrongly and says how to mend it', async () => {
    const html = await page(`/what-if?${FRAME}&to.rotor.speed=fast&to.tube.bend=30`);
    expect(html).toContain('<title>Error: ');
    expect(html).toMatch(/name="to.rotor.speed" value="fast"[^>]*aria-invalid="true"/);
    expect(text(html)).toContain('Tube bend: 40° → 30°');
  });

  it('follows any quantity along any setting', async () => {
    const html = await page(`/what-if?${FRAME}&quantity=hairiness&along=texture`);
    expect(text(html)).toContain('Hairiness against nozzle texture');
    expect(html).toMatch(/6 notches/);
  });

  it('gives the result alone to a partial request', async () => {
    const partial = await app.request(`/what-if/result?${FRAME}&to.tube.bend=20`, {
      headers: { 'HX-Request': 'true' },
    });
    expect(partial.headers.get('HX-Replace-Url')).toContain('/what-if?');
    const html = await partial.text();
    expect(html).toMatch(/^\s*<section id="result"/);
    expect((await app.request(`/what-if/result?${FRAME}`)).status).toBe(303);
  });
});

describe('drawing and card', () => {
  it('draws the position with its measures', async () => {
    const html = await page(`/drawing?${FRAME}&show=planned&show=causes`);
    expect(html).toContain('dw-mark');
    expect(html).toContain('(was');
    expect(text(html)).toContain('Wrap at the nozzle');
    const file = await app.request(`/drawing.svg?${FRAME}`);
    expect(file.headers.get('content-type')).toMatch(/image\/svg/);
    expect(file.headers.get('content-disposition')).toMatch(/attachment/);
    expect(await file.text()).toMatch(/^<\?xml/);
  });

  it('prints a card of the setup, and of the plan', async () => {
    const now = await page(`/card?${FRAME}`);
    expect(text(now)).toContain('Keep to');
    expect(now).not.toContain('class="moved"');
    const planned = await page(`/card?${FRAME}&planned=1`);
    expect(planned).toContain('class="moved"');
    expect(planned).toMatch(/<small>was /);
    expect(text(planned)).toMatch(/manual of the machine/i);
  });

  it('serves its style sheets for good', async () => {
    const html = await page('/drawing');
    for (const [, href] of html.matchAll(/<link rel="stylesheet" href="(\/plan-assets\/[^"]+)"/g)) {
      const response = await app.request(href ?? '');
      expect(response.status).toBe(200);
      expect(response.headers.get('content-type')).toMatch(/text\/css/);
      expect(response.headers.get('cache-control')).toMatch(/immutable/);
    }
    expect((await app.request('/plan-assets/none.css')).status).toBe(404);
  });
});
