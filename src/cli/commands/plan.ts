import type { PlanReport } from '../../rules/plans/types.js';
import { PLAN_LIMIT_MEANINGS, PLAN_LIMITS, type PlanLimit, type Stock } from '../../rules/plans/types.js';
import { oneOf, wholeNumber } from '../arguments.js';
import {
  type Command,
  type Given,
  JSON_OPTION,
  KNOWLEDGE_OPTION,
  optionText,
  printJson,
} from '../command.js';
import { interpretCase, knowledgeFolder, openDiagnostician } from '../engine.js';
import { EXIT, InputError } from '../errors.js';
import { startPage } from '../layout/page.js';
import { writePlan } from '../sections/plans.js';
import { readSource, sourceName } from '../source.js';
import type { Terminal } from '../terminal.js';

/** `peelpoint plan`: which settings to change together. */
export const plan: Command = {
  name: 'plan',
  summary: 'which settings to change together, what it brings, costs and in which order',
  about: [
    'Tries all combinations of up to three changes of nozzle (texture, radius, material), protrusion, tube bend, insert, twist and rotor speed, and prints the plan it recommends with its steps, why it stands before the next, and the other plans that nothing beats. A case without complaint is taken for a new yarn: its settings are proposed.',
    `Limits: ${PLAN_LIMITS.map((limit) => `${limit} (${PLAN_LIMIT_MEANINGS[limit].replace(/\.$/, '')})`).join('; ')}. The limits of the end use always hold.`,
  ],
  arguments: [{ name: 'FILE', help: 'the case file, or - for standard input' }],
  options: {
    limit: { value: 'LIMIT', help: 'a limit to keep; may be given several times', many: true },
    stock: { value: 'FILE', help: 'parts on the shelf (YAML or JSON); only these are used' },
    changes: { value: 'N', help: 'most changes in one plan, 1 to 3' },
    positions: {
      value: 'N',
      help: 'positions that carry it through; by the scope of the case when left out',
    },
    ...JSON_OPTION,
    ...KNOWLEDGE_OPTION,
  },
  examples: [
    'peelpoint plan case.yaml',
    'peelpoint plan case.yaml --limit dont-lose-output --limit no-new-parts',
    'peelpoint plan case.yaml --stock shelf.yaml --json',
  ],
  run: async (given, terminal) => {
    const limits = readLimits(given);
    const changes = wholeNumber(given, 'changes', [1, 3]) as 1 | 2 | 3 | undefined;
    const positions = wholeNumber(given, 'positions', [1, 5000]);
    const [file = ''] = given.arguments;
    const text = await readSource(file, terminal);
    const stock = await readStockFile(given, terminal);
    const diagnostician = await openDiagnostician(given);
    const input = await interpretCase(text, file, diagnostician);
    const { isComplaint, makePlans } = await import('../../rules/plans/make-plans.js');
    const { loadPlanBook } = await import('../../rules/plans/plan-book.js');
    const report: PlanReport = makePlans(diagnostician.knowledge, input, {
      limits,
      plans: loadPlanBook(await knowledgeFolder(given), diagnostician.knowledge.book),
      ...(stock === undefined ? {} : { stock }),
      ...(changes === undefined ? {} : { changes }),
      ...(positions === undefined ? {} : { positions }),
      ...(isComplaint(input) ? { ranking: await diagnostician.rank(input) } : {}),
    });
    if (given.options.has('json')) printJson(terminal, report);
    else {
      const page = startPage(terminal);
      writePlan(page, report);
      page.print();
    }
    return EXIT.done;
  },
};

function readLimits(given: Given): PlanLimit[] {
  const text = optionText(given, 'limit');
  if (text === undefined) return [];
  return [...new Set(text.split(',').map((word) => oneOf('--limit', word, PLAN_LIMITS, 'a limit')))];
}

async function readStockFile(given: Given, terminal: Terminal): Promise<Stock | undefined> {
  const file = optionText(given, 'stock');
  if (file === undefined) return undefined;
  const text = await readSource(file, terminal);
  const { readStock } = await import('../../rules/plans/read-stock.js');
  const reading = readStock(text);
  if (reading.ok) return reading.stock;
  throw new InputError(`${sourceName(file)} cannot be used`, reading.problems);
}
