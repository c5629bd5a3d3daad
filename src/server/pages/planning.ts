import { Hono } from 'hono';
import { planAssets } from '../plans/plan-assets.js';
import type { Site } from '../site.js';
import { cardPages } from './card.js';
import { comparePages } from './compare.js';
import { drawingPages } from './drawing.js';
import { planPages } from './plan.js';
import { whatIfPages } from './what-if.js';

/** Everything about changing settings together: plan, what if, side by side, drawing and setup card. */
export function planningPages(site: Site): Hono {
  const pages = new Hono();
  pages.route('/', planAssets());
  for (const one of [planPages, comparePages, whatIfPages, drawingPages, cardPages])
    pages.route('/', one(site));
  return pages;
}
