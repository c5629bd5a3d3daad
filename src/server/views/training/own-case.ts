import { say } from '../../../language/say.js';
import type { CaseProblem } from '../../../rules/case/types.js';
import type { CauseResult } from '../../../rules/index.js';
import type { KeyVerdict } from '../../../rules/training/index.js';
import type { KeyVerdictView } from '../../../templates/course-models.js';
import type { OwnCasePage } from '../../../templates/training-models.js';
import { sayDecibans, sayPercent } from '../../words.js';

/** A trainer’s case with what the product makes of its key. */
export const viewOwnCase = (
  text: string,
  problems: readonly CaseProblem[],
  verdict: KeyVerdict | undefined,
): OwnCasePage => ({
  text,
  problems: viewProblems(problems),
  verdict: verdict === undefined ? undefined : viewVerdict(verdict),
});

/** What is wrong with a case file, line by line. */
export const viewProblems = (problems: readonly CaseProblem[]): OwnCasePage['problems'] =>
  problems.map((problem) => ({
    place: [problem.line === undefined ? '' : say('own-case.line', { n: problem.line }), problem.field]
      .filter((one) => one !== '')
      .join(', '),
    message: `${problem.message.charAt(0).toUpperCase()}${problem.message.slice(1)}`,
    value: problem.value,
    allowed: problem.allowed.length > 12 ? '' : problem.allowed.join('; '),
  }));

/** Whether a key agrees with the product, with both ledgers. */
export const viewVerdict = (verdict: KeyVerdict): KeyVerdictView => ({
  agrees: verdict.agrees,
  words: verdict.words,
  ledgers: ledgersOf(verdict).map(({ title, cause }) => ({
    title: say('own-case.ledger', { title, cause: cause.label, chance: sayPercent(cause.probability) }),
    rows: cause.ledger.map((entry) => ({
      label: entry.label,
      decibans: entry.kind === 'base' ? say('own-case.start') : sayDecibans(entry.decibans),
      after: sayPercent(entry.after),
    })),
  })),
});

function ledgersOf(verdict: KeyVerdict): { title: string; cause: CauseResult }[] {
  const keyed = verdict.keyed.map(({ cause, rank }) => ({
    title: say('own-case.your-key', { n: rank }),
    cause,
  }));
  const { first } = verdict;
  if (first === undefined || keyed.some(({ cause }) => cause.id === first.id)) return keyed;
  return [...keyed, { title: say('own-case.first'), cause: first }];
}
