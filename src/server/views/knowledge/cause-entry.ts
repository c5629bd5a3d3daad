import { MARGIN_WORDS } from '../../../rules/diagnosis/margins.js';
import { BUT_FOR_WORDS } from '../../../rules/diagnosis/setup-weight.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Basis, Cause } from '../../../rules/knowledge/schema.js';
import { FAMILIES, WEIGHTS, type WeightName } from '../../../rules/knowledge/vocabulary.js';
import { CHANGE_WORDS, ONSET_WORDS, PART_WORDS, SCOPE_WORDS, sentenceCase } from '../../../rules/words.js';
import type { EntryPage, EntrySection, WorkedView } from '../../../templates/models.js';
import { sayMinutes, sayPercent } from '../../words.js';
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
      { term: 'Family', text: FAMILIES[cause.family] },
      {
        term: 'Judged from',
        text:
          cause.kind === 'coordination'
            ? 'the setup: settings that do not suit one another'
            : 'what is seen: the state of a part, the fibre or the room',
      },
      ...(cause.part === undefined ? [] : [{ term: 'Goes with', text: `the ${PART_WORDS[cause.part]}` }]),
      { term: 'Time to trace', text: sayMinutes(cause['trace-minutes']) },
    ],
    bases: basesOf(cause),
    worked: cause.examples === undefined ? undefined : worked(cause),
    sections: [
      section('from', 'What leads to it', originItems(cause, knowledge)),
      section('to', 'What it leads to', links.map(linkItem(knowledge, map, 'to')), {
        drawn: pictureLinks(`What “${cause.label}” leads to`, id, map, { up: 0, down: 3 }),
      }),
      profile('place', 'Where it shows', 'Place', cause.scope, SCOPE_WORDS),
      profile('beginning', 'How it begins', 'Beginning', cause.onset, ONSET_WORDS),
      section('rules', 'Rules', [
        ...(cause.rules ?? []).map((rule) =>
          item(`If ${sayCondition(rule.when, knowledge)}`, {
            text: `Speaks ${sayWeight(rule.for ?? rule.against ?? 'slightly', rule.for === undefined)}. ${rule.because}`,
            ...grounded(knowledge, rule.basis),
          }),
        ),
        ...(cause['ruled-out'] ?? []).map((out) =>
          item(`If ${sayCondition(out.when, knowledge)}`, {
            text: `Rules it out. ${out.because}`,
            ...grounded(knowledge, out.basis),
          }),
        ),
      ]),
      section(
        'alike',
        'Easily taken for it',
        (cause['look-alikes'] ?? []).flatMap((other) =>
          namedItem(knowledge, 'causes', other.cause, { text: other['told-apart-by'] }),
        ),
      ),
      section(
        'checks',
        'Checks that tell most',
        cause.checks.flatMap((check) =>
          namedItem(knowledge, 'checks', check, { text: book.checks.get(check)?.ask ?? '' }),
        ),
      ),
      section(
        'actions',
        'Actions',
        cause.actions.flatMap((action) =>
          namedItem(knowledge, 'actions', action.do, {
            text: `Cures it in ${sayPercent(action.cures)} of cases.`,
            notes: action.note === undefined ? [] : [action.note],
            ground: { words: 'judgement', cite: '', address: '' },
          }),
        ),
      ),
    ],
  });
}

function originItems(cause: Cause, knowledge: Knowledge): Item[] {
  const { model } = cause.prior;
  const side = { below: 'below', above: 'above' } as const;
  return [
    item(`Found on ${sayPercent(cause.prior.base)} of frames in trouble`, {
      text: 'The base rate, before anything of the frame is known.',
      ...grounded(knowledge, cause.prior.basis),
    }),
    ...(model === undefined
      ? []
      : [
          item(`${sentenceCase(BUT_FOR_WORDS[model['but-for']])}, as the model computes it`, {
            text: `The more likely it is that nothing is left of the margin “${MARGIN_WORDS[model.margin].label}”, and that this setting accounts for it, the likelier the cause.`,
            notes:
              model.side === undefined
                ? []
                : [`Only where the setting stands ${side[model.side]} its usual value.`],
            ground: { words: 'physics and judgement', cite: '', address: '' },
          }),
        ]),
    ...Object.entries(cause.after ?? {}).map(([change, weight]) =>
      item(`A change shortly before: ${CHANGE_WORDS[change as keyof typeof CHANGE_WORDS]}`, {
        text: `Speaks ${sayWeight(weight, false)}.`,
        ground: { words: 'judgement', cite: '', address: '' },
      }),
    ),
  ];
}

/** "clearly for it (odds × 5)". */
function sayWeight(weight: WeightName, against: boolean): string {
  return `${weight} ${against ? 'against' : 'for'} it (odds ${against ? '÷' : '×'} ${WEIGHTS[weight]})`;
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
