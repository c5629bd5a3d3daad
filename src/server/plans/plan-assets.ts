import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Hono } from 'hono';
import { TEMPLATES } from '../render.js';

/** Style sheets of the plan and drawing pages, under names that change with their content. */
const FILES = ['drawing.css', 'plan.css'].map((name) => {
  const text = readFileSync(join(TEMPLATES, 'assets', name), 'utf8');
  const hash = createHash('sha256').update(text).digest('hex').slice(0, 10);
  return { text, file: `${name.replace('.css', '')}.${hash}.css` };
});

/** Their addresses, for the pages. */
export const PLAN_STYLES: readonly string[] = FILES.map(({ file }) => `/plan-assets/${file}`);

/** Serves them; browsers may keep them for good. */
export function planAssets(): Hono {
  return new Hono().get('/plan-assets/:file', (c) => {
    const found = FILES.find(({ file }) => file === c.req.param('file'));
    return found === undefined
      ? c.notFound()
      : c.body(found.text, 200, {
          'Content-Type': 'text/css; charset=utf-8',
          'Cache-Control': 'public, max-age=31536000, immutable',
        });
  });
}
