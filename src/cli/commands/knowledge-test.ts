import type { ExampleResult } from '../../rules/workshop/run-examples.js';
import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { openDiagnostician } from '../engine.js';
import { EXIT } from '../errors.js';
import { percent } from '../layout/figures.js';
import { startPage } from '../layout/page.js';
import type { Terminal } from '../terminal.js';

/** `peelpoint knowledge test`: runs the examples that stand beside the causes. */
export const knowledgeTest: Command = {
  name: 'knowledge test',
  summary: 'run the examples beside the causes through the engine',
  about: [
    'Every cause carries example cases and what must come out for it: first, first-three, below-2-percent or undecided (2 to 50 %, and no cause leads with 50 %). This runs them, all or those of one cause.',
    'Exit code 1 when one fails.',
  ],
  arguments: [{ name: 'CAUSE', help: 'the id of one cause; all when left out', optional: true }],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint knowledge test', 'peelpoint knowledge test twist-too-low'],
  run: async (given, terminal) => {
    const { runExamples } = await import('../../rules/workshop/run-examples.js');
    const diagnostician = await openDiagnostician(given);
    const { causes } = diagnostician.knowledge.book;
    const [word] = given.arguments;
    const ids =
      word === undefined ? [...causes.keys()] : [oneOf('CAUSE', word, [...causes.keys()], 'a cause')];
    const json = given.options.has('json');
    const results: ExampleResult[] = [];
    for (const id of ids) {
      const own = await runExamples(diagnostician, [id]);
      results.push(...own);
      if (!json) printResults(terminal, id, own);
    }
    const failed = results.filter((result) => !result.passed).length;
    if (json) printJson(terminal, { examples: results.length, failed, results });
    else {
      const page = startPage(terminal);
      page.line();
      page.strong(
        `${results.length} ${results.length === 1 ? 'example' : 'examples'}, ${failed === 0 ? 'none failed' : `${failed} failed`}`,
      );
      page.print();
    }
    return failed === 0 ? EXIT.done : EXIT.failed;
  },
};

/** The results of one cause, printed as they come: all causes together take a while. */
function printResults(terminal: Terminal, cause: string, results: readonly ExampleResult[]): void {
  const page = startPage(terminal);
  page.strong(results.length === 0 ? `${cause}: no examples` : cause);
  for (const result of results)
    page.text(`${result.name}: ${result.passed ? '' : `expected ${result.expect}, `}${sayOutcome(result)}`, {
      first: result.passed ? '  pass  ' : '  FAIL  ',
    });
  page.print();
}

/** Place and probability of the cause, who stands before it, or why the case could not be read. */
function sayOutcome({ unreadable, rank, probability, leading }: ExampleResult): string {
  const [fault] = unreadable;
  if (fault !== undefined) return `the case cannot be read: ${fault}`;
  const [first] = leading;
  const before = rank > 1 && first !== undefined ? `, behind ${first.id} ${percent(first.probability)}` : '';
  return `number ${rank} with ${percent(probability)}${before}`;
}
