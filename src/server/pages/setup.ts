import { Hono } from 'hono';
import { readState, writeQuery } from '../bench-state.js';
import { readCaseForm } from '../case-form.js';
import { readForm } from '../form-body.js';
import { renderPart } from '../render.js';
import type { Site } from '../site.js';
import { isOnSetupPage } from '../views/errors.js';
import { viewSetup } from '../views/setup.js';

/** The setup: its form, and what the model computes from it. */
export function setupPages(site: Site): Hono {
  return (
    new Hono()
      .get('/setup', async (c) => {
        const { state, form } = site.readCase(c.req.url);
        const page = viewSetup(state, form, site.knowledge, await site.diagnostician.report(form.case));
        const title = form.problems.length > 0 ? `Error: ${page.heading}` : page.heading;
        return c.html(site.page('setup', { title, section: 'setup', query: writeQuery(state) }, page));
      })
      // What it computes to, and what stands beside the fields, while the fields stay as they are on the page.
      .get('/setup/report', async (c) => {
        const { state, form } = site.readCase(c.req.url);
        const query = writeQuery(state);
        if (c.req.header('hx-request') !== 'true') return c.redirect(`/setup${query}`, 303);
        const page = viewSetup(state, form, site.knowledge, await site.diagnostician.report(form.case));
        c.header('HX-Replace-Url', `/setup${query}`);
        c.header('Vary', 'HX-Request', { append: true });
        return c.html(renderPart('setup-report', page));
      })
      .post('/setup', async (c) => {
        const params = await readForm(c);
        const state = readState(params, site.mill);
        const wrong = readCaseForm(state, site.vocabulary).problems.some((problem) =>
          isOnSetupPage(problem.name),
        );
        const query = writeQuery(state);
        const onward = params.get('go') === 'bench' && !wrong;
        return c.redirect(onward ? `/bench${query}` : `/setup${query}${wrong ? '' : '#computed'}`, 303);
      })
  );
}
