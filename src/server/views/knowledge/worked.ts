import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import { readCaseObject } from '../../../rules/case/case-file.js';
import type { CaseInput, CaseVocabulary } from '../../../rules/case/types.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import type { Cause } from '../../../rules/knowledge/schema.js';
import type { Ranked } from '../../../rules/workshop/expectation.js';
import type { ExampleResult } from '../../../rules/workshop/run-examples.js';
import type { Verdict, VignetteResult } from '../../../rules/workshop/run-vignettes.js';
import type { WorkedCase, WorkedView } from '../../../templates/models.js';
import { stateOfCase, writeQuery } from '../../bench-state.js';
import { sayPercent } from '../../words.js';
import { viewGiven } from './given.js';
import { entryHref } from './kinds.js';
import { sayMoment } from './state.js';

/** The examples of a cause, with how they came out once they have been run. */
export function viewExamples(
  cause: Cause,
  knowledge: Knowledge,
  vocabulary: CaseVocabulary,
  results: readonly ExampleResult[] | undefined,
): WorkedView {
  const cases = (cause.examples ?? []).map((example, i): WorkedCase => {
    const reading = readCaseObject(example.given, vocabulary, { partial: true });
    const result = results?.[i];
    return {
      name: sourceText(example.name),
      ...viewCase(reading.ok ? reading.case : undefined, knowledge),
      expects: [{ href: '', text: say(`worked.this-${example.expect}`) }],
      outcome:
        result === undefined
          ? undefined
          : {
              passed: result.passed,
              words:
                result.unreadable.length > 0
                  ? [say('worked.unreadable', { what: sourceText(result.unreadable.join('; ')) })]
                  : [
                      say('worked.this-is', {
                        rank: result.rank,
                        percent: sayPercent(result.probability),
                      }),
                    ],
              leading: viewLeading(result.leading, knowledge),
            },
    };
  });
  return worked(
    'examples',
    say('worked.examples'),
    entryHref('causes', cause.id),
    say('worked.run-examples'),
    cases,
    knowledge,
  );
}

/** A situation as a worked case, with how it came out once it has been run. */
export function viewSituation(
  vignette: Vignette,
  knowledge: Knowledge,
  result: VignetteResult | undefined,
): WorkedView {
  const one: WorkedCase = {
    name: say('worked.the-case'),
    ...viewCase(vignette.case, knowledge),
    expects: expectations(vignette, knowledge),
    outcome:
      result === undefined
        ? undefined
        : {
            passed: result.passed,
            words: result.verdicts.map((verdict) => sayVerdict(verdict, knowledge)),
            leading: viewLeading(result.leading, knowledge),
          },
  };
  return worked(
    'result',
    say('worked.result'),
    entryHref('cases', vignette.id),
    say('worked.run-it'),
    [one],
    knowledge,
  );
}

function worked(
  id: string,
  title: string,
  pageHref: string,
  button: string,
  cases: readonly WorkedCase[],
  knowledge: Knowledge,
): WorkedView {
  const ran = cases.flatMap(({ outcome }) => (outcome === undefined ? [] : [outcome]));
  const passed = ran.filter((one) => one.passed).length;
  const all = passed === ran.length;
  const when = sayMoment(new Date());
  const { version } = knowledge;
  return {
    id,
    title,
    button: ran.length > 0 ? say('worked.run-again') : button,
    pageHref,
    summary:
      ran.length === 0
        ? ''
        : all
          ? say('worked.all-as-must', { n: ran.length, when, version })
          : say('worked.otherwise', { n: ran.length - passed, total: ran.length, when, version }),
    passed: all,
    cases,
  };
}

function viewCase(input: CaseInput | undefined, { book }: Knowledge): Pick<WorkedCase, 'given' | 'openHref'> {
  if (input === undefined) return { given: [], openHref: '' };
  return { given: viewGiven(input, book), openHref: `/bench${writeQuery(stateOfCase(input))}` };
}

function viewLeading(leading: readonly Ranked[], { book }: Knowledge) {
  return leading.map(({ id, probability }) => ({
    href: entryHref('causes', id),
    label: book.causes.get(id)?.label ?? id,
    percent: sayPercent(probability),
    probability,
  }));
}

function expectations(vignette: Vignette, { book }: Knowledge): WorkedCase['expects'] {
  const { expect, check, action } = vignette;
  return [
    ...expect.map(({ cause, is }) => ({
      href: entryHref('causes', cause),
      text: say(`worked.of-${is}`, { cause: book.causes.get(cause)?.label ?? cause }),
    })),
    ...(check === undefined
      ? []
      : [
          {
            href: entryHref('checks', check.id),
            text: say('worked.check-first-three', { check: book.checks.get(check.id)?.label ?? check.id }),
          },
        ]),
    ...(action === undefined
      ? []
      : [
          {
            href: entryHref('actions', action.id),
            text: say(action.is === 'forbidden' ? 'worked.action-forbidden' : 'worked.action-first-three', {
              action: book.actions.get(action.id)?.label ?? action.id,
            }),
          },
        ]),
  ];
}

function sayVerdict({ about, id, is, met, rank, probability }: Verdict, { book }: Knowledge): string {
  const entries = { cause: book.causes, check: book.checks, action: book.actions }[about];
  const label = entries.get(id)?.label ?? id;
  if (about === 'cause') {
    const percent = sayPercent(probability ?? 0);
    return say(met ? 'worked.cause-is' : 'worked.cause-is-not', { label, rank, percent });
  }
  if (is === 'forbidden') return say(met ? 'worked.forbidden' : 'worked.forbidden-not', { label });
  if (rank === 0) return say(met ? 'worked.not-listed' : 'worked.not-listed-not', { label });
  return say(met ? 'worked.is-number' : 'worked.is-number-not', { label, rank });
}
