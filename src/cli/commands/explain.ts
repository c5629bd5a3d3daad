import type { CaseInput } from '../../rules/case/types.js';
import type { CauseResult, Diagnosis } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { interpretCase, openDiagnostician } from '../engine.js';
import { EXIT } from '../errors.js';
import { decibans, finePercent, minutes, percent } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import { writeAction } from '../sections/actions.js';
import { cautionTexts, writeCautions } from '../sections/cautions.js';
import { type Citations, startCitations, writeChains } from '../sections/chains.js';
import { writeCheck } from '../sections/checks.js';
import { readSource } from '../source.js';

/** `peelpoint explain`: one cause and everything that speaks for and against it. */
export const explain: Command = {
  name: 'explain',
  summary: 'explain one cause: ledger, chains, look-alikes, checks, actions',
  about: [
    'Shows why a cause stands where it stands in a case: the ledger of everything that speaks for and against it in decibans with the running probability, the chains from setting to symptom with their reasons and sources, what would change the verdict, what looks alike, and its checks and actions.',
  ],
  arguments: [
    { name: 'CAUSE', help: 'the id of a cause; peelpoint knowledge list causes shows them' },
    { name: 'FILE', help: 'the case file, or - for standard input' },
  ],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint explain twist-too-low case.yaml'],
  run: async (given, terminal) => {
    const [word = '', file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const diagnostician = await openDiagnostician(given);
    const { knowledge } = diagnostician;
    const id = oneOf('CAUSE', word, [...knowledge.book.causes.keys()], 'a cause');
    const input = await interpretCase(text, file, diagnostician);
    const explanation = explainCause(id, await diagnostician.diagnose(input), knowledge);
    if (given.options.has('json')) printJson(terminal, explanation);
    else {
      const page = startPage(terminal);
      writeExplanation(page, explanation, knowledge, input);
      page.print();
    }
    return EXIT.done;
  },
};

/** What the command says of a cause, in JSON as well. */
export interface Explanation {
  readonly cause: CauseResult;
  /** Place in the ranking, from 1. */
  readonly rank: number;
  readonly lookAlikes: readonly (CauseResult['lookAlikes'][number] & {
    readonly probability: number;
    readonly ruledOut: boolean;
  })[];
  readonly checks: Diagnosis['checks'];
  readonly actions: Diagnosis['actions'];
  readonly cautions: Diagnosis['cautions'];
}

/** @throws RangeError for a cause that the diagnosis does not hold */
export function explainCause(id: string, diagnosis: Diagnosis, knowledge: Knowledge): Explanation {
  const rank = diagnosis.causes.findIndex((one) => one.id === id);
  const cause = diagnosis.causes[rank];
  if (cause === undefined) throw new RangeError(`the diagnosis holds no cause "${id}"`);
  const inOrder = <T extends { readonly id: string }>(ids: readonly string[], all: readonly T[]) =>
    ids.flatMap((wanted) => all.find((one) => one.id === wanted) ?? []);
  const checks = inOrder(cause.checks, diagnosis.checks);
  const actions = inOrder(cause.actions, diagnosis.actions);
  return {
    cause,
    rank: rank + 1,
    lookAlikes: cause.lookAlikes.map((one) => {
      const other = diagnosis.causes.find((candidate) => candidate.id === one.cause);
      return { ...one, probability: other?.probability ?? 0, ruledOut: other?.ruledOut !== undefined };
    }),
    checks,
    actions,
    cautions: cautionTexts(
      [...cause.cautions, ...[...checks, ...actions].flatMap((one) => one.cautions)],
      knowledge,
    ),
  };
}

function writeExplanation(
  page: Page,
  explanation: Explanation,
  knowledge: Knowledge,
  input: CaseInput,
): void {
  const { cause, rank, lookAlikes, checks, actions } = explanation;
  const citations = startCitations();
  page.strong(cause.label);
  page.text(
    `${cause.familyLabel}. ${percent(cause.probability)}, number ${rank} of the causes in this case.`,
  );
  if (cause.ruledOut !== undefined)
    page.text(`Ruled out: ${cause.ruledOut.because} (${citations.say(cause.ruledOut.ground)})`);
  page.line();
  page.text(cause.what);
  writeLedger(page, cause, citations);

  page.heading('From cause to sign');
  if (cause.chains.length === 0) page.text('Nothing that was seen hangs on this cause.', '  ');
  writeChains(page, cause.chains, citations);
  if (cause.wouldChange.length > 0) page.heading('What would change it');
  for (const sentence of cause.wouldChange) page.text(sentence, { first: '  · ', rest: '    ' });
  if (lookAlikes.length > 0) page.heading('Looks alike');
  for (const one of lookAlikes)
    page.text(
      `${one.label} (${one.ruledOut ? 'ruled out here' : percent(one.probability)}): ${one.toldApartBy}`,
      {
        first: '  · ',
        rest: '    ',
      },
    );
  writeCautions(page, explanation.cautions);

  page.heading('Checks that tell most about it');
  page.text(`Proving or excluding it takes about ${minutes(cause.traceMinutes)}.`, '  ');
  for (const [index, check] of checks.entries()) writeCheck(page, check, ` ${index + 1}. `, true);
  for (const id of cause.checks.filter((one) => !checks.some((check) => check.id === one))) {
    const made = input.findings[id] !== undefined;
    const label = knowledge.book.checks.get(id)?.label ?? id;
    page.faint(`${label}: ${made ? 'made already' : 'tells nothing more here'}.`, '    ');
  }
  page.heading('Actions');
  for (const [index, action] of actions.entries()) writeAction(page, action, ` ${index + 1}. `, true);
  for (const id of cause.actions.filter((one) => !actions.some((action) => action.id === one)))
    page.faint(`${knowledge.book.actions.get(id)?.label ?? id}: hardly a cure in this case.`, '    ');
  if (citations.list.length > 0) page.heading('Sources');
  for (const [index, source] of citations.list.entries())
    page.text(source, { first: `  [${index + 1}] `, rest: '      ' });
}

function writeLedger(page: Page, cause: CauseResult, citations: Citations): void {
  page.heading('Ledger');
  page.table(
    [
      { title: 'What is known', wraps: true },
      { title: 'Decibans', align: 'right' },
      { title: 'In words' },
      { title: 'Then', align: 'right' },
    ],
    cause.ledger.map((entry) => [
      `${entry.label}${entry.because === undefined ? '' : ` – ${entry.because}`}${
        entry.ground === undefined ? '' : ` (${citations.say(entry.ground)})`
      }`,
      decibans(entry.decibans),
      entry.words,
      finePercent(entry.after),
    ]),
    '  ',
  );
}
