import type { Diagnosis } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { wholeNumber } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { interpretCase, openDiagnostician } from '../engine.js';
import { EXIT } from '../errors.js';
import { percent } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import { writeAction } from '../sections/actions.js';
import { writeCauses } from '../sections/causes.js';
import { cautionTexts, writeCautions } from '../sections/cautions.js';
import { writeCheck } from '../sections/checks.js';
import { writeAssumed, writeWarnings } from '../sections/setup-tables.js';
import { readSource } from '../source.js';
import type { Terminal } from '../terminal.js';

const USUAL_TOP = 8;
const SHOWN_CHECKS = 3;
const SHOWN_ACTIONS = 3;

/** `peelpoint diagnose`: the whole answer to a case. */
export const diagnose: Command = {
  name: 'diagnose',
  summary: 'rank the causes of a case, with next checks and first actions',
  about: [
    'Reads a case file (YAML or JSON: setup, what was seen, where, since when) and prints the ranked causes with their strongest reasons, the checks that save most search, and the actions with their side effects.',
    'The words a case file may use: peelpoint knowledge list.',
  ],
  arguments: [{ name: 'FILE', help: 'the case file, or - for standard input' }],
  options: {
    top: { value: 'N', help: `how many causes to list, ${USUAL_TOP} when left out (with --json: all)` },
    ...JSON_OPTION,
    ...KNOWLEDGE_OPTION,
  },
  examples: [
    'peelpoint diagnose knowledge-base/cases/examples/tapering-tails.yaml',
    'peelpoint diagnose case.yaml --json',
  ],
  run: async (given, terminal) => {
    const top = wholeNumber(given, 'top', [1, 999]);
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const diagnostician = await openDiagnostician(given);
    const input = await interpretCase(text, file, diagnostician);
    const diagnosis = await diagnostician.diagnose(input);
    if (given.options.has('json'))
      printJson(terminal, {
        ...diagnosis,
        causes: diagnosis.causes.slice(0, top ?? diagnosis.causes.length),
      });
    else {
      const page = startPage(terminal);
      writeDiagnosis(page, terminal, diagnosis, diagnostician.knowledge, top ?? USUAL_TOP);
      const [first] = diagnosis.causes;
      if (first !== undefined) {
        page.line();
        page.faint(`More about a cause: peelpoint explain ${first.id} ${file}`);
      }
      page.print();
    }
    return EXIT.done;
  },
};

/** Lays out a diagnosis. */
export function writeDiagnosis(
  page: Page,
  terminal: Terminal,
  diagnosis: Diagnosis,
  knowledge: Knowledge,
  top: number,
): void {
  if (diagnosis.title !== undefined) page.strong(diagnosis.title);
  page.text(diagnosis.summary);
  if (diagnosis.severalCauses >= 0.1)
    page.text(`Chance that two or more causes are at work together: ${percent(diagnosis.severalCauses)}.`);
  for (const sign of diagnosis.unexplained)
    page.text(`“${sign.label}” may have a cause not listed here (${percent(sign.probability)}).`);
  writeWarnings(page, diagnosis.warnings);
  writeCauses(page, terminal, diagnosis.causes, top);

  const checks = diagnosis.checks.slice(0, SHOWN_CHECKS);
  const actions = diagnosis.actions
    .filter((action) => action.forbidden === undefined)
    .slice(0, SHOWN_ACTIONS);
  writeCautions(
    page,
    cautionTexts(
      [
        ...diagnosis.cautions.map((caution) => caution.id),
        ...[...checks, ...actions].flatMap((one) => one.cautions),
      ],
      knowledge,
    ),
  );
  if (checks.length > 0) page.heading('Look at next');
  for (const [index, check] of checks.entries()) writeCheck(page, check, ` ${index + 1}. `, index === 0);
  if (actions.length > 0) page.heading('First actions, once the cause is sure enough');
  for (const [index, action] of actions.entries()) writeAction(page, action, ` ${index + 1}. `, index === 0);
  for (const action of diagnosis.actions.filter((one) => one.forbidden !== undefined).slice(0, SHOWN_ACTIONS))
    page.faint(`Not here – ${action.label}: ${action.forbidden}`, { first: '    ', rest: '      ' });
  writeAssumed(page, diagnosis.assumed);
}
