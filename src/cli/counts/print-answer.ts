import type { CountAnalysis, Figure, QuickAnswer, Sentence } from '../../statistics/analysis/index.js';
import { number } from '../layout/figures.js';
import { type Page, startPage } from '../layout/page.js';
import type { Terminal } from '../terminal.js';

/** Prints the four answers of an analysis, its assumptions and, when asked, every figure. */
export function printAnalysis(
  terminal: Terminal,
  analysis: CountAnalysis,
  read: string,
  withFigures: boolean,
): void {
  const page = startPage(terminal);
  const parts: readonly (readonly [string, readonly Sentence[]])[] = [
    ['Real or chance?', analysis.answer.realOrChance],
    ['Where?', analysis.answer.where],
    ['Since when?', analysis.answer.sinceWhen],
    ['What next?', analysis.answer.next],
  ];
  for (const [title, sentences] of parts) {
    page.heading(title);
    sentences.forEach((sentence, index) => {
      if (index === 0) page.strong(sentence.text, '  ');
      else page.text(sentence.text, '  ');
    });
  }
  const implied = sayImplied(analysis);
  if (implied.length > 0) {
    page.heading('For a case file');
    for (const line of implied) page.line(`  ${line}`);
  }
  page.heading('Taken for granted');
  for (const text of [read, ...analysis.assumed, ...analysis.notes])
    page.faint(text, { first: '  ', rest: '    ' });
  if (withFigures) printFigures(page, analysis.figures);
  else
    page.faint('The figures behind this: --figures, or --json for programs.', { first: '  ', rest: '    ' });
  page.print();
}

/** What the analysis puts into a case file, as lines of YAML. */
function sayImplied({ implies }: CountAnalysis): string[] {
  const { scope, onset, endBreaks } = implies;
  const lines: string[] = [];
  if (scope !== undefined) lines.push(`scope: ${scope}`);
  if (onset !== undefined) lines.push(`onset: ${onset}`);
  if (endBreaks === undefined) return lines;
  lines.push('measurements:');
  const group = (one: { readonly count: number; readonly rotorHours: number }) =>
    `{count: ${one.count}, rotor-hours: ${one.rotorHours}}`;
  if (endBreaks.kind === 'two-groups')
    lines.push(`  end-breaks: {a: ${group(endBreaks.a)}, b: ${group(endBreaks.b)}}`);
  else {
    const picked = endBreaks.pickedFrom === undefined ? '' : `, picked-from: ${endBreaks.pickedFrom}`;
    lines.push(
      `  end-breaks: {count: ${endBreaks.count}, rotor-hours: ${endBreaks.rotorHours}, norm-per-1000: ${endBreaks.normPer1000}${picked}}`,
    );
  }
  return lines;
}

/** Prints a quick answer with its figures, which are few. */
export function printQuick(terminal: Terminal, answer: QuickAnswer): void {
  const page = startPage(terminal);
  answer.sentences.forEach((sentence, index) => {
    if (index === 0) page.strong(sentence.text);
    else page.text(sentence.text);
  });
  printFigures(page, answer.figures);
  page.print();
}

function printFigures(page: Page, figures: readonly Figure[]): void {
  page.heading('Figures');
  page.table(
    [
      { title: 'figure', wraps: true },
      { title: 'value', align: 'right' },
      { title: 'from', align: 'right' },
      { title: 'to', align: 'right' },
    ],
    figures.map((figure) => [
      figure.unit === '' ? figure.name : `${figure.name} (${figure.unit})`,
      number(figure.value),
      figure.interval === undefined ? '' : number(figure.interval.lower),
      figure.interval === undefined ? '' : number(figure.interval.upper),
    ]),
    '  ',
  );
}
