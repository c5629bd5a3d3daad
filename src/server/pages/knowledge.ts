import { Hono } from 'hono';
import type { Site } from '../site.js';
import { ENTRY_KINDS, type EntryKind, viewEntry, viewKnowledge, viewSources } from '../views/knowledge.js';

/** The knowledge base, to be read and linked to. */
export function knowledgePages(site: Site): Hono {
  const pages = new Hono();
  pages.get('/knowledge', (c) =>
    c.html(
      site.page('knowledge', { title: 'Knowledge', section: 'knowledge' }, viewKnowledge(site.knowledge)),
    ),
  );
  pages.get('/knowledge/sources', (c) =>
    c.html(site.page('sources', { title: 'Sources', section: 'knowledge' }, viewSources(site.knowledge))),
  );
  pages.get('/knowledge/:kind/:id', (c) => {
    const kind = ENTRY_KINDS.find((one): one is EntryKind => one === c.req.param('kind'));
    const entry = kind === undefined ? undefined : viewEntry(kind, c.req.param('id'), site.knowledge);
    if (entry === undefined) return c.notFound();
    return c.html(site.page('entry', { title: entry.label, section: 'knowledge' }, entry));
  });
  return pages;
}
