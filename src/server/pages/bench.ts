import { type Context, Hono } from 'hono';
import { readState, writeQuery } from '../bench-state.js';
import { readForm } from '../form-body.js';
import { renderPart } from '../render.js';
import type { Site } from '../site.js';
import { asksSomething, viewAnswer } from '../views/answer.js';
import { viewBench } from '../views/bench.js';

/** The bench: questions and answer. The address holds the whole case. */
export function benchPages(site: Site): Hono {
  const { bench, knowledge, mill } = site;
  const read = (c: Context) => site.readCase(c.req.url);
  return (
    new Hono()
      .get('/bench', async (c) => {
        const { state, form } = read(c);
        const found = asksSomething(form) ? await bench.whole(form.case, state.later) : undefined;
        const answer = viewAnswer(state, form, knowledge, found?.answer, found?.next);
        const page = viewBench(state, form, knowledge, answer);
        const title = form.problems.length > 0 ? `Error: ${page.heading}` : page.heading;
        return c.html(site.page('bench', { title, section: 'bench', query: writeQuery(state) }, page));
      })
      .post('/bench', async (c) => {
        const query = writeQuery(readState(await readForm(c), mill));
        return c.redirect(`/bench${query}#answer`, 303);
      })
      // The answer alone, while the questions stay as they are on the page.
      .get('/bench/answer', async (c) => {
        const { state, form } = read(c);
        const query = writeQuery(state);
        if (c.req.header('hx-request') !== 'true') return c.redirect(`/bench${query}#answer`, 303);
        const ranking = asksSomething(form) ? await bench.answer(form.case) : undefined;
        c.header('HX-Replace-Url', `/bench${query}`);
        c.header('Vary', 'HX-Request', { append: true });
        return c.html(renderPart('answer', viewAnswer(state, form, knowledge, ranking)));
      })
      .get('/bench/next', async (c) => {
        const { state, form } = read(c);
        if (c.req.header('hx-request') !== 'true')
          return c.redirect(`/bench${writeQuery(state)}#answer`, 303);
        c.header('Vary', 'HX-Request', { append: true });
        return c.html(renderPart('next', await bench.next(form.case, state.later)));
      })
  );
}
