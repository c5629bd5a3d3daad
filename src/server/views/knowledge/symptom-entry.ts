import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { EntryPage } from '../../../templates/models.js';
import { sayPercent } from '../../words.js';
import type { LinkMap } from './link-map.js';
import { pictureLinks } from './link-picture.js';
import { entryPage, linkItem, section } from './section.js';

/** The page of a sign: how it is recognised and what brings it about. */
export function viewSymptomEntry(id: string, knowledge: Knowledge, map: LinkMap): EntryPage | undefined {
  const symptom = knowledge.book.symptoms.get(id);
  if (symptom === undefined) return undefined;
  return entryPage('symptoms', id, knowledge, {
    label: symptom.label,
    lead: symptom.look,
    facts: [
      {
        term: say('entry.no-listed-cause'),
        text: say('entry.leak-seen', {
          seen: sayPercent(symptom.leak),
          marked: sayPercent(symptom['leak-marked']),
        }),
      },
    ],
    bases: [symptom.basis, ...[...map.to(id), ...map.from(id)].map(({ link }) => link.basis)],
    sections: [
      section('from', say('entry.leads'), map.to(id).map(linkItem(knowledge, map, 'from')), {
        drawn: pictureLinks(say('entry.leads-of', { label: symptom.label }), id, map, { up: 2, down: 1 }),
      }),
      section('to', say('entry.leads-to'), map.from(id).map(linkItem(knowledge, map, 'to'))),
    ],
  });
}
