import { type Context, Hono } from 'hono';
import { byLanguage } from '../../language/by-language.js';
import { say } from '../../language/say.js';
import { runExamples } from '../../rules/workshop/run-examples.js';
import { runVignettes } from '../../rules/workshop/run-vignettes.js';
import type { EntryPage } from '../../templates/models.js';
import type { Site } from '../site.js';
import { viewActionEntry } from '../views/knowledge/action-entry.js';
import { viewCaseEntry } from '../views/knowledge/case-entry.js';
import { catalogueOf } from '../views/knowledge/catalogue.js';
import { viewCauseEntry } from '../views/knowledge/cause-entry.js';
import { viewCheckEntry } from '../views/knowledge/check-entry.js';
import { viewKnowledgeCheck } from '../views/knowledge/check-page.js';
import { citationsOf } from '../views/knowledge/citations.js';
import { viewKnowledge, viewList } from '../views/knowledge/contents.js';
import { isKind, type Kind, kindTitle } from '../views/knowledge/kinds.js';
import { mapLinks } from '../views/knowledge/link-map.js';
import { viewMechanismEntry } from '../views/knowledge/mechanism-entry.js';
import { searchOver } from '../views/knowledge/search.js';
import { viewSourceEntry } from '../views/knowledge/source-entry.js';
import { viewSymptomEntry } from '../views/knowledge/symptom-entry.js';
import { viewExamples, viewSituation } from '../views/knowledge/worked.js';

const LONGEST_QUESTION = 120;

/** The knowledge base: to be searched, read, linked to, and tried on its own examples. */
export function knowledgePages(site: Site): Hono {
  const { knowledge, vignettes, vocabulary, diagnostician } = site;
  const entries = byLanguage(() => catalogueOf(knowledge, vignettes));
  const search = byLanguage(() => searchOver(entries()));
  const map = byLanguage(() => mapLinks(knowledge.book));
  const citations = byLanguage(() => citationsOf(knowledge));
  const hrefs = new Set(entries().map((entry) => entry.href));
  const section = 'knowledge';

  const view = async (kind: Kind, id: string, run: boolean): Promise<EntryPage | undefined> => {
    switch (kind) {
      case 'causes': {
        const results = run ? await runExamples(diagnostician, [id]) : undefined;
        return viewCauseEntry(id, knowledge, map(), (cause) =>
          viewExamples(cause, knowledge, vocabulary, results),
        );
      }
      case 'cases': {
        const vignette = vignettes.get(id);
        if (vignette === undefined) return undefined;
        const [result] = run ? await runVignettes(diagnostician, [vignette]) : [];
        return viewCaseEntry(vignette, knowledge, viewSituation(vignette, knowledge, result));
      }
      case 'mechanisms':
        return viewMechanismEntry(id, knowledge, map());
      case 'symptoms':
        return viewSymptomEntry(id, knowledge, map());
      case 'checks':
        return viewCheckEntry(id, knowledge, map());
      case 'actions':
        return viewActionEntry(id, knowledge);
      case 'sources':
        return viewSourceEntry(id, knowledge, citations());
    }
  };
  const show = async (c: Context, run: boolean) => {
    const kind = c.req.param('kind') ?? '';
    // The singular in an address is understood too.
    const plural = `/knowledge/${kind}s/${c.req.param('id') ?? ''}`;
    if (hrefs.has(plural)) return c.redirect(plural, 301);
    const entry = isKind(kind) ? await view(kind, c.req.param('id') ?? '', run) : undefined;
    if (entry === undefined) return c.notFound();
    return c.html(site.page('entry', { title: entry.label, section }, entry));
  };

  return (
    new Hono()
      .get('/knowledge', (c) => {
        const question = (c.req.query('q') ?? '').trim().slice(0, LONGEST_QUESTION);
        const kind = c.req.query('kind') ?? '';
        const only = isKind(kind) ? kind : undefined;
        const model = viewKnowledge(entries(), question, search()(question), only);
        const title = model.asked ? say('knowledge.title-asked', { question }) : say('knowledge.title');
        return c.html(site.page('knowledge', { title, section }, model));
      })
      .get('/knowledge/check', async (c) => {
        const findings = await site.workshop.lint();
        const model = viewKnowledgeCheck(findings, site.knowledgeState(), (href) => hrefs.has(href));
        return c.html(site.page('knowledge-check', { title: say('knowledge.title-check'), section }, model));
      })
      .get('/knowledge/:kind', (c) => {
        const kind = c.req.param('kind');
        if (!isKind(kind)) return c.notFound();
        return c.html(
          site.page('knowledge-list', { title: kindTitle(kind), section }, viewList(kind, entries())),
        );
      })
      // The examples of an entry are run when they are asked for: the page with their results.
      .get('/knowledge/:kind/:id/run', (c) => show(c, true))
      .get('/knowledge/:kind/:id', (c) => show(c, false))
  );
}
