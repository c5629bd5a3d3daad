import { groundOf } from '../../rules/diagnosis/ground.js';
import { groupBy } from '../../rules/group.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import type { Basis, Link as GraphLink } from '../../rules/knowledge/schema.js';
import { FAMILIES, type Family } from '../../rules/knowledge/vocabulary.js';
import {
  CHANGE_WORDS,
  joinWords,
  ONSET_WORDS,
  SCOPE_WORDS,
  STOP_WORDS,
  sentenceCase,
} from '../../rules/words.js';
import type { EntryBlock, EntryPage, KnowledgePage, SourcesPage } from '../../templates/models.js';
import { type GroundView, sayMinutes, sayPercent, viewGround, WHO_WORDS } from '../words.js';
import { cautionText } from './next.js';

type Item = EntryBlock['items'][number];
const NO_GROUND: GroundView = { words: '', cite: '', address: '' };
const EFFECT_WORDS: Record<string, string> = {
  better: 'gets better',
  worse: 'gets worse',
  depends: 'depends',
};

/** Contents of the knowledge base. */
export function viewKnowledge({ book, version }: Knowledge): KnowledgePage {
  const families = groupBy(book.causes.values(), (cause) => cause.family);
  return {
    version,
    counts: `${book.causes.size} causes, ${book.mechanisms.size} mechanisms, ${book.symptoms.size} signs, ${book.checks.size} checks and ${book.actions.size} actions`,
    families: (Object.keys(FAMILIES) as Family[])
      .filter((id) => families.has(id))
      .map((id) => ({
        id: `family-${id}`,
        title: FAMILIES[id],
        causes: byLabel(families.get(id) ?? [], 'cause'),
      })),
    lists: [
      { id: 'symptoms', title: 'Signs', items: byLabel(book.symptoms.values(), 'symptom') },
      { id: 'mechanisms', title: 'Mechanisms', items: byLabel(book.mechanisms.values(), 'mechanism') },
      { id: 'checks', title: 'Checks', items: byLabel(book.checks.values(), 'check') },
      { id: 'actions', title: 'Actions', items: byLabel(book.actions.values(), 'action') },
    ],
  };
}

function byLabel(items: Iterable<{ readonly id: string; readonly label: string }>, kind: string) {
  return [...items]
    .map((item) => ({ href: `/knowledge/${kind}/${item.id}`, text: item.label }))
    .sort((a, b) => a.text.localeCompare(b.text));
}

/** Kinds of entry that have a page of their own. */
export const ENTRY_KINDS = ['cause', 'mechanism', 'symptom', 'check', 'action'] as const;
export type EntryKind = (typeof ENTRY_KINDS)[number];

/** The page of one entry, or undefined when there is none of that id. */
export function viewEntry(kind: EntryKind, id: string, knowledge: Knowledge): EntryPage | undefined {
  const views = {
    cause: viewCauseEntry,
    mechanism: viewMechanism,
    symptom: viewSymptom,
    check: viewCheckEntry,
    action: viewActionEntry,
  };
  return views[kind](id, knowledge);
}

function viewCauseEntry(id: string, knowledge: Knowledge): EntryPage | undefined {
  const { book } = knowledge;
  const cause = book.causes.get(id);
  if (cause === undefined) return undefined;
  const ground = grounds(knowledge);
  return entry(
    'Cause',
    cause.label,
    cause.what,
    (cause.cautions ?? []).map(cautionText(book)),
    [
      { term: 'Family', text: FAMILIES[cause.family] },
      {
        term: 'Judged from',
        text:
          cause.kind === 'coordination'
            ? 'the setup: settings that do not suit one another'
            : 'what is seen: the state of a part, the fibre or the room',
      },
      {
        term: 'How often',
        text: `${sayPercent(cause.prior.base)} of frames in trouble (${ground(cause.prior.basis).words})`,
      },
      { term: 'Time to trace', text: sayMinutes(cause['trace-minutes']) },
      { term: 'Shows', text: shares(cause.scope, SCOPE_WORDS) },
      { term: 'Begins', text: shares(cause.onset, ONSET_WORDS) },
      ...(cause.after === undefined
        ? []
        : [
            {
              term: 'Comes after a change of',
              text: joinWords(
                Object.keys(cause.after).map((change) => CHANGE_WORDS[change as keyof typeof CHANGE_WORDS]),
              ),
            },
          ]),
    ],
    [
      block('Leads to', cause['leads-to'].map(linkItem(knowledge))),
      block(
        'Ruled out when',
        (cause['ruled-out'] ?? []).map((out) => item('', out.because, '', '', ground(out.basis))),
      ),
      block(
        'Rules',
        (cause.rules ?? []).map((rule) =>
          item(
            '',
            rule.because,
            rule.for === undefined ? `weighs ${rule.against} against it` : `weighs ${rule.for} for it`,
            '',
            ground(rule.basis),
          ),
        ),
      ),
      block(
        'Checks that tell most',
        cause.checks.flatMap((check) => linkTo(knowledge, 'check', check)),
      ),
      block(
        'Actions',
        cause.actions.flatMap((action) =>
          linkTo(knowledge, 'action', action.do).map((one) => ({
            ...one,
            text: `cures it in ${sayPercent(action.cures)} of cases (judgement)`,
            note: action.note ?? '',
          })),
        ),
      ),
      block(
        'Easily taken for it',
        (cause['look-alikes'] ?? []).flatMap((other) =>
          linkTo(knowledge, 'cause', other.cause).map((one) => ({ ...one, text: other['told-apart-by'] })),
        ),
      ),
    ],
  );
}

