import { say } from '../../../language/say.js';

/** Kinds of entry that have pages; the id stands in the address. */
export const KIND_IDS = [
  'causes',
  'symptoms',
  'mechanisms',
  'checks',
  'actions',
  'cases',
  'sources',
] as const;

export type Kind = (typeof KIND_IDS)[number];

export const isKind = (text: string): text is Kind => KIND_IDS.some((kind) => kind === text);

/** Address of an entry's page. */
export const entryHref = (kind: Kind, id: string) => `/knowledge/${kind}/${id}`;

/** "1 cause", "3 causes". */
export const countOf = (kind: Kind, count: number) => say(`knowledge-count.${kind}`, { n: count });

/** "Causes". */
export const kindTitle = (kind: Kind) => say(`knowledge-kind.${kind}`);

/** "what may be wrong". */
export const kindAbout = (kind: Kind) => say(`knowledge-about.${kind}`);
