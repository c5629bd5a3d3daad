import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Check } from '../../../rules/knowledge/schema.js';
import { joinWords, STOP_WORDS, sentenceCase } from '../../../rules/words.js';
import type { EntryPage } from '../../../templates/models.js';
import { sayMinutes, WHO_WORDS } from '../../words.js';
import { cautionText } from '../next.js';
import { sayCondition } from './condition-words.js';
import { entryHref } from './kinds.js';
import type { LinkMap } from './link-map.js';
import { pictureGiven } from './link-picture.js';
import { entryPage, item, linkItem, section } from './section.js';

/** The page of a check: how it is made, and what each answer comes from. */
export function viewCheckEntry(id: string, knowledge: Knowledge, map: LinkMap): EntryPage | undefined {
  const { book } = knowledge;
  const check = book.checks.get(id);
  if (check === undefined) return undefined;
  const not = check['not-when'];
  const outcomes = Object.entries(check.outcomes);
  const named = [...book.causes.values()].filter((cause) => cause.checks.includes(id));
  return entryPage('checks', id, knowledge, {
    label: check.label,
    lead: check.ask,
    cautions: (check.cautions ?? []).map(cautionText(book)),
    facts: [
      { term: 'Time', text: sayMinutes(check.minutes) },
      ...(check['waiting-minutes'] === undefined
        ? []
        : [{ term: 'Waiting', text: sayMinutes(check['waiting-minutes']) }]),
      { term: 'Stops', text: sentenceCase(STOP_WORDS[check.stops]) },
      { term: 'Who', text: sentenceCase(WHO_WORDS[check.who] ?? check.who) },
      ...(not === undefined ? [] : [{ term: 'Makes no sense', text: `if ${sayCondition(not, knowledge)}` }]),
    ],
    bases: [
      check.basis,
      ...outcomes.flatMap(([outcome]) => map.to(`${id}:${outcome}`).map(({ link }) => link.basis)),
    ],
    sections: [
      section(
        'how',
        'How',
        check.how.map((step) => item(step)),
        { ordered: true },
      ),
      section(
        'answers',
        'What each answer comes from',
        outcomes
          .filter(([, outcome]) => outcome.means !== 'deviation')
          .map(([, outcome]) => item(`“${outcome.label}”`, { text: sayOutcome(outcome, check) })),
        { drawn: pictureAnswers(check, map) },
      ),
      ...outcomes.map(([outcome, { label }]) => {
        const node = `${id}:${outcome}`;
        return section(
          `answer-${outcome}`,
          `“${label}”: what leads to it`,
          map.to(node).map(linkItem(knowledge, map, 'from')),
        );
      }),
      section(
        'named',
        'Causes that name it among their checks',
        named.map((cause) => item(cause.label, { href: entryHref('causes', cause.id) })),
      ),
    ],
  });
}

/** All answers with what leads to each; named by the answer alone, since the page names the check. */
function pictureAnswers(check: Check, map: LinkMap) {
  const nodes = Object.keys(check.outcomes).map((outcome) => `${check.id}:${outcome}`);
  return pictureGiven(
    `What each answer to “${check.label}” comes from`,
    check.id,
    nodes.flatMap((node) => map.to(node)),
    (node) => {
      const name = map.name(node);
      const outcome = nodes.includes(node) ? check.outcomes[node.slice(check.id.length + 1)] : undefined;
      return outcome === undefined ? name : { ...name, label: outcome.label };
    },
  );
}

function sayOutcome(outcome: Check['outcomes'][string], check: Check): string {
  const excluded = outcome.excludes?.map((id) => `“${check.outcomes[id]?.label ?? id}”`);
  if (excluded !== undefined) return `Speaks against ${joinWords(excluded)}.`;
  return outcome.means === 'normal'
    ? 'All is well here: speaks against the other answers’ causes.'
    : 'Says nothing either way.';
}
