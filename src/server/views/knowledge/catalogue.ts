import { wordTable } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import { VIGNETTE_KINDS } from '../../../rules/knowledge/vignette-schema.js';
import { FAMILIES } from '../../../rules/knowledge/vocabulary.js';
import { entryHref, type Kind, kindTitle } from './kinds.js';

/** An entry as lists and search see it. */
export interface Entry {
  readonly kind: Kind;
  readonly id: string;
  readonly href: string;
  readonly label: string;
  /** Heading under which it is listed. */
  readonly group: string;
  /** What it is, in a sentence or two. */
  readonly about: string;
  /** What else it says, for the search. */
  readonly says: readonly string[];
}

const SYMPTOM_GROUPS = wordTable('sign-group', ['running', 'yarn', 'package', 'fabric', 'parts']);
const ACTION_GROUPS = wordTable('action-group', [
  'setting',
  'part',
  'clean',
  'repair',
  'material',
  'organise',
  'observe',
]);
const WHO_GROUPS = wordTable('check-group', ['operator', 'fitter', 'technologist', 'laboratory']);
const SITUATION_WORDS = wordTable('situation', VIGNETTE_KINDS);

/** Every entry that has a page, in the order of the lists; in the language of the moment. */
export function catalogueOf(
  knowledge: Knowledge,
  vignettes: ReadonlyMap<string, Vignette>,
): readonly Entry[] {
  const { book } = knowledge;
  const entries: Entry[] = [];
  const add = (
    kind: Kind,
    id: string,
    label: string,
    group: string,
    about: string,
    says: readonly (string | undefined)[] = [],
  ) => {
    const texts = says.filter((text) => text !== undefined);
    entries.push({ kind, id, href: entryHref(kind, id), label, group, about, says: texts });
  };
  for (const one of book.causes.values())
    add('causes', one.id, one.label, FAMILIES[one.family], one.what, [
      ...one['leads-to'].map((link) => link.why),
      ...(one.rules ?? []).map((rule) => rule.because),
      ...(one['ruled-out'] ?? []).map((out) => out.because),
      ...(one['look-alikes'] ?? []).map((other) => other['told-apart-by']),
      ...one.actions.map((action) => action.note),
      ...(one.examples ?? []).map((example) => sourceText(example.name)),
    ]);
  for (const one of book.symptoms.values())
    add('symptoms', one.id, one.label, SYMPTOM_GROUPS[one.group], one.look);
  for (const one of book.mechanisms.values())
    add('mechanisms', one.id, one.label, kindTitle('mechanisms'), one.plain, [
      ...Object.values(one.states).map((state) => state.label),
      ...Object.values(one.states).flatMap((state) => state['leads-to'].map((link) => link.why)),
    ]);
  for (const one of book.checks.values())
    add('checks', one.id, one.label, WHO_GROUPS[one.who], one.ask, [
      ...one.how,
      ...Object.values(one.outcomes).map((outcome) => outcome.label),
    ]);
  for (const one of book.actions.values())
    add('actions', one.id, one.label, ACTION_GROUPS[one.kind], one.steps[0] ?? '', [
      ...one.steps.slice(1),
      one.parts,
      one.proof,
      one['go-back'],
      ...(one['side-effects'] ?? []).map((effect) => effect.why),
    ]);
  for (const one of vignettes.values())
    add('cases', one.id, sourceText(one.title), SITUATION_WORDS[one.kind], sourceText(one.story), [
      sourceText(one.teaches),
    ]);
  for (const [id, one] of book.sources)
    if (one.seen === 'read') add('sources', id, one.cite, kindTitle('sources'), sourceText(one.note ?? ''));
  return entries;
}
