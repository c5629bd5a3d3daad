import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { makeCard } from '../../rules/plans/card.js';
import { writeQuery } from '../bench-state.js';
import { needBook } from '../need-book.js';
import { readPlanQuery } from '../plans/plan-query.js';
import { planFor } from '../plans/planner.js';
import type { Site } from '../site.js';
import { viewCard } from '../views/plans/card.js';

/** The setup card of the case in the address, to be printed and hung on the frame. */
export function cardPages(site: Site): Hono {
  return new Hono().get('/card', async (c) => {
    const params = new URL(c.req.url).searchParams;
    const { state, form } = site.readCase(c.req.url);
    const query = readPlanQuery(params);
    const planned = params.get('planned') === '1';
    const report = await planFor(site, form.case, query);
    const title = state.frame?.name ?? form.case.title ?? say('card.heading');
    const card = makeCard(report, site.knowledge, { title, planned, book: needBook(site, 'card') });
    const page = viewCard(card, planned, site.knowledge.version, state, form, query);
    return c.html(
      site.page(
        'card',
        { title: say('card.title', { title }), section: 'setup', query: writeQuery(state) },
        page,
      ),
    );
  });
}
