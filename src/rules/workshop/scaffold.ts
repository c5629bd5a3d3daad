import type { RuleBook } from '../knowledge/knowledge-base.js';
import { idSchema } from '../knowledge/schema.js';
import { TO_DO } from './lint-to-do.js';

/** Kinds of file that can be begun. */
export const SCAFFOLDS = ['cause', 'action', 'check', 'symptom', 'mechanism'] as const;
export type ScaffoldKind = (typeof SCAFFOLDS)[number];

const FOLDERS: Readonly<Record<ScaffoldKind, string>> = {
  cause: 'causes',
  action: 'actions',
  check: 'checks',
  symptom: 'symptoms',
  mechanism: 'mechanisms',
};

/** A file to be written. */
export interface ScaffoldFile {
  /** Path below the knowledge-base folder. */
  readonly file: string;
  readonly text: string;
}

/** Files of the knowledge base that a new file refers to until its writer says better. */
interface Neighbours {
  readonly symptom: string;
  readonly check: string;
  readonly action: string;
  readonly caution: string;
}

/**
 * A valid file to begin with: it passes the schema and refers only to what exists, and every placeholder is marked so
 * that the knowledge check reports it until it is written.
 *
 * @param id kebab-case; taken ids are refused
 * @throws RangeError for an id that is taken or malformed
 */
export function scaffold(kind: ScaffoldKind, id: string, book: RuleBook): ScaffoldFile {
  if (!idSchema.safeParse(id).success)
    throw new RangeError(`"${id}" is no id; write lower-case words joined by hyphens`);
  const taken = (['causes', 'mechanisms', 'symptoms', 'checks', 'actions'] as const).find((name) =>
    book[name].has(id),
  );
  if (taken !== undefined) throw new RangeError(`"${id}" is taken: ${taken}/${id}.yaml`);
  const near: Neighbours = {
    symptom: firstOf(book.symptoms, 'symptom'),
    check: firstOf(book.checks, 'check'),
    action: book.actions.has('keep-counting') ? 'keep-counting' : firstOf(book.actions, 'action'),
    caution: book.cautions.has('manual-first') ? 'manual-first' : firstOf(book.cautions, 'caution'),
  };
  return { file: `${FOLDERS[kind]}/${id}.yaml`, text: TEXTS[kind](id, near) };
}

function firstOf(map: ReadonlyMap<string, unknown>, what: string): string {
  const [first] = map.keys();
  if (first === undefined)
    throw new RangeError(`the knowledge base has no ${what} yet, and this file needs one`);
  return first;
}

const words = (id: string) => id.charAt(0).toUpperCase() + id.slice(1).replaceAll('-', ' ');

const TEXTS: Readonly<Record<ScaffoldKind, (id: string, near: Neighbours) => string>> = {
  cause: (id, near) => `id: ${id}
label: "${TO_DO} ${words(id)}"
family: fibre                      # ${TO_DO} the group it is listed under
kind: condition                    # condition, or coordination for a setting that does not suit the others
what: >-
  ${TO_DO} what is wrong and why it matters, as a trainee would understand it.
prior:
  base: 0.01                       # ${TO_DO} share of frames in trouble on which it is present
  basis: {standing: judgement}
scope: {position: 0.5, frame: 0.5} # ${TO_DO} where it shows, as shares that sum to 1
onset: {sudden: 0.5, creeping: 0.5} # ${TO_DO} how it begins, as shares that sum to 1
leads-to:
  - to: ${near.symptom}            # ${TO_DO} a mechanism state, a symptom or a check outcome
    strength: weak
    why: "${TO_DO} how it brings this about."
    basis: {standing: judgement}
trace-minutes: 15                  # ${TO_DO} minutes to prove or exclude it
checks: [${near.check}]            # ${TO_DO} the checks that tell most about it
actions:
  - {do: ${near.action}, cures: 0.1} # ${TO_DO} what removes it
examples:
  - name: "${TO_DO} a case in which it leads (${id})"
    given: {}
    expect: first-three
  - name: "${TO_DO} a case in which it is out of the question (${id})"
    given: {}
    expect: below-2-percent
`,
  action: (id, near) => `id: ${id}
label: "${TO_DO} ${words(id)}"
kind: repair                       # ${TO_DO} setting, part, clean, repair, material, organise or observe
steps:
  - "${TO_DO} what to do first."
minutes: 15                        # ${TO_DO} working minutes for one unit of "per"
per: position                      # ${TO_DO} position, section, frame, lot or mill
stops: position                    # ${TO_DO} what must stand still
who: fitter                        # ${TO_DO} operator, fitter, technologist or laboratory
cost: low                          # ${TO_DO} parts: none, low, medium or high
proof: "${TO_DO} how one sees that it worked."
go-back: "${TO_DO} how it is undone if it did not."
cautions: [${near.caution}]        # ${TO_DO} and every other caution that is due
basis: {standing: judgement}
`,
  check: (id, near) => `id: ${id}
label: "${TO_DO} ${words(id)}"
ask: "${TO_DO} the question it answers?"
how:
  - "${TO_DO} how it is done."
minutes: 5                         # ${TO_DO} working minutes
stops: position                    # ${TO_DO} what must stand still
who: operator                      # ${TO_DO} operator, fitter, technologist or laboratory
basis: {standing: judgement}
cautions: [${near.caution}]        # ${TO_DO} and every other caution that is due
outcomes:
  as-usual:
    label: "${TO_DO} nothing found"
    means: normal
  found:                           # ${TO_DO} one entry for each deviation; link it from a cause or mechanism
    label: "${TO_DO} what is found"
    means: deviation
    leak: 0.03
`,
  symptom: (id) => `id: ${id}
label: "${TO_DO} ${words(id)}"
group: yarn                        # ${TO_DO} running, yarn, package, fabric or parts
look: "${TO_DO} how it shows to the eye or in a test."
leak: 0.03                         # ${TO_DO} how often it is seen with no listed cause behind it
leak-marked: 0.01
basis: {standing: judgement}
# ${TO_DO} link it from the mechanisms or causes that bring it about; a symptom nothing leads to is an error
`,
  mechanism: (id, near) => `id: ${id}
label: "${TO_DO} ${words(id)}"
plain: "${TO_DO} the quantity, in words a trainee knows."
states:
  high:                            # ${TO_DO} the deviating states: high, low, many, present …
    label: "${TO_DO} the state in words"
    leak: 0.005
    leads-to:
      - to: ${near.symptom}        # ${TO_DO} what it brings about
        strength: weak
        why: "${TO_DO} how it brings this about."
        basis: {standing: judgement}
# ${TO_DO} link it from the causes that bring it about; a state nothing leads to is an error
`,
};
