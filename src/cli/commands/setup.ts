import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { interpretCase, openDiagnostician } from '../engine.js';
import { EXIT } from '../errors.js';
import { startPage } from '../layout/page.js';
import { writeCautions } from '../sections/cautions.js';
import { writeAssumed, writeComputed, writeMargins, writeWarnings } from '../sections/setup-tables.js';
import { readSource } from '../source.js';

/** `peelpoint setup`: what the model computes from a setup. */
export const setup: Command = {
  name: 'setup',
  summary: 'compute the state of a setup: tension, false twist, margins …',
  about: [
    'Computes what a setup does: draft, tension, false twist, binding-in length, heat, hairiness and so on, each with its 90 % interval and what its size rests on, and the margins that are left before trouble.',
    'Only the setup of the case file is used; what it leaves out is taken from the usual values of the end use and listed.',
  ],
  arguments: [{ name: 'FILE', help: 'the case file, or - for standard input' }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint setup case.yaml', 'peelpoint setup case.yaml --json'],
  run: async (given, terminal) => {
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const diagnostician = await openDiagnostician(given);
    const report = await diagnostician.report(await interpretCase(text, file, diagnostician));
    if (given.options.has('json')) {
      printJson(terminal, report);
      return EXIT.done;
    }
    const page = startPage(terminal);
    page.heading('Margins');
    writeMargins(page, report.margins);
    for (const margin of report.margins.filter((one) => one.chanceNegative >= 0.05))
      page.faint(`${margin.label}: ${margin.meaning}`, { first: '  ', rest: '    ' });
    writeWarnings(page, report.warnings);
    writeCautions(page, report.cautions);
    page.heading('Computed');
    writeComputed(page, report.computed);
    writeAssumed(page, report.assumed);
    page.print();
    return EXIT.done;
  },
};
