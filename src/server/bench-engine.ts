import type { CaseInput } from '../rules/case/types.js';
import type { Diagnostician } from '../rules/diagnostician.js';
import type { CauseResult, Diagnosis } from '../rules/index.js';
import { type CurveSetting, type ResponseCurve, responseCurve } from '../rules/plans/response.js';
import { type WhatIf, whatIf } from '../rules/plans/what-if.js';
import type { SpinningSetup } from '../spinning/setup.js';
import type { NextView } from '../templates/models.js';
import { type AnswerInBrief, briefAnswer } from './views/brief-answer.js';
import { viewNext } from './views/next.js';

/** What the bench page shows of a case. */
export interface BenchAnswer {
  readonly answer: AnswerInBrief;
  readonly next: NextView;
}

/** One cause in full, and what the page about it needs of the rest. */
export interface CauseInCase {
  readonly cause: CauseResult;
  readonly around: CauseSurroundings;
}

/** Of all causes the chance, of checks and actions those that are for the cause. */
export interface CauseSurroundings extends Pick<Diagnosis, 'checks' | 'actions'> {
  readonly causes: readonly Pick<CauseResult, 'id' | 'probability'>[];
}

/** A setting tried on paper. */
export interface PaperTrial {
  /** New values in the model's units. */
  readonly changes: Partial<SpinningSetup>;
  /** The quantity and the setting it is followed along. */
  readonly quantity: string;
  readonly along: CurveSetting;
  /** Whether something is complained of, so that causes are to be ranked. */
  readonly withCauses: boolean;
}

/** What came of it. */
export interface PaperResult {
  readonly moved: WhatIf;
  readonly curve: ResponseCurve;
  readonly causes?: {
    readonly before: readonly CauseChance[];
    readonly after: readonly CauseChance[];
  };
}

export type CauseChance = Pick<CauseResult, 'id' | 'label' | 'probability'>;

/**
 * What the pages of the bench ask. A whole diagnosis is half a megabyte, of which a page shows a fiftieth: only that
 * leaves the thread that reasons.
 */
export interface BenchEngine {
  /** What is probably wrong; quick. */
  answer(input: CaseInput): Promise<AnswerInBrief>;
  /** What to look at and what to do. @param later checks that were put off */
  next(input: CaseInput, later: readonly string[]): Promise<NextView>;
  /** Both. */
  whole(input: CaseInput, later: readonly string[]): Promise<BenchAnswer>;
  /** @param id a cause; one that the knowledge base has not is answered undefined */
  cause(input: CaseInput, id: string): Promise<CauseInCase | undefined>;
  /** What would be with some settings changed, and how a quantity answers to one of them. */
  onPaper(input: CaseInput, trial: PaperTrial): Promise<PaperResult>;
}

/** The questions of the bench, answered by a diagnostician. Texts are those of the language of the caller. */
export function openBench(diagnostician: Diagnostician): BenchEngine {
  return {
    answer: async (input) => briefAnswer(await diagnostician.rank(input)),
    next: async (input, later) =>
      viewNext(await diagnostician.diagnose(input), later, diagnostician.knowledge.book),
    async whole(input, later) {
      const diagnosis = await diagnostician.diagnose(input);
      return {
        answer: briefAnswer(diagnosis),
        next: viewNext(diagnosis, later, diagnostician.knowledge.book),
      };
    },
    async cause(input, id) {
      const { causes, checks, actions } = await diagnostician.diagnose(input);
      const cause = causes.find((one) => one.id === id);
      if (cause === undefined) return undefined;
      return {
        cause,
        around: {
          causes: causes.map(({ id: other, probability }) => ({ id: other, probability })),
          checks: checks.filter((check) => cause.checks.includes(check.id)),
          actions: actions.filter((action) => cause.actions.includes(action.id)),
        },
      };
    },
    async onPaper(input, { changes, quantity, along, withCauses }) {
      const { knowledge } = diagnostician;
      const moved = whatIf(knowledge, input, changes);
      const then = moved.changed.length === 0 ? input : moved.case;
      return {
        moved,
        // The curve is that of the tried setup, so that the next step can be read from it.
        curve: responseCurve(knowledge, then, quantity, along),
        ...(withCauses
          ? {
              causes: {
                before: await chances(diagnostician, input),
                after: await chances(diagnostician, then),
              },
            }
          : {}),
      };
    },
  };
}

async function chances(diagnostician: Diagnostician, input: CaseInput): Promise<CauseChance[]> {
  const { causes } = await diagnostician.rank(input);
  return causes.map(({ id, label, probability }) => ({ id, label, probability }));
}
