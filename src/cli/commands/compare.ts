import type { Comparison } from '../../rules/plans/compare.js';
import { type Command, JSON_OPTION, KNOWLEDGE_OPTION, printJson } from '../command.js';
import { interpretCase, openDiagnostician } from '../engine.js';
import { argumentError, EXIT } from '../errors.js';
import { number } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import { readSource, sourceName } from '../source.js';

/** `peelpoint compare`: two or three setups side by side. */
export const compare: Command = {
  name: 'compare',
  summary: 'two or three setups side by side, and what drives each difference',
  about: [
    'Computes the setups of two or three case files and prints every quantity beside the others, the difference from the first with its 90 % interval, and which settings it comes from.',
  ],
  arguments: [
    { name: 'A', help: 'the case file the others are held against, or - for standard input' },
    { name: 'B', help: 'a second case file' },
    { name: 'C', help: 'a third case file', optional: true },
  ],
  options: { ...JSON_OPTION, ...KNOWLEDGE_OPTION },
  examples: ['peelpoint compare frame-1.yaml frame-2.yaml'],
  run: async (given, terminal) => {
    const files = given.arguments;
    if (files.filter((file) => file === '-').length > 1)
      throw argumentError('B', '-', 'standard input can be read only once', ['the name of a file']);
    const texts: string[] = [];
    for (const file of files) texts.push(await readSource(file, terminal));
    const diagnostician = await openDiagnostician(given);
    const setups = [];
    for (const [i, file] of files.entries()) {
      const input = await interpretCase(texts[i] ?? '', file, diagnostician);
      setups.push({ name: input.title ?? nameOf(file, 'ABC'.charAt(i)), case: input });
    }
    const { compareSetups } = await import('../../rules/plans/compare.js');
    const comparison = compareSetups(diagnostician.knowledge, distinct(setups));
    if (given.options.has('json')) printJson(terminal, comparison);
    else {
      const page = startPage(terminal);
      writeComparison(page, comparison);
      page.print();
    }
    return EXIT.done;
  },
};

const nameOf = (file: string, letter: string) =>
  file === '-' ? sourceName(file) : (file.split(/[\\/]/).at(-1) ?? letter).replace(/\.(ya?ml|json)$/i, '');

/** Setups of the same name get their letter. */
function distinct<T extends { readonly name: string }>(setups: readonly T[]): T[] {
  return setups.map((one, i) =>
    setups.some((other, j) => j !== i && other.name === one.name)
      ? { ...one, name: `${'ABC'.charAt(i)}: ${one.name}` }
      : one,
  );
}

function writeComparison(page: Page, comparison: Comparison): void {
  const { names } = comparison;
  comparison.summary.forEach((sentences, i) => {
    page.heading(`${names[i + 1]} against ${names[0]}`);
    for (const one of comparison.differing[i] ?? [])
      page.text(`${one.label}: ${one.first} → ${one.second}`, { first: '  ', rest: '    ' });
    page.line();
    for (const sentence of sentences) page.text(sentence, { first: '  ', rest: '    ' });
    page.faint(comparison.method[i] ?? '', { first: '  ', rest: '  ' });
  });
  page.heading('Every quantity');
  page.table(
    [
      { title: 'Quantity', wraps: true },
      { title: 'Unit' },
      ...names.map((_name, i) => ({ title: 'ABC'.charAt(i), align: 'right' as const })),
      ...names
        .slice(1)
        .map((_name, i) => ({ title: `${'ABC'.charAt(i + 1)} − A (90 %)`, align: 'right' as const })),
    ],
    comparison.quantities.map((quantity) => [
      quantity.label,
      quantity.unit,
      ...quantity.values.map((value) => number(value.value)),
      ...quantity.against.map(({ difference }) =>
        difference.low === 0 && difference.high === 0
          ? 'same'
          : `${number(difference.value)} (${number(difference.low)} to ${number(difference.high)})`,
      ),
    ]),
    '  ',
  );
  page.faint(names.map((name, i) => `${'ABC'.charAt(i)}: ${name}`).join('; '), { first: '  ', rest: '  ' });
}
