import { type Context, Hono } from 'hono';
import { say } from '../../language/say.js';
import { writeQuery } from '../bench-state.js';
import { causeMarks } from '../pictures/drawing/cause-marks.js';
import type { DrawOptions } from '../pictures/drawing/draw-position.js';
import { standaloneDrawing } from '../pictures/drawing/standalone.js';
import { readPlanQuery } from '../plans/plan-query.js';
import { planFor } from '../plans/planner.js';
import { drawBoth, positionOf, setupOf } from '../plans/position.js';
import type { Site } from '../site.js';
import { asksSomething } from '../views/answer.js';
import { DRAWING_SHOWS, type DrawingShow, viewDrawing } from '../views/plans/drawing.js';

const MOST_MARKS = 4;

/** The position drawn to scale, on a page and as a file. */
export function drawingPages(site: Site): Hono {
  const { knowledge } = site;
  const draw = async (c: Context) => {
    const params = new URL(c.req.url).searchParams;
    const { state, form } = site.readCase(c.req.url);
    const query = readPlanQuery(params);
    const asked = params.getAll('show');
    const possible: DrawingShow[] = [
      'planned',
      ...(form.case.before === undefined ? [] : (['before'] as const)),
      ...(asksSomething(form) ? (['causes'] as const) : []),
    ];
    const shows = possible.filter((show) => asked.includes(show));
    let setup = setupOf(form.case, knowledge);
    let before = shows.includes('before') ? { ...setup, ...form.case.before?.values } : undefined;
    if (shows.includes('planned')) {
      const report = await planFor(site, form.case, query);
      setup = report.after;
      before = report.before;
    }
    const marks = shows.includes('causes')
      ? causeMarks((await site.diagnostician.rank(form.case)).causes, MOST_MARKS, site.books().places)
      : [];
    const options: DrawOptions = {
      title: form.case.title ?? state.frame?.name ?? say('drawing.title'),
      marks,
      ...(before === undefined ? {} : { before: positionOf(before, knowledge) }),
    };
    const caption = shows
      .filter((show) => show !== 'causes')
      .map((show) => DRAWING_SHOWS[show])
      .join('; ');
    const { view, wide } = drawBoth(positionOf(setup, knowledge), options, caption);
    return { state, form, query, shows, possible, marks, view, wide };
  };
  return new Hono()
    .get('/drawing', async (c) => {
      const { state, form, query, shows, possible, marks, view, wide } = await draw(c);
      const page = viewDrawing(wide, view, marks, shows, possible, state, form, query);
      return c.html(
        site.page('drawing', { title: page.frame.heading, section: 'setup', query: writeQuery(state) }, page),
      );
    })
    .get('/drawing.svg', async (c) => {
      const { wide } = await draw(c);
      return c.body(standaloneDrawing(wide), 200, {
        'Content-Type': 'image/svg+xml; charset=utf-8',
        'Content-Disposition': 'attachment; filename="position.svg"',
      });
    });
}
