import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { EFFECT_WORDS, STOP_WORDS, sentenceCase } from '../../../rules/words.js';
import type { EntryPage } from '../../../templates/models.js';
import { type DrawnNode, drawLinks } from '../../pictures/link-graph.js';
import { STANDING_WORDS, sayMinutes, sayPercent, WHO_WORDS } from '../../words.js';
import { cautionText } from '../next.js';
import { sayCondition } from './condition-words.js';
import { entryHref } from './kinds.js';
import { entryPage, grounded, item, section } from './section.js';

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
          say('entry.meant-for-of', { label: action.label }),
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
            label: say('entry.cures-share', { percent: sayPercent(cures) }),
          })),
        );
  return entryPage('actions', id, knowledge, {
    label: action.label,
    cautions: action.cautions.map(cautionText(book)),
    facts: [
      {
        term: say('entry.time'),
        text: say(`entry.time-per-${action.per}`, { time: sayMinutes(action.minutes) }),
      },
      { term: say('entry.stops'), text: sentenceCase(STOP_WORDS[action.stops]) },
      { term: say('entry.who'), text: sentenceCase(WHO_WORDS[action.who] ?? action.who) },
      ...(action.parts === undefined ? [] : [{ term: say('entry.parts'), text: sentenceCase(action.parts) }]),
      { term: say('entry.cost'), text: say(`action-cost.${action.cost}`) },
    ],
    bases: [action.basis],
    sections: [
      section(
        'steps',
        say('entry.steps'),
        action.steps.map((step) => item(step)),
        { ordered: true },
      ),
      section(
        'cures',
        say('entry.meant-for'),
        cured.map(({ cause, cures, note }) =>
          item(cause.label, {
            href: entryHref('causes', cause.id),
            text: say('entry.cures', { percent: sayPercent(cures) }),
            notes: note === undefined ? [] : [note],
            ground: { words: STANDING_WORDS.judgement, cite: '', address: '' },
          }),
        ),
        {
          picture,
          caption: cured.length > drawn.length ? say('entry.cures-drawn') : '',
        },
      ),
      section(
        'effects',
        say('entry.side-effects'),
        (action['side-effects'] ?? []).map((effect) =>
          item(say(`entry.effect-${effect.direction}`, { on: sentenceCase(EFFECT_WORDS[effect.on]) }), {
            text: effect.why,
            ...grounded(knowledge, action.basis),
          }),
        ),
      ),
      section(
        'not-when',
        say('entry.not-when'),
        (action['not-when'] ?? []).map((not) =>
          item(sentenceCase(say('entry.not-when-item', { condition: sayCondition(not.when, knowledge) })), {
            text: not.because,
          }),
        ),
      ),
      section('proof', say('entry.how-to-tell'), [
        item(say('entry.worked-when'), { text: action.proof }),
        item(say('entry.going-back'), { text: action['go-back'] }),
      ]),
    ],
  });
}
