import { Hono } from 'hono';
import { writeQuery } from '../bench-state.js';
import type { Site } from '../site.js';
import { viewCause } from '../views/cause.js';

/** One cause, weighed in the case that the address holds. */
export function causePages(site: Site): Hono {
  return new Hono().get('/cause/:id', async (c) => {
    if (!site.knowledge.book.causes.has(c.req.param('id'))) return c.notFound();
    const { state, form } = site.readCase(c.req.url);
    const found = await site.bench.cause(form.case, c.req.param('id'));
    if (found === undefined) return c.notFound();
    const { cause, around } = found;
    return c.html(
      site.page(
        'cause',
        { title: cause.label, section: 'bench', query: writeQuery(state) },
        viewCause(cause, around, state, form, site.knowledge),
      ),
    );
  });
}
