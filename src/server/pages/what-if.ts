import { type Context, Hono } from 'hono';
import { writeQuery } from '../bench-state.js';
import { setupOf } from '../plans/position.js';
import { readWhatIf } from '../plans/what-if-form.js';
import { renderPart } from '../render.js';
import type { Site } from '../site.js';
import { asksSomething } from '../views/answer.js';
import { curveChoice, viewResult, viewWhatIf } from '../views/plans/what-if.js';

/** Settings tried on paper: what moves, and how a quantity answers to a setting. */
export function whatIfPages(site: Site): Hono {
  const work = async (c: Context) => {
    const params = new URL(c.req.url).searchParams;
    const { state, form } = site.readCase(c.req.url);
    const central = setupOf(form.case, site.knowledge);
    const tried = readWhatIf(params, state, central, site.vocabulary);
    const curve = curveChoice(params);
    const found = await site.bench.onPaper(form.case, {
      changes: tried.changes,
      quantity: curve.quantity,
      along: curve.setting,
      withCauses: asksSomething(form),
    });
    const result = viewResult(found);
    return { state, result, page: viewWhatIf(tried, central, result, curve, state, form) };
  };
  return new Hono()
    .get('/what-if', async (c) => {
      const { state, page } = await work(c);
      const wrong = page.errors.items.length > 0;
      const title = wrong ? `Error: ${page.frame.heading}` : page.frame.heading;
      return c.html(site.page('what-if', { title, section: 'setup', query: writeQuery(state) }, page));
    })
    .get('/what-if/result', async (c) => {
      const url = new URL(c.req.url);
      if (c.req.header('hx-request') !== 'true') return c.redirect(`/what-if${url.search}`, 303);
      const { result } = await work(c);
      c.header('HX-Replace-Url', `/what-if${url.search}`);
      c.header('Vary', 'HX-Request', { append: true });
      return c.html(renderPart('what-if-result', result));
    });
}
