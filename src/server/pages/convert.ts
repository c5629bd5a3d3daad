import { Hono } from 'hono';
import { notationOf, pointNumber } from '../../language/number-input.js';
import { say } from '../../language/say.js';
import type { Site } from '../site.js';
import { viewConvert } from '../views/convert.js';

/** Counts and twists in every system of the trade. */
export function convertPages(site: Site): Hono {
  return new Hono().get('/convert', (c) => {
    const text = (name: string, standard: string) => (c.req.query(name) ?? standard).slice(0, 60);
    const notation = notationOf(new URL(c.req.url).searchParams);
    const model = viewConvert({
      count: pointNumber(text('count', '20'), notation),
      countUnit: text('count-unit', 'Ne'),
      twist: pointNumber(text('twist', '4.3'), notation),
      twistUnit: text('twist-unit', 'alpha-e'),
    });
    return c.html(site.page('convert', { title: say('convert.heading'), section: 'convert' }, model));
  });
}
