import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { TEMPLATES } from '../../src/server/render.js';
import { ACCESS_TEMPLATES } from './access/templates.js';
import { JOURNAL_TEMPLATES } from './journal/templates.js';
import { page, post, testSite } from './site.js';

const files = readdirSync(TEMPLATES, { recursive: true, encoding: 'utf8' }).filter((file) =>
  file.endsWith('.eta'),
);
const texts = new Map(files.map((file) => [file, readFileSync(join(TEMPLATES, file), 'utf8')]));

/** Sends an example table; where it is kept then. */
async function sendSample(app: ReturnType<typeof testSite>['app']): Promise<string> {
  const response = await post(app, '/counts/table', [['sample', 'positions']]);
  return response.headers.get('location') ?? '';
}

describe('templates', () => {
  it('are there', () => {
    expect(files.length).toBeGreaterThan(20);
  });

  it('print raw only what was included, the body of the shell, and own pictures', () => {
    for (const [file, text] of texts)
      for (const [, code = ''] of text.matchAll(/<%~(.*?)%>/gs))
        expect(code.trim(), file).toMatch(
          /^(?:include\('\/parts\/[a-z-]+', \{[^}]*\}\)|it\.body|it\.svg\((?:it\.[\w.]+|it\.bar\([\w.]+\))\))$/,
        );
  });

  it('hold no script, style or event attribute, and none of the attributes that run script', () => {
    for (const [file, text] of texts) {
      expect(text, file).not.toMatch(/<script(?![^>]*\bsrc=)/);
      expect(text, file).not.toMatch(/<style|\sstyle=|\son[a-z]+=|hx-on|js:|hx-trigger="[^"]*\[/);
    }
  });

  it('quote every attribute that is printed into', () => {
    for (const [file, text] of texts) expect(text, file).not.toMatch(/=<%=/);
  });

  it('are all rendered by some page', async () => {
    const { app } = testSite();
    const seen = 'frame=frame-4&observations.melt=marked&later=wax&findings.groove-look=clean';
    const htmx = { 'HX-Request': 'true' };
    const rendered: Record<string, () => Promise<unknown>> = {
      home: () => page(app, '/'),
      bench: () => page(app, `/bench?${seen}`),
      answer: () => page(app, `/bench/answer?${seen}`, 200, htmx),
      next: () => page(app, `/bench/next?${seen}`, 200, htmx),
      cause: () => page(app, `/cause/rotor-speed-too-high?${seen}`),
      setup: () => page(app, `/setup?${seen}&before.twist=x`),
      'setup-report': () => page(app, `/setup/report?${seen}`, 200, htmx),
      knowledge: () => page(app, '/knowledge'),
      'knowledge-list': () => page(app, '/knowledge/sources'),
      'knowledge-check': () => page(app, '/knowledge/check'),
      entry: () => page(app, '/knowledge/causes/twist-too-low/run'),
      sensitivity: () => page(app, `/sensitivity?${seen}`),
      plan: () => page(app, `/plan?${seen}`),
      compare: () => page(app, `/compare?${seen}`),
      'what-if': () => page(app, `/what-if?${seen}&to.tube.bend=20`),
      'what-if-result': () => page(app, `/what-if/result?${seen}`, 200, htmx),
      drawing: () => page(app, `/drawing?${seen}&show=causes`),
      card: () => page(app, `/card?${seen}`),
      convert: () => page(app, '/convert'),
      'open-case': () => post(app, '/case', [['text', 'setup: {fibre: stone}']]),
      counts: () => page(app, '/counts'),
      'counts-columns': async () => page(app, await sendSample(app)),
      'counts-answer': async () => page(app, `${await sendSample(app)}/answer`),
      'counts-form': () => page(app, '/counts/rate?breaks=3&hours=10'),
      training: () => page(app, '/training'),
      glossary: () => page(app, '/training/glossary'),
      lesson: () => page(app, '/training/lessons/tension?q1=0'),
      practice: () => page(app, '/training/practice?case=4-1&m=c:repeats'),
      marking: () => page(app, '/training/practice?case=4-1&m=c:repeats&closed=yes'),
      replay: () => page(app, `/training/replay?${seen}&why=wax-fault`),
      handout: () => page(app, `/training/handout?${seen}`),
      'own-case': () => page(app, '/training/own-case'),
      error: () => page(app, '/nowhere', 404),
    };
    const pages = files.filter((file) => file.startsWith('pages')).map((file) => file.slice(6, -4));
    expect([...Object.keys(rendered), ...JOURNAL_TEMPLATES, ...ACCESS_TEMPLATES].sort()).toEqual(
      pages.sort(),
    );
    for (const render of Object.values(rendered)) await render();
    const all = [...texts.values()].join('\n');
    for (const file of files.filter((one) => one.startsWith('parts')))
      expect(all, file).toContain(`include('/parts/${file.slice(6, -4)}'`);
  });
});
