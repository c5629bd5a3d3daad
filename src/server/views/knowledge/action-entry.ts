import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { STOP_WORDS, sentenceCase } from '../../../rules/words.js';
import type { EntryPage } from '../../../templates/models.js';
import { type DrawnNode, drawLinks } from '../../pictures/link-graph.js';
import { sayMinutes, sayPercent, WHO_WORDS } from '../../words.js';
import { cautionText } from '../next.js';
import { sayCondition } from './condition-words.js';
import { entryHref } from './kinds.js';
import { entryPage, grounded, item, section } from './section.js';

const EFFECT_WORDS = { better: 'gets better', worse: 'gets worse', depends: 'depends' } as const;
const MOST_DRAWN = 12;

/** The page of an action: how it is done, what it costs, and which causes it is meant for. */
export function viewActionEntry(id: string, knowledge: Knowledge): EntryPage | undefined {
  const { book } = knowledge;
  const action = book.actions.get(id);
  if (action === undefined) return undefined;
  const cured = [...book.causes.values()]
    .flatMap((cause) => cause.actions.filter((one) => one.do === id).map((one) => ({ cause, ...one })))
    .sort((a, b) => b.cures - a.cures);
  const drawn = cured.slice(0, MOST_DRAWN);
  const picture =
    drawn.length === 0
      ? undefined
      : drawLinks(
          `What “${action.label}” is meant for`,
          id,
          new Map<string, DrawnNode>([
            [id, { kind: 'action', label: action.label }],
            ...drawn.map(({ cause }): [string, DrawnNode] => [
              cause.id,
              { kind: 'cause', label: cause.label },
            ]),
          ]),
          drawn.map(({ cause, cures }) => ({
            from: id,
            to: cause.id,
            value: cures,
            label: `cures ${sayPercent(cures)}`,
          })),
        );
  return entryPage('actions', id, knowledge, {
    label: action.label,
    cautions: action.cautions.map(cautionText(book)),
    facts: [
      { term: 'Time', text: `${sayMinutes(action.minutes)} a ${action.per}` },
      { term: 'Stops', text: sentenceCase(STOP_WORDS[action.stops]) },
      { term: 'Who', text: sentenceCase(WHO_WORDS[action.who] ?? action.who) },
      ...(action.parts === undefined ? [] : [{ term: 'Parts', text: sentenceCase(action.parts) }]),
      { term: 'Cost', text: sentenceCase(action.cost) },
    ],
    bases: [action.basis],
    sections: [
      section(
        'steps',
        'Steps',
        action.steps.map((step) => item(step)),
        { ordered: true },
      ),
      section(
        'cures',
        'What it is meant for',
        cured.map(({ cause, cures, note }) =>
          item(cause.label, {
            href: entryHref('causes', cause.id),
            text: `Cures it in ${sayPercent(cures)} of cases.`,
            notes: note === undefined ? [] : [note],
            ground: { words: 'judgement', cite: '', address: '' },
          }),
        ),
        {
          picture,
          caption:
            cured.length > drawn.length ? 'Only the causes it cures best are drawn; the list has all.' : '',
        },
      ),
      section(
        'effects',
        'Side effects',
        (action['side-effects'] ?? []).map((effect) =>
          item(`${sentenceCase(effect.on)} ${EFFECT_WORDS[effect.direction]}`, {
            text: effect.why,
            ...grounded(knowledge, action.basis),
          }),
        ),
      ),
      section(
        'not-when',
        'Not when',
        (action['not-when'] ?? []).map((not) =>
          item(sentenceCase(sayCondition(not.when, knowledge)), { text: not.because }),
        ),
      ),
      section('proof', 'How to tell', [
        item('It worked when', { text: action.proof }),
        item('Going back', { text: action['go-back'] }),
      ]),
    ],
  });
}