function viewMechanism(id: string, knowledge: Knowledge): EntryPage | undefined {
  const mechanism = knowledge.book.mechanisms.get(id);
  if (mechanism === undefined) return undefined;
  return entry(
    'Mechanism',
    mechanism.label,
    mechanism.plain,
    [],
    [],
    [
      ...Object.values(mechanism.states).map((state) =>
        block(`${state.label}: leads to`, state['leads-to'].map(linkItem(knowledge))),
      ),
      block(
        'Brought about by',
        parentsOf((to) => to.startsWith(`${id}:`), knowledge),
      ),
    ],
  );
}

function viewSymptom(id: string, knowledge: Knowledge): EntryPage | undefined {
  const symptom = knowledge.book.symptoms.get(id);
  if (symptom === undefined) return undefined;
  return entry(
    'Sign',
    symptom.label,
    symptom.look,
    [],
    [
      {
        term: 'Without a listed cause',
        text: `seen on ${sayPercent(symptom.leak)} of frames in trouble (${grounds(knowledge)(symptom.basis).words})`,
      },
    ],
    [
      block(
        'Brought about by',
        parentsOf((to) => to === id, knowledge),
      ),
      block('Leads to', (symptom['leads-to'] ?? []).map(linkItem(knowledge))),
    ],
  );
}

function viewCheckEntry(id: string, knowledge: Knowledge): EntryPage | undefined {
  const check = knowledge.book.checks.get(id);
  if (check === undefined) return undefined;
  return entry(
    'Check',
    check.label,
    check.ask,
    (check.cautions ?? []).map(cautionText(knowledge.book)),
    [
      { term: 'Time', text: sayMinutes(check.minutes) },
      ...(check['waiting-minutes'] === undefined
        ? []
        : [{ term: 'Waiting', text: sayMinutes(check['waiting-minutes']) }]),
      { term: 'Stops', text: sentenceCase(STOP_WORDS[check.stops]) },
      { term: 'Who', text: sentenceCase(WHO_WORDS[check.who] ?? check.who) },
      { term: 'Rests on', text: grounds(knowledge)(check.basis).words },
    ],
    [
      block(
        'How',
        check.how.map((step) => item('', step, '', '', NO_GROUND)),
        true,
      ),
      ...Object.entries(check.outcomes).map(([outcome, { label }]) =>
        block(
          `Answer “${label}” speaks for`,
          parentsOf((to) => to === `${id}:${outcome}`, knowledge),
        ),
      ),
    ],
  );
}

function viewActionEntry(id: string, knowledge: Knowledge): EntryPage | undefined {
  const { book } = knowledge;
  const action = book.actions.get(id);
  if (action === undefined) return undefined;
  const ground = grounds(knowledge)(action.basis);
  return entry(
    'Action',
    action.label,
    '',
    action.cautions.map(cautionText(book)),
    [
      { term: 'Time', text: `${sayMinutes(action.minutes)} a ${action.per}` },
      { term: 'Stops', text: sentenceCase(STOP_WORDS[action.stops]) },
      { term: 'Who', text: sentenceCase(WHO_WORDS[action.who] ?? action.who) },
      ...(action.parts === undefined ? [] : [{ term: 'Parts', text: action.parts }]),
      { term: 'Cost', text: sentenceCase(action.cost) },
      { term: 'Rests on', text: ground.cite === '' ? ground.words : `${ground.words}: ${ground.cite}` },
    ],
    [
      block(
        'Steps',
        action.steps.map((step) => item('', step, '', '', NO_GROUND)),
        true,
      ),
      block(
        'Side effects',
        (action['side-effects'] ?? []).map((effect) =>
          item('', `${sentenceCase(effect.on)} ${EFFECT_WORDS[effect.direction]}`, effect.why, '', NO_GROUND),
        ),
      ),
      block(
        'Not when',
        (action['not-when'] ?? []).map((not) => item('', not.because, '', '', NO_GROUND)),
      ),
      block('It worked when', [item('', action.proof, '', '', NO_GROUND)]),
      block('Going back', [item('', action['go-back'], '', '', NO_GROUND)]),
      block(
        'Meant for',
        [...book.causes.values()]
          .filter((cause) => cause.actions.some((one) => one.do === id))
          .map((cause) => item(`/knowledge/cause/${cause.id}`, cause.label, '', '', NO_GROUND)),
      ),
    ],
  );
}

