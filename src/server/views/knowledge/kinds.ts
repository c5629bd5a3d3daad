import { sentenceCase } from '../../../rules/words.js';

/** Kinds of entry that have pages, with their words; the id stands in the address. */
export const KINDS = {
  causes: { one: 'cause', many: 'causes', about: 'what may be wrong' },
  symptoms: { one: 'sign', many: 'signs', about: 'what is seen on frame, yarn, package or fabric' },
  mechanisms: { one: 'mechanism', many: 'mechanisms', about: 'what lies between a cause and its signs' },
  checks: { one: 'check', many: 'checks', about: 'what can be looked at or tested' },
  actions: { one: 'action', many: 'actions', about: 'what can be done' },
  cases: { one: 'situation', many: 'situations', about: 'cases the knowledge is tried on' },
  sources: { one: 'source', many: 'sources', about: 'writings that were read' },
} as const;

export type Kind = keyof typeof KINDS;
export const KIND_IDS = Object.keys(KINDS) as Kind[];

export const isKind = (text: string): text is Kind => Object.hasOwn(KINDS, text);

/** Address of an entry's page. */
export const entryHref = (kind: Kind, id: string) => `/knowledge/${kind}/${id}`;

/** "1 cause", "3 causes". */
export const countOf = (kind: Kind, count: number) =>
  `${count} ${count === 1 ? KINDS[kind].one : KINDS[kind].many}`;

export const kindTitle = (kind: Kind) => sentenceCase(KINDS[kind].many);
