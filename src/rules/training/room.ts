import type { CaseInput, CaseVocabulary } from '../case/types.js';
import { buildCausalGraph } from '../diagnosis/causal-graph.js';
import { rankChecks } from '../diagnosis/checks.js';
import { collectConditions } from '../diagnosis/condition-book.js';
import { type Inference, infer } from '../diagnosis/infer.js';
import { type PreparedCase, prepareCase, type Reasoner } from '../diagnosis/prepare.js';
import { expectedSearchMinutes } from '../diagnosis/search-minutes.js';
import type { CheckResult, Diagnosis } from '../diagnosis/types.js';
import type { Diagnostician } from '../diagnostician.js';
import { keepLast } from '../keep-last.js';
import type { Judgements } from '../knowledge/judgement-schema.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Check } from '../knowledge/schema.js';
import type { Part } from '../knowledge/vocabulary.js';
import type { PosteriorSamples } from '../network/network.js';
import type { TrainingMaterial } from './load-training.js';

/** How a case stands: what the product believes of it and what it would look at next. */
export interface Standing {
  readonly input: CaseInput;
  readonly prepared: PreparedCase;
  readonly inference: Inference;
  /** Minutes of search still expected if no further check were made. */
  readonly searchMinutes: number;
  probability(cause: string): number;
  /** Causes by falling probability. */
  ranking(): readonly { readonly cause: string; readonly probability: number }[];
  /** Checks not yet made, most minutes saved per minute first; worked out when first asked for. */
  checks(): readonly CheckResult[];
  samples(): PosteriorSamples;
}

/** Where practice takes place: the product's own reasoning, opened up for dealing, answering and marking. */
export interface TrainingRoom {
  readonly reasoner: Reasoner;
  readonly vocabulary: CaseVocabulary;
  readonly material: TrainingMaterial;
  /** How a case stands; the last ones are remembered. */
  weigh(input: CaseInput): Promise<Standing>;
  /** The whole diagnosis, for ledgers and actions. */
  diagnose(input: CaseInput): Promise<Diagnosis>;
}

/** Posterior samples behind predicted answers: fewer than for a page, since many states are weighed. */
const SAMPLES = 600;
const SEED = 20_267;
/** Causes less likely than this do not count for the expected search, as in the ranking of checks. */
const LEAST_LIKELY = 0.002;
/** Standings kept: about two megabytes each. */
const KEPT = 40;
/** Whole diagnoses kept; they are larger and asked for less often. */
const KEPT_DIAGNOSES = 20;

/** Opens the training room on a loaded knowledge base. */
export function openTrainingRoom(
  diagnostician: Pick<Diagnostician, 'knowledge' | 'vocabulary' | 'diagnose'>,
  material: TrainingMaterial,
): TrainingRoom {
  const { knowledge } = diagnostician;
  const { book, judgements } = knowledge;
  const reasoner: Reasoner = {
    knowledge,
    graph: buildCausalGraph(book, judgements['marked-share'], judgements['before-trouble']),
    conditions: collectConditions(book),
  };
  const standings = keepLast<Standing>(KEPT);
  const diagnoses = keepLast<Diagnosis>(KEPT_DIAGNOSES);
  return {
    reasoner,
    vocabulary: diagnostician.vocabulary,
    material,
    weigh: (input) => standings(JSON.stringify(input), () => weighCase(reasoner, input)),
    diagnose: (input) => diagnoses(JSON.stringify(input), () => diagnostician.diagnose(input)),
  };
}

async function weighCase(reasoner: Reasoner, input: CaseInput): Promise<Standing> {
  // Many states are weighed in a row; whoever else waits for this thread gets his turn in between.
  await new Promise((resolve) => setImmediate(resolve));
  const prepared = await prepareCase(reasoner, input);
  const inference = infer(reasoner, prepared);
  const { book, judgements } = reasoner.knowledge;
  const { marginals } = inference.posterior;
  const probability = (cause: string) => marginals.get(cause) ?? 0;
  const likely = [...book.causes.values()].filter((cause) => probability(cause.id) > LEAST_LIKELY);
  let samples: PosteriorSamples | undefined;
  let checks: readonly CheckResult[] | undefined;
  const drawSamples = () => {
    samples ??= inference.posterior.sample(SAMPLES, SEED);
    return samples;
  };
  return {
    input,
    prepared,
    inference,
    searchMinutes: expectedSearchMinutes(
      likely.map((cause) => probability(cause.id)),
      likely.map((cause) => cause['trace-minutes']),
      judgements['search-hand-over'],
    ),
    probability,
    ranking: () =>
      [...book.causes.keys()]
        .map((cause) => ({ cause, probability: probability(cause) }))
        .sort((a, b) => b.probability - a.probability || a.cause.localeCompare(b.cause)),
    checks: () => {
      checks ??= rankChecks(reasoner, prepared, inference, drawSamples());
      return checks;
    },
    samples: drawSamples,
  };
}

/** The minutes a check counts for: work, what stands meanwhile, and a tenth of the waiting; as in the ranking of checks. */
export function checkMinutes(check: Check, judgements: Judgements): number {
  const standing =
    check.stops === 'position' || check.stops === 'section' || check.stops === 'frame'
      ? judgements[`stop-${check.stops}`]
      : 0;
  return check.minutes + standing + 0.1 * (check['waiting-minutes'] ?? 0);
}

/** A case with one more finding. */
export const withFinding = (input: CaseInput, check: string, outcome: string): CaseInput => ({
  ...input,
  findings: { ...input.findings, [check]: [outcome] },
});

/** A case with the answer of a check, a part's exchange included. */
export const withAnswer = (
  input: CaseInput,
  answer: { readonly check: string; readonly outcome: string; readonly part?: Part },
): CaseInput =>
  answer.part === undefined
    ? withFinding(input, answer.check, answer.outcome)
    : { ...input, partExchange: { ...input.partExchange, [answer.part]: answer.outcome } };

/** A case after a trial; where there was no sign to go away a trial tells nothing. */
export const withTrial = (
  input: CaseInput,
  outcome: {
    readonly actions: readonly string[];
    readonly signs: readonly { readonly before: string; readonly after: string }[];
  },
): CaseInput =>
  outcome.signs.length === 0
    ? input
    : {
        ...input,
        tried: [
          ...(input.tried ?? []),
          {
            actions: outcome.actions,
            result: outcome.signs.some((sign) => sign.before !== sign.after) ? 'helped' : 'no-change',
          },
        ],
      };

/** The label of a cause, or its id where there is none. */
export const causeLabel = (book: RuleBook, id: string): string => book.causes.get(id)?.label ?? id;
