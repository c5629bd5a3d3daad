import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import type { VIGNETTE_KINDS } from '../../../rules/knowledge/vignette-schema.js';
import type { EntryPage, WorkedView } from '../../../templates/models.js';
import { entryHref } from './kinds.js';
import { entryPage, item, section } from './section.js';

export const VIGNETTE_WORDS: Record<(typeof VIGNETTE_KINDS)[number], string> = {
  'one-fault': 'One fault',
  'two-faults': 'Two faults at once',
  misleading: 'Misleading',
  conflicting: 'Signs that conflict',
  chance: 'Chance, no fault',
  'leave-the-nozzle': 'Not the nozzle',
};

/** The page of a situation: its story, what is given, what must come out and what does. */
export function viewCaseEntry(vignette: Vignette, knowledge: Knowledge, worked: WorkedView): EntryPage {
  return entryPage('cases', vignette.id, knowledge, {
    label: vignette.title,
    lead: vignette.story,
    facts: [
      { term: 'Kind', text: VIGNETTE_WORDS[vignette.kind] },
      { term: 'Teaches', text: vignette.teaches },
    ],
    bases: [],
    worked,
    sections: [
      section(
        'causes',
        'Causes it is about',
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
