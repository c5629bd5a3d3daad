import { Hono } from 'hono';
import { writeQuery } from '../bench-state.js';
import type { Site } from '../site.js';
import { asksSomething } from '../views/answer.js';
import { viewSensitivity } from '../views/sensitivity.js';

/** Which numbers of the knowledge base the ranking of the case in the address hangs on. */
export function sensitivityPages(site: Site): Hono {
  return new Hono().get('/sensitivity', async (c) => {
    const { state, form } = site.readCase(c.req.url);
    const of = c.req.query('of') ?? '';
    const also = site.knowledge.book.causes.has(of) ? [of] : [];
    const report = asksSomething(form) ? await site.workshop.sensitivities(form.case, also) : undefined;
    const model = viewSensitivity(report, also[0], state, form, site.knowledge);
    return c.html(
      site.page('sensitivity', { title: model.heading, section: 'bench', query: writeQuery(state) }, model),
    );
  });
}
