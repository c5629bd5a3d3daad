import { say } from '../../../language/say.js';
import { MARGIN_WORDS } from '../../../rules/diagnosis/margins.js';
import { BUT_FOR_WORDS } from '../../../rules/diagnosis/setup-weight.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Basis, Cause } from '../../../rules/knowledge/schema.js';
import { FAMILIES, WEIGHTS, type WeightName } from '../../../rules/knowledge/vocabulary.js';
import { CHANGE_WORDS, ONSET_WORDS, PART_WORDS, SCOPE_WORDS, sentenceCase } from '../../../rules/words.js';
import type { EntryPage, EntrySection, WorkedView } from '../../../templates/models.js';
import { STANDING_WORDS, sayMinutes, sayPercent } from '../../words.js';
import { cautionText } from '../next.js';
import { sayCondition } from './condition-words.js';
import type { LinkMap } from './link-map.js';
import { pictureLinks } from './link-picture.js';
import { entryPage, grounded, type Item, item, linkItem, namedItem, section } from './section.js';

/** The page of a cause: everything the knowledge base says of it, and its examples. */
export function viewCauseEntry(
  id: string,
  knowledge: Knowledge,
  map: LinkMap,
  worked: (cause: Cause) => WorkedView,
): EntryPage | undefined {
  const { book } = knowledge;
  const cause = book.causes.get(id);
  if (cause === undefined) return undefined;
  const links = map.from(id);
  return entryPage('causes', id, knowledge, {
    label: cause.label,
    lead: cause.what,
    cautions: (cause.cautions ?? []).map(cautionText(book)),
    facts: [
      { term: say('entry.family'), text: FAMILIES[cause.family] },
      {
        term: say('entry.judged-from'),
        text: cause.kind === 'coordination' ? say('entry.from-setup') : say('entry.from-seen'),
      },
      ...(cause.part === undefined
        ? []
        : [
            {
              term: say('entry.goes-with'),
              text: say('entry.the-part', { part: PART_WORDS[cause.part] }),
            },
          ]),
      { term: say('entry.trace'), text: sayMinutes(cause['trace-minutes']) },
    ],
    bases: basesOf(cause),
    worked: cause.examples === undefined ? undefined : worked(cause),
    sections: [
      section('from', say('entry.leads'), originItems(cause, knowledge)),
      section('to', say('entry.leads-to'), links.map(linkItem(knowledge, map, 'to')), {
        drawn: pictureLinks(say('entry.leads-to-of', { label: cause.label }), id, map, { up: 0, down: 3 }),
      }),
      profile('place', say('entry.where-shows'), say('entry.place'), cause.scope, SCOPE_WORDS),
      profile('beginning', say('entry.how-begins'), say('entry.beginning'), cause.onset, ONSET_WORDS),
      section('rules', say('entry.rules'), [
        ...(cause.rules ?? []).map((rule) =>
          item(say('entry.if', { condition: sayCondition(rule.when, knowledge) }), {
            text: `${sayWeight(rule.for ?? rule.against ?? 'slightly', rule.for === undefined)} ${rule.because}`,
            ...grounded(knowledge, rule.basis),
          }),
        ),
        ...(cause['ruled-out'] ?? []).map((out) =>
          item(say('entry.if', { condition: sayCondition(out.when, knowledge) }), {
            text: `${say('entry.rules-out')} ${out.because}`,
            ...grounded(knowledge, out.basis),
          }),
        ),
      ]),
      section(
        'alike',
        say('entry.alike'),
        (cause['look-alikes'] ?? []).flatMap((other) =>
          namedItem(knowledge, 'causes', other.cause, { text: other['told-apart-by'] }),
        ),
      ),
      section(
        'checks',
        say('entry.checks-telling'),
        cause.checks.flatMap((check) =>
          namedItem(knowledge, 'checks', check, { text: book.checks.get(check)?.ask ?? '' }),
        ),
      ),
      section(
        'actions',
        say('entry.actions'),
        cause.actions.flatMap((action) =>
          namedItem(knowledge, 'actions', action.do, {
            text: say('entry.cures', { percent: sayPercent(action.cures) }),
            notes: action.note === undefined ? [] : [action.note],
            ground: { words: STANDING_WORDS.judgement, cite: '', address: '' },
          }),
        ),
      ),
    ],
  });
}

function originItems(cause: Cause, knowledge: Knowledge): Item[] {
  const { model } = cause.prior;
  return [
    item(say('entry.base-rate', { percent: sayPercent(cause.prior.base) }), {
      text: say('entry.base-rate-is'),
      ...grounded(knowledge, cause.prior.basis),
    }),
    ...(model === undefined
      ? []
      : [
          item(say('entry.model-computes', { setting: sentenceCase(BUT_FOR_WORDS[model['but-for']]) }), {
            text: say('entry.model-likelier', { margin: MARGIN_WORDS[model.margin].label }),
            notes: model.side === undefined ? [] : [say(`entry.only-${model.side}`)],
            ground: { words: say('entry.physics-judgement'), cite: '', address: '' },
          }),
        ]),
    ...Object.entries(cause.after ?? {}).map(([change, weight]) =>
      item(say('entry.change-before', { change: CHANGE_WORDS[change as keyof typeof CHANGE_WORDS] }), {
        text: sayWeight(weight, false),
        ground: { words: STANDING_WORDS.judgement, cite: '', address: '' },
      }),
    ),
  ];
}

/** "Speaks clearly for it (odds × 5)." */
function sayWeight(weight: WeightName, against: boolean): string {
  return say(`entry.speaks-${against ? 'against' : 'for'}-${weight}`, { odds: WEIGHTS[weight] });
}

function profile(
  id: string,
  title: string,
  head: string,
  shares: Readonly<Partial<Record<string, number>>>,
  words: Readonly<Record<string, string>>,
): EntrySection {
  const bars = Object.entries(shares)
    .sort(([, a = 0], [, b = 0]) => b - a)
    .map(([key, share = 0]) => ({
      label: sentenceCase(words[key] ?? key),
      percent: sayPercent(share),
      probability: share,
    }));
  return section(id, title, [], { intro: head, bars });
}

function basesOf(cause: Cause): Basis[] {
  return [
    cause.prior.basis,
    ...cause['leads-to'].map((link) => link.basis),
    ...(cause.rules ?? []).map((rule) => rule.basis),
    ...(cause['ruled-out'] ?? []).map((out) => out.basis),
  ];
}
