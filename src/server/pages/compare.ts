import { Hono } from 'hono';
import { say } from '../../language/say.js';
import { compareSetups } from '../../rules/plans/compare.js';
import { setupTexts, writeQuery } from '../bench-state.js';
import { compareChoices } from '../plans/compare-choices.js';
import { readPlanQuery } from '../plans/plan-query.js';
import { planFor } from '../plans/planner.js';
import { drawBoth, positionOf, setupOf } from '../plans/position.js';
import type { Site } from '../site.js';
import { viewCompare } from '../views/plans/compare.js';

/** Two or three setups side by side. */
export function comparePages(site: Site): Hono {
  return new Hono().get('/compare', async (c) => {
    const params = new URL(c.req.url).searchParams;
    const { state, form } = site.readCase(c.req.url);
    const choices = compareChoices(site, form.case, setupTexts(state).size > 0, () =>
      planFor(site, form.case, readPlanQuery(params)),
    );
    const pick = (name: string, standard: string | undefined) =>
      choices.find((one) => one.id === params.get(name))?.id ?? standard ?? '';
    const chosen = [pick('a', choices[0]?.id), pick('b', choices[1]?.id), pick('c', '')];
    const taken = chosen.flatMap((id) => choices.find((one) => one.id === id) ?? []);
    const setups = [];
    for (const one of taken)
      setups.push({ name: one.label.split(':')[0] ?? one.label, case: await one.case() });
    const comparison = compareSetups(site.knowledge, distinct(setups));
    const [first, second] = setups;
    const drawing =
      first === undefined || second === undefined
        ? undefined
        : drawBoth(
            positionOf(setupOf(second.case, site.knowledge), site.knowledge),
            {
              before: positionOf(setupOf(first.case, site.knowledge), site.knowledge),
              title: say('compare.dashed', { name: second.name, first: first.name }),
            },
            say('compare.dashed-caption', {
              name: comparison.names[1] ?? '',
              first: comparison.names[0] ?? '',
            }),
          ).view;
    const page = viewCompare(comparison, chosen, choices, state, form, drawing);
    return c.html(
      site.page('compare', { title: page.frame.heading, section: 'setup', query: writeQuery(state) }, page),
    );
  });
}

/** The same setup chosen twice still gets two names. */
function distinct<T extends { readonly name: string }>(setups: readonly T[]): T[] {
  return setups.map((one, i) => {
    const before = setups.slice(0, i).filter((other) => other.name === one.name).length;
    return before === 0 ? one : { ...one, name: `${one.name} (${before + 1})` };
  });
}
