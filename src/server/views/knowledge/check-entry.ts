import { say } from '../../../language/say.js';
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
      { term: say('entry.time'), text: sayMinutes(check.minutes) },
      ...(check['waiting-minutes'] === undefined
        ? []
        : [{ term: say('entry.waiting'), text: sayMinutes(check['waiting-minutes']) }]),
      { term: say('entry.stops'), text: sentenceCase(STOP_WORDS[check.stops]) },
      { term: say('entry.who'), text: sentenceCase(WHO_WORDS[check.who] ?? check.who) },
      ...(not === undefined
        ? []
        : [
            {
              term: say('entry.no-sense'),
              text: say('entry.if-small', { condition: sayCondition(not, knowledge) }),
            },
          ]),
    ],
    bases: [
      check.basis,
      ...outcomes.flatMap(([outcome]) => map.to(`${id}:${outcome}`).map(({ link }) => link.basis)),
    ],
    sections: [
      section(
        'how',
        say('entry.how'),
        check.how.map((step) => item(step)),
        { ordered: true },
      ),
      section(
        'answers',
        say('entry.answers-from'),
        outcomes
          .filter(([, outcome]) => outcome.means !== 'deviation')
          .map(([, outcome]) =>
            item(say('reasoning.quoted', { text: outcome.label }), { text: sayOutcome(outcome, check) }),
          ),
        { drawn: pictureAnswers(check, map) },
      ),
      ...outcomes.map(([outcome, { label }]) => {
        const node = `${id}:${outcome}`;
        return section(
          `answer-${outcome}`,
          say('entry.answer-leads', { label }),
          map.to(node).map(linkItem(knowledge, map, 'from')),
        );
      }),
      section(
        'named',
        say('entry.named-by'),
        named.map((cause) => item(cause.label, { href: entryHref('causes', cause.id) })),
      ),
    ],
  });
}

/** All answers with what leads to each; named by the answer alone, since the page names the check. */
function pictureAnswers(check: Check, map: LinkMap) {
  const nodes = Object.keys(check.outcomes).map((outcome) => `${check.id}:${outcome}`);
  return pictureGiven(
    say('entry.answers-of', { label: check.label }),
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
  const excluded = outcome.excludes?.map((id) =>
    say('reasoning.quoted', { text: check.outcomes[id]?.label ?? id }),
  );
  if (excluded !== undefined) return say('entry.speaks-against', { answers: joinWords(excluded) });
  return say(outcome.means === 'normal' ? 'entry.all-well' : 'entry.says-nothing');
}
