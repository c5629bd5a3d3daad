import { readCaseObject } from '../case/case-file.js';
import { createDiagnostician } from '../diagnosis/diagnose.js';
import type { Diagnostician } from '../diagnostician.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { VignetteFile } from '../knowledge/vignette-schema.js';
import { type Expectation, meets, rankOf } from './expectation.js';

/** A case that is run on both knowledge bases. */
export interface ComparedCase {
  /** `cause/example name` or the situation's id. */
  readonly name: string;
  readonly kind: 'example' | 'situation';
  readonly given: Readonly<Record<string, unknown>>;
  readonly expect: readonly { readonly cause: string; readonly is: Expectation }[];
}

/** How one cause stands in a case under both. Rank 0: the knowledge base does not hold it. */
export interface CauseChange {
  readonly cause: string;
  readonly before: { readonly rank: number; readonly probability: number };
  readonly after: { readonly rank: number; readonly probability: number };
}

/** What is different about one case. */
export interface CaseChange {
  readonly name: string;
  readonly kind: ComparedCase['kind'];
  /** Causes whose probability moved, or that gained or lost a place among the first. */
  readonly causes: readonly CauseChange[];
  /** Expectations that are met under one of the two only. */
  readonly expectations: readonly {
    readonly cause: string;
    readonly is: Expectation;
    readonly before: boolean;
    readonly after: boolean;
  }[];
  /** Set when one of the two cannot read the case. */
  readonly unreadable?: 'before' | 'after' | 'both';
}

/** What a change of knowledge does to all cases. */
export interface KnowledgeComparison {
  readonly versions: readonly [before: string, after: string];
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly cases: number;
  readonly changed: readonly CaseChange[];
  /** Expectations that held before and no longer do, and the reverse. */
  readonly broken: number;
  readonly mended: number;
}

/** Fields of a situation that are its case. */
const CASE_FIELDS = [
  'setup',
  'before',
  'observations',
  'scope',
  'onset',
  'changed',
  'findings',
  'measurements',
] as const;
/** A probability that moves by no more than this counts as unchanged. */
const LEAST_MOVE = 0.02;
/** Places that change without any probability moving by more than this are ties falling the other way. */
const LEAST_SWAP = 0.005;
/** Changes of place are told among the first so many. */
const PLACES = 5;

/** The examples of a knowledge base and the situations that come with it, as cases to compare. */
export function casesToCompare(
  knowledge: Knowledge,
  situations: Iterable<VignetteFile> = [],
): ComparedCase[] {
  const examples = [...knowledge.book.causes.values()].flatMap((cause) =>
    (cause.examples ?? []).map(
      (example): ComparedCase => ({
        name: `${cause.id}: ${example.name}`,
        kind: 'example',
        given: example.given,
        expect: [{ cause: cause.id, is: example.expect }],
      }),
    ),
  );
  const others = [...situations].map((situation): ComparedCase => {
    const given = Object.fromEntries(
      CASE_FIELDS.filter((field) => situation[field] !== undefined).map((field) => [field, situation[field]]),
    );
    return { name: situation.id, kind: 'situation', given, expect: situation.expect };
  });
  return [...examples, ...others];
}

/**
 * Runs cases on two knowledge bases and tells what comes out differently. A case of the same name that both bring is
 * run as the newer one writes it.
 *
 * @param told called after each case, for a display of progress
 */
export async function compareKnowledge(
  before: { readonly knowledge: Knowledge; readonly cases: readonly ComparedCase[] },
  after: { readonly knowledge: Knowledge; readonly cases: readonly ComparedCase[] },
  told: (done: number, all: number) => void = () => {},
): Promise<KnowledgeComparison> {
  const cases = new Map([...before.cases, ...after.cases].map((one) => [`${one.kind} ${one.name}`, one]));
  const old = createDiagnostician(before.knowledge);
  const young = createDiagnostician(after.knowledge);
  const changed: CaseChange[] = [];
  let done = 0;
  for (const one of cases.values()) {
    const change = await compareCase(one, old, young);
    if (change !== undefined) changed.push(change);
    done += 1;
    told(done, cases.size);
  }
  const statuses = changed.flatMap((one) => one.expectations);
  const [oldIds, newIds] = [before, after].map(({ knowledge }) => [...knowledge.book.causes.keys()]);
  return {
    versions: [before.knowledge.version, after.knowledge.version],
    added: (newIds ?? []).filter((id) => !before.knowledge.book.causes.has(id)),
    removed: (oldIds ?? []).filter((id) => !after.knowledge.book.causes.has(id)),
    cases: cases.size,
    changed,
    broken: statuses.filter((one) => one.before && !one.after).length,
    mended: statuses.filter((one) => !one.before && one.after).length,
  };
}

interface Ranked {
  readonly id: string;
  readonly probability: number;
}

async function compareCase(
  one: ComparedCase,
  before: Diagnostician,
  after: Diagnostician,
): Promise<CaseChange | undefined> {
  const [old, young] = [await rank(one, before), await rank(one, after)];
  if (old === undefined || young === undefined)
    return {
      name: one.name,
      kind: one.kind,
      causes: [],
      expectations: [],
      unreadable: old !== undefined ? 'after' : young !== undefined ? 'before' : 'both',
    };
  const ids = new Set([...old, ...young].map((cause) => cause.id));
  const place = (ranking: readonly Ranked[], id: string) => {
    const at = rankOf(ranking, id);
    return { rank: at, probability: ranking[at - 1]?.probability ?? 0 };
  };
  const all = [...ids].map(
    (cause): CauseChange => ({ cause, before: place(old, cause), after: place(young, cause) }),
  );
  const causes = all.filter(differs).sort((a, b) => (a.after.rank || Infinity) - (b.after.rank || Infinity));
  const expectations = one.expect
    .map(({ cause, is }) => ({ cause, is, before: meets(is, old, cause), after: meets(is, young, cause) }))
    .filter((status) => status.before !== status.after);
  const level = all.every(
    ({ before, after }) => Math.abs(after.probability - before.probability) <= LEAST_SWAP,
  );
  if ((causes.length === 0 || level) && expectations.length === 0) return undefined;
  return { name: one.name, kind: one.kind, causes, expectations };
}

async function rank(one: ComparedCase, diagnostician: Diagnostician): Promise<readonly Ranked[] | undefined> {
  const reading = readCaseObject(one.given, diagnostician.vocabulary, { partial: true });
  return reading.ok ? (await diagnostician.rank(reading.case)).causes : undefined;
}

/** A move of probability worth telling, or a change of place among the first between causes that are not level. */
function differs({ before, after }: CauseChange): boolean {
  if (Math.abs(after.probability - before.probability) > LEAST_MOVE) return true;
  const among = (rank: number) => rank > 0 && rank <= PLACES;
  return (
    before.rank !== after.rank &&
    (among(before.rank) || among(after.rank)) &&
    Math.max(before.probability, after.probability) > LEAST_MOVE
  );
}
