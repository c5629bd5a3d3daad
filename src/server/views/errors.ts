import type { ErrorSummary } from '../../templates/models.js';
import type { FieldProblem } from '../case-form.js';

/** Id of the control for a field of the case file. */
export const controlId = (name: string) => `f-${name.replace(/[^a-zA-Z0-9-]+/g, '-')}`;

/** Whether a field is set on the setup page rather than the bench. */
export const isOnSetupPage = (name: string) => /^(?:setup|before)(?:\.|$)/.test(name);

/** The words beside a field: what is wrong and what would do. */
export function errorText(problems: readonly FieldProblem[], name: string): string {
  return problems
    .filter((problem) => problem.name === name)
    .map((problem) => problemText(problem))
    .join(' ');
}

/** A problem as a sentence. */
export function problemText(problem: FieldProblem): string {
  const text = problem.message.trim();
  const start = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(start) ? start : `${start}.`;
}

/** All problems, with links to the controls that are on this page or, by `elsewhere`, on the other. */
export function viewErrors(
  problems: readonly FieldProblem[],
  labelOf: (name: string) => string,
  hrefOf: (name: string) => string,
): ErrorSummary {
  return {
    items: problems.map((problem) => ({
      href: hrefOf(problem.name),
      text: withLabel(labelOf(problem.name), problem),
      allowed: problem.allowed.length > 8 ? '' : problem.allowed.join('; '),
    })),
  };
}

/** Says which field a message is about, unless it says so itself. */
function withLabel(label: string, problem: FieldProblem): string {
  const text = problemText(problem);
  if (text.startsWith(label)) return text;
  const [head = ''] = label.split(',');
  const said = problem.message.trim();
  const message = said.startsWith(`${head}: `) ? said.slice(head.length + 2) : said;
  return `${label}: ${message}${/[.!?]$/.test(message) ? '' : '.'}`;
}
