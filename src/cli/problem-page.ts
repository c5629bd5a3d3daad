import type { CaseProblem } from '../rules/case/types.js';
import type { InputError } from './errors.js';
import { startPage } from './layout/page.js';
import type { Terminal } from './terminal.js';

/** Tells on standard error what is wrong with the input: every problem with place, value and what is allowed. */
export function printProblems(terminal: Terminal, error: InputError): void {
  const page = startPage({ ...terminal, colour: false }, terminal.err);
  const { problems } = error;
  const count = problems.length === 1 ? '' : `, for ${problems.length} reasons`;
  page.text(`peelpoint: ${error.message}${problems.length === 0 ? '.' : `${count}:`}`);
  for (const problem of problems) {
    page.text(sayProblem(problem), { first: '  ', rest: '    ' });
    if (problem.allowed.length > 0)
      page.text(
        `Allowed: ${problem.allowed.join(', ')}${problem.allowed.at(-1)?.endsWith('.') ? '' : '.'}`,
        '    ',
      );
  }
  if (error.hint !== undefined) page.text(error.hint);
  page.print();
}

/** Value shown for a field that is not there. */
const NOTHING = '(nothing)';
/** Messages that go on from the field's name as a sentence. */
const GOES_ON = /^(is|are|has|must|may|needs|cannot|does|names) /;

/** `line 4, setup.count: "20 Nx" is …` or `setup.twist, "4 alpha-e": a twist …`; a value that the message quotes anyway is not told twice. */
export function sayProblem({ line, field, value, message }: CaseProblem): string {
  const quoted = value === '' || value === NOTHING || message.includes(`"${value}"`) ? '' : `"${value}"`;
  const goesOn = GOES_ON.test(message);
  // A message that goes on is said of the value, or of the field where there is none; else both stand before it.
  const place = [line === undefined ? '' : `line ${line}`, field, goesOn ? '' : quoted]
    .filter((part) => part !== '')
    .join(', ');
  const joint = place === '' ? '' : goesOn && quoted === '' && field !== '' ? ' ' : ': ';
  const subject = goesOn && quoted !== '' ? `${quoted} ` : '';
  return `${place}${joint}${subject}${message}${/[.?!]$/.test(message) ? '' : '.'}`;
}