/** Sources that were read; no other is cited anywhere. */
export function viewSources({ book }: Knowledge): SourcesPage {
  return {
    sources: [...book.sources.values()]
      .filter((source) => source.seen === 'read')
      .map((source) => ({
        cite: source.cite,
        address: /^https?:\/\//.test(source.address ?? '') ? (source.address ?? '') : '',
        note: source.note ?? '',
      }))
      .sort((a, b) => a.cite.localeCompare(b.cite)),
  };
}

const grounds = (knowledge: Knowledge) => (basis: Basis) => viewGround(groundOf(knowledge.book, basis));

const item = (href: string, label: string, text: string, note: string, ground: GroundView): Item => ({
  href,
  label,
  text,
  note,
  ground,
});

const block = (title: string, items: readonly Item[], ordered = false): EntryBlock => ({
  title,
  items,
  ordered,
});

function entry(
  kind: string,
  label: string,
  lead: string,
  cautions: readonly string[],
  facts: EntryPage['facts'],
  blocks: readonly EntryBlock[],
): EntryPage {
  return {
    kind,
    label,
    lead,
    backHref: '/knowledge',
    cautions: cautions.filter((one) => one !== ''),
    facts,
    blocks: blocks.filter((one) => one.items.length > 0),
  };
}

/** What a link points at, with the page that tells more of it. */
function linkItem(knowledge: Knowledge): (link: GraphLink) => Item {
  const ground = grounds(knowledge);
  return (link) => {
    const { href, label } = nameTarget(link.to, knowledge);
    return item(href, label, `${link.strength.replace('-', ' ')} link. ${link.why}`, '', ground(link.basis));
  };
}

function nameTarget(to: string, { book }: Knowledge): { readonly href: string; readonly label: string } {
  const [head = '', tail] = to.split(':');
  if (tail === undefined)
    return { href: `/knowledge/symptom/${head}`, label: book.symptoms.get(head)?.label ?? head };
  const mechanism = book.mechanisms.get(head);
  if (mechanism !== undefined)
    return { href: `/knowledge/mechanism/${head}`, label: mechanism.states[tail]?.label ?? mechanism.label };
  const check = book.checks.get(head);
  return {
    href: `/knowledge/check/${head}`,
    label: check === undefined ? to : `${check.label}: ${check.outcomes[tail]?.label ?? tail}`,
  };
}

function linkTo(knowledge: Knowledge, kind: 'cause' | 'check' | 'action', id: string): Item[] {
  const { book } = knowledge;
  const found = { cause: book.causes, check: book.checks, action: book.actions }[kind].get(id);
  return found === undefined ? [] : [item(`/knowledge/${kind}/${id}`, found.label, '', '', NO_GROUND)];
}

/** Everything with a link to a node. */
function parentsOf(matches: (to: string) => boolean, knowledge: Knowledge): Item[] {
  const { book } = knowledge;
  const ground = grounds(knowledge);
  const found: Item[] = [];
  const collect = (href: string, label: string, links: readonly GraphLink[]) => {
    for (const link of links)
      if (matches(link.to))
        found.push(
          item(href, label, `${link.strength.replace('-', ' ')} link. ${link.why}`, '', ground(link.basis)),
        );
  };
  for (const cause of book.causes.values())
    collect(`/knowledge/cause/${cause.id}`, cause.label, cause['leads-to']);
  for (const mechanism of book.mechanisms.values())
    for (const state of Object.values(mechanism.states))
      collect(`/knowledge/mechanism/${mechanism.id}`, state.label, state['leads-to']);
  for (const symptom of book.symptoms.values())
    collect(`/knowledge/symptom/${symptom.id}`, symptom.label, symptom['leads-to'] ?? []);
  return found;
}

/** "the whole frame (84 %), every frame on the lot (10 %)". */
function shares(
  profile: Readonly<Partial<Record<string, number>>>,
  words: Readonly<Record<string, string>>,
): string {
  return Object.entries(profile)
    .sort(([, a = 0], [, b = 0]) => b - a)
    .map(([key, share = 0]) => `${words[key] ?? key} (${sayPercent(share)})`)
    .join(', ');
}
