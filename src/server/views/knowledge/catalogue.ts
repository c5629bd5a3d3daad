import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import { FAMILIES } from '../../../rules/knowledge/vocabulary.js';
import { sentenceCase } from '../../../rules/words.js';
import { VIGNETTE_WORDS } from './case-entry.js';
import { entryHref, type Kind } from './kinds.js';

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

const SYMPTOM_GROUPS: Readonly<Record<string, string>> = {
  running: 'Running of the frame',
  yarn: 'Yarn',
  package: 'Package',
  fabric: 'Fabric',
  parts: 'Parts',
};
const ACTION_GROUPS: Readonly<Record<string, string>> = {
  setting: 'Settings',
  part: 'Parts',
  clean: 'Cleaning',
  repair: 'Repair',
  material: 'Material',
  organise: 'Organisation',
  observe: 'Watching',
};
const WHO_GROUPS: Readonly<Record<string, string>> = {
  operator: 'By an operator',
  fitter: 'By a fitter',
  technologist: 'By a technologist',
  laboratory: 'In the laboratory',
};

/** Every entry that has a page, in the order of the lists. */
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
      ...(one.examples ?? []).map((example) => example.name),
    ]);
  for (const one of book.symptoms.values())
    add('symptoms', one.id, one.label, SYMPTOM_GROUPS[one.group] ?? sentenceCase(one.group), one.look);
  for (const one of book.mechanisms.values())
    add('mechanisms', one.id, one.label, 'Mechanisms', one.plain, [
      ...Object.values(one.states).map((state) => state.label),
      ...Object.values(one.states).flatMap((state) => state['leads-to'].map((link) => link.why)),
    ]);
  for (const one of book.checks.values())
    add('checks', one.id, one.label, WHO_GROUPS[one.who] ?? sentenceCase(one.who), one.ask, [
      ...one.how,
      ...Object.values(one.outcomes).map((outcome) => outcome.label),
    ]);
  for (const one of book.actions.values())
    add('actions', one.id, one.label, ACTION_GROUPS[one.kind] ?? sentenceCase(one.kind), one.steps[0] ?? '', [
      ...one.steps.slice(1),
      one.parts,
      one.proof,
      one['go-back'],
      ...(one['side-effects'] ?? []).map((effect) => effect.why),
    ]);
  for (const one of vignettes.values())
    add('cases', one.id, one.title, VIGNETTE_WORDS[one.kind], one.story, [one.teaches]);
  for (const [id, one] of book.sources)
    if (one.seen === 'read') add('sources', id, one.cite, 'Sources', one.note ?? '');
  return entries;
}
