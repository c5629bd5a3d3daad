import { readCaseObject } from '../../../rules/case/case-file.js';
import type { CaseInput, CaseVocabulary } from '../../../rules/case/types.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { Vignette } from '../../../rules/knowledge/load-vignettes.js';
import type { Cause } from '../../../rules/knowledge/schema.js';
import type { Expectation, Ranked } from '../../../rules/workshop/expectation.js';
import type { ExampleResult } from '../../../rules/workshop/run-examples.js';
import type { Verdict, VignetteResult } from '../../../rules/workshop/run-vignettes.js';
import type { WorkedCase, WorkedView } from '../../../templates/models.js';
import { stateOfCase, writeQuery } from '../../bench-state.js';
import { sayPercent } from '../../words.js';
import { viewGiven } from './given.js';
import { entryHref } from './kinds.js';
import { sayMoment } from './state.js';

const EXPECT_WORDS: Record<Expectation, string> = {
  first: 'must stand first',
  'first-three': 'must be among the first three',
  'below-2-percent': 'must stay below 2 %',
  undecided: 'must be left open, between 2 % and 50 %, with no cause ahead',
};

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
      name: example.name,
      ...viewCase(reading.ok ? reading.case : undefined, knowledge),
      expects: [{ href: '', text: `This cause ${EXPECT_WORDS[example.expect]}.` }],
      outcome:
        result === undefined
          ? undefined
          : {
              passed: result.passed,
              words:
                result.unreadable.length > 0
                  ? [`The case cannot be read: ${result.unreadable.join('; ')}.`]
                  : [`This cause is number ${result.rank} with ${sayPercent(result.probability)}.`],
              leading: viewLeading(result.leading, knowledge),
            },
    };
  });
  return worked(
    'examples',
    'Examples',
    entryHref('causes', cause.id),
    'Run the examples now',
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
    name: 'The case',
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
    'What must come out, and what does',
    entryHref('cases', vignette.id),
    'Run it now',
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
  return {
    id,
    title,
    button: ran.length > 0 ? 'Run again' : button,
    pageHref,
    summary:
      ran.length === 0
        ? ''
        : `${all ? (ran.length === 1 ? 'It comes out as it must' : `All ${ran.length} come out as they must`) : `${ran.length - passed} of ${ran.length} ${ran.length - passed === 1 ? 'comes' : 'come'} out otherwise`}. Run ${sayMoment(new Date())} on version ${knowledge.version}.`,
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
      text: `“${book.causes.get(cause)?.label ?? cause}” ${EXPECT_WORDS[is]}.`,
    })),
    ...(check === undefined
      ? []
      : [
          {
            href: entryHref('checks', check.id),
            text: `The check “${book.checks.get(check.id)?.label ?? check.id}” must be among the first three.`,
          },
        ]),
    ...(action === undefined
      ? []
      : [
          {
            href: entryHref('actions', action.id),
            text: `The action “${book.actions.get(action.id)?.label ?? action.id}” must be ${action.is === 'forbidden' ? 'forbidden' : 'among the first three'}.`,
          },
        ]),
  ];
}

function sayVerdict({ about, id, is, met, rank, probability }: Verdict, { book }: Knowledge): string {
  const entries = { cause: book.causes, check: book.checks, action: book.actions }[about];
  const label = `“${entries.get(id)?.label ?? id}”`;
  const mark = met ? '' : ', which it must not be';
  if (about === 'cause') return `${label} is number ${rank} with ${sayPercent(probability ?? 0)}${mark}.`;
  if (is === 'forbidden') return `${label} is ${met ? 'forbidden' : 'not forbidden, which it must be'}.`;
  return `${label} is ${rank === 0 ? 'not listed' : `number ${rank}`}${mark}.`;
}
