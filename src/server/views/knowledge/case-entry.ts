import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import type { EntryPage, WorkedView } from '../../../templates/models.js';
import { entryHref } from './kinds.js';
import { entryPage, item, section } from './section.js';

/** The page of a situation: its story, what is given, what must come out and what does. */
export function viewCaseEntry(vignette: Vignette, knowledge: Knowledge, worked: WorkedView): EntryPage {
  return entryPage('cases', vignette.id, knowledge, {
    label: sourceText(vignette.title),
    lead: sourceText(vignette.story),
    facts: [
      { term: say('entry.kind'), text: say(`situation.${vignette.kind}`) },
      { term: say('entry.teaches'), text: sourceText(vignette.teaches) },
    ],
    bases: [],
    worked,
    sections: [
      section(
        'causes',
        say('entry.about-causes'),
        vignette.expect.flatMap(({ cause }) => {
          const found = knowledge.book.causes.get(cause);
          return found === undefined
            ? []
            : [item(found.label, { href: entryHref('causes', cause), text: found.what })];
        }),
      ),
    ],
  });
}
