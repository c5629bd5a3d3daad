import { setupField, setupLabel } from '../../rules/case/setup-fields.js';
import { MEASURED_PROPERTIES, SETUP_PATHS } from '../../rules/case/types.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { FAMILIES } from '../../rules/knowledge/vocabulary.js';
import {
  CHANGE_WORDS,
  LEVEL_WORDS,
  ONSET_WORDS,
  PART_RESULT_WORDS,
  PART_WORDS,
  SCOPE_WORDS,
  TRIAL_RESULT_WORDS,
} from '../../rules/words.js';
import { QUANTITY_KINDS } from '../../spinning/units/quantity.js';

/** One line of a list. */
export interface ListEntry {
  readonly id: string;
  readonly label: string;
  /** Heading under which it stands. */
  readonly group?: string;
}

/** What can be listed: the parts of the knowledge base, and the words and fields of case files. */
export const LISTS: Readonly<
  Record<string, { readonly about: string; entries(knowledge: Knowledge): ListEntry[] }>
> = {
  causes: {
    about: 'what may be wrong',
    entries: ({ book }) =>
      Object.entries(FAMILIES).flatMap(([family, group]) =>
        [...book.causes.values()]
          .filter((cause) => cause.family === family)
          .map((cause) => ({ id: cause.id, label: cause.label, group })),
      ),
  },
  symptoms: {
    about: 'what may be seen: observations',
    entries: ({ book }) => labelled(book.symptoms, (one) => one.label),
  },
  checks: {
    about: 'what can be looked at or tested: findings',
    entries: ({ book }) =>
      labelled(book.checks, (one) => `${one.label} (${Object.keys(one.outcomes).join(' | ')})`),
  },
  actions: { about: 'what can be done', entries: ({ book }) => labelled(book.actions, (one) => one.label) },
  mechanisms: {
    about: 'what lies between cause and symptom',
    entries: ({ book }) =>
      labelled(book.mechanisms, (one) => `${one.label} (${Object.keys(one.states).join(' | ')})`),
  },
  cautions: {
    about: 'what to take care of',
    entries: ({ book }) => labelled(book.cautions, (one) => one.text),
  },
  sources: {
    about: 'what statements rest on',
    entries: ({ book }) => labelled(book.sources, (one) => one.cite),
  },
  fibres: { about: 'words for fibre', entries: ({ fibres }) => labelled(fibres, (one) => one.label) },
  'end-uses': { about: 'words for end-use', entries: ({ endUses }) => labelled(endUses, (one) => one.label) },
  setup: { about: 'fields of setup and before, with units and words', entries: setupFields },
  words: { about: 'words for scope, onset, changed, levels and parts', entries: caseWords },
  measurements: {
    about: 'what may be measured',
    entries: () => [
      { id: 'end-breaks', label: '{count, rotor-hours, norm-per-1000}, or two groups {a, b}' },
      ...MEASURED_PROPERTIES.map((id) => ({ id, label: '{mean, cv, tests, target}, or {readings, target}' })),
    ],
  },
};

function labelled<T>(map: ReadonlyMap<string, T>, label: (one: T) => string): ListEntry[] {
  return [...map].map(([id, one]) => ({ id, label: label(one) }));
}

function setupFields({ fibres, endUses }: Knowledge): ListEntry[] {
  return SETUP_PATHS.map((path) => {
    const field = setupField(path);
    const words =
      path === 'fibre' ? [...fibres.keys()] : path === 'end-use' ? [...endUses.keys()] : undefined;
    if (words !== undefined) return { id: path, label: `${setupLabel(path)}: ${words.join(' | ')}` };
    if (field === undefined) return { id: path, label: setupLabel(path) };
    if (field.type === 'word') return { id: path, label: `${field.label}: ${field.words.join(' | ')}` };
    const { units } = QUANTITY_KINDS[field.quantity];
    const others = units.filter((unit) => unit !== field.unit);
    const unit = field.unit === '1' ? 'a plain number' : `in ${field.unit}`;
    return {
      id: path,
      label: `${field.label}, ${unit}${others.length === 0 ? '' : `; also ${others.join(', ')}`}; usual ${field.usual.join(' to ')}`,
    };
  });
}

function caseWords(): ListEntry[] {
  const groups = {
    scope: SCOPE_WORDS,
    onset: ONSET_WORDS,
    changed: CHANGE_WORDS,
    'level of an observation': LEVEL_WORDS,
    'part of part-exchange': PART_WORDS,
    'result of part-exchange': PART_RESULT_WORDS,
    'result of what was tried': TRIAL_RESULT_WORDS,
  };
  return Object.entries(groups).flatMap(([group, words]) =>
    Object.entries(words).map(([id, label]) => ({ id, label, group })),
  );
}
