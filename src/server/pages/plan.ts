import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { writeQuery } from '../bench-state.js';
import { readPlanQuery } from '../plans/plan-query.js';
import { planFor } from '../plans/planner.js';
import { drawBoth, positionOf } from '../plans/position.js';
import type { Site } from '../site.js';
import { viewPlan } from '../views/plans/plan.js';

/** What to change together, for the case in the address. */
export function planPages(site: Site): Hono {
  return new Hono().get('/plan', async (c) => {
    const params = new URL(c.req.url).searchParams;
    const { state, form } = site.readCase(c.req.url);
    const query = readPlanQuery(params);
    const report = await planFor(site, form.case, query);
    const changed = report.recommended !== undefined && report.recommended.changes.length > 0;
    const drawing = changed
      ? drawBoth(
          positionOf(report.after, site.knowledge),
          {
            before: positionOf(report.before, site.knowledge),
            title: say('plan.dashed-present'),
          },
          say('plan.drawing-caption'),
        ).view
      : undefined;
    const page = viewPlan(report, state, form, query, drawing);
    const wrong = query.shelfProblems.length > 0 || query.positionsProblem !== '';
    const title = wrong ? say('page.error-title', { title: page.frame.heading }) : page.frame.heading;
    return c.html(site.page('plan', { title, section: 'bench', query: writeQuery(state) }, page));
  });
}
