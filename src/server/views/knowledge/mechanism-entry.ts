import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { EntryPage } from '../../../templates/models.js';
import { sayPercent } from '../../words.js';
import type { LinkMap } from './link-map.js';
import { pictureLinks } from './link-picture.js';
import { entryPage, linkItem, section } from './section.js';

/** The page of a mechanism: for each of its states what leads to it and what it leads to. */
export function viewMechanismEntry(id: string, knowledge: Knowledge, map: LinkMap): EntryPage | undefined {
  const mechanism = knowledge.book.mechanisms.get(id);
  if (mechanism === undefined) return undefined;
  const states = Object.entries(mechanism.states);
  const nodes = states.map(([state]) => `${id}:${state}`);
  return entryPage('mechanisms', id, knowledge, {
    label: mechanism.label,
    lead: mechanism.plain,
    facts: states.map(([, { label, leak }]) => ({
      term: label,
      text: say('entry.by-itself', { percent: sayPercent(leak) }),
    })),
    bases: nodes.flatMap((node) => [...map.to(node), ...map.from(node)].map(({ link }) => link.basis)),
    sections: states.flatMap(([state, { label }]) => {
      const node = `${id}:${state}`;
      return [
        section(
          `${state}-from`,
          say('entry.state-leads', { label }),
          map.to(node).map(linkItem(knowledge, map, 'from')),
          {
            drawn: pictureLinks(say('entry.leads-both-of', { label }), node, map, {
              up: 1,
              down: 1,
            }),
          },
        ),
        section(
          `${state}-to`,
          say('entry.state-leads-to', { label }),
          map.from(node).map(linkItem(knowledge, map, 'to')),
        ),
      ];
    }),
  });
}
