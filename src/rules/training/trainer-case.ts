import { z } from 'zod';
import { readCaseObject } from '../case/case-file.js';
import { readCaseText } from '../case/case-text.js';
import type { CaseInput, CaseProblem, CaseVocabulary } from '../case/types.js';
import { infer } from '../diagnosis/infer.js';
import { prepareCase } from '../diagnosis/prepare.js';
import type { CauseResult } from '../diagnosis/types.js';
import { idSchema } from '../knowledge/schema.js';
import type { Level } from '../knowledge/vocabulary.js';
import { TrainingError } from './errors.js';
import type { HiddenTruth } from './hidden-truth.js';
import { openGraph, sampleTruth } from './hidden-truth.js';
import { type IssueReader, issueProblems } from './issue-problems.js';
import type { PracticeCase } from './practice-case.js';
import type { TrainingRoom } from './room.js';
import { randomFor } from './seeded.js';

const answerKeySchema = z.strictObject({
  /** What is really the matter. */
  causes: z.array(idSchema).min(1).max(4),
  /** Answers that the trainer wants given, check → outcome; the rest follow from the network. */
  answers: z.record(idSchema, z.string()).optional(),
  notes: z.string().trim().min(1).optional(),
});

const KEY_FORM = ['causes: [twist-too-low], and if you like answers: {check: outcome} and notes'];
/** What may stand where in an answer key. */
const KEY_ISSUES: IssueReader = {
  allowedAt: ([field, key]) =>
    field === 'causes' && key === undefined
      ? ['1 to 4 causes']
      : field === 'causes'
        ? ['the id of a cause, as in peelpoint knowledge list causes']
        : KEY_FORM,
  unionAt: () => 'is not an answer key',
};

/** A trainer's own case: a case file with an answer key. */
export interface TrainerCase {
  readonly input: CaseInput;
  readonly causes: readonly string[];
  readonly answers: Readonly<Record<string, string>>;
  readonly notes?: string;
}

/** The key under which a case file holds its answer key. */
export const ANSWER_KEY = 'answer-key';

/**
 * Reads a case file with an `answer-key`.
 * @throws TrainingError with every problem, with lines
 */
export function readTrainerCase(
  text: string,
  room: Pick<TrainingRoom, 'reasoner' | 'vocabulary'>,
): TrainerCase {
  const read = readCaseText(text);
  if (!read.ok) throw new TrainingError('the case cannot be used', read.problems);
  if (typeof read.data !== 'object' || read.data === null || Array.isArray(read.data))
    throw new TrainingError('the case cannot be used', [
      { field: '', value: '', message: 'is not a case', allowed: ['a case file with an answer-key'] },
    ]);
  try {
    return readTrainerObject(read.data as Record<string, unknown>, room.vocabulary, room);
  } catch (error) {
    if (!(error instanceof TrainingError)) throw error;
    throw new TrainingError(
      error.message,
      error.problems.map((problem) => ({ ...problem, line: read.lineOf(problem.field.split('.')) })),
    );
  }
}

/** The same from data already parsed. @throws TrainingError with every problem */
export function readTrainerObject(
  data: Record<string, unknown>,
  vocabulary: CaseVocabulary,
  { reasoner }: Pick<TrainingRoom, 'reasoner'>,
): TrainerCase {
  const { [ANSWER_KEY]: key, ...rest } = data;
  const problems: CaseProblem[] = [];
  const parsed = answerKeySchema.safeParse(key);
  if (!parsed.success)
    for (const problem of issueProblems(parsed.error, key, KEY_ISSUES))
      problems.push({ ...problem, field: [ANSWER_KEY, problem.field].filter((one) => one !== '').join('.') });
  const { causes, checks } = reasoner.knowledge.book;
  for (const [n, cause] of (parsed.data?.causes ?? []).entries())
    if (!causes.has(cause))
      problems.push({
        field: `${ANSWER_KEY}.causes.${n}`,
        value: cause,
        message: 'is not a cause',
        allowed: ['the id of a cause, as in peelpoint knowledge list causes'],
      });
  for (const [check, outcome] of Object.entries(parsed.data?.answers ?? {})) {
    const known = Object.keys(checks.get(check)?.outcomes ?? {});
    if (!known.includes(outcome))
      problems.push({
        field: `${ANSWER_KEY}.answers.${check}`,
        value: outcome,
        message: known.length === 0 ? 'is not a check' : 'is not an answer of this check',
        allowed: known.length === 0 ? ['the id of a check'] : known,
      });
  }
  const reading = readCaseObject(rest, vocabulary);
  if (!reading.ok) problems.push(...reading.problems);
  if (!reading.ok || !parsed.success || problems.length > 0)
    throw new TrainingError('the case cannot be used', problems);
  const { answers = {}, notes } = parsed.data;
  return {
    input: reading.case,
    causes: parsed.data.causes,
    answers,
    ...(notes === undefined ? {} : { notes }),
  };
}

/**
 * Makes a trainer's case ready for practice: what the keyed causes bring about is drawn from the network given the
 * signs that the file states, so that the answers to checks fit both. The same file always gives the same answers.
 *
 * @param code what the case is called where it is kept; its title unless given
 */
export async function openTrainerCase(
  room: TrainingRoom,
  own: TrainerCase,
  code?: string,
): Promise<PracticeCase> {
  const { reasoner } = room;
  const prepared = await prepareCase(reasoner, own.input);
  const title = own.input.title ?? 'A case of the trainer’s own';
  return {
    code: code ?? title,
    title,
    input: own.input,
    truth: drawTruth(own),
    fixedAnswers: own.answers,
    ...(own.notes === undefined ? {} : { notes: own.notes }),
  };

  function drawTruth({ causes, input }: TrainerCase): HiddenTruth {
    const { graph, knowledge } = reasoner;
    const { items } = infer(reasoner, prepared);
    const evidence = new Map<string, boolean | (typeof items)[number]['nodes'][number][1]>(
      items.flatMap((item) => item.nodes),
    );
    for (const id of knowledge.book.causes.keys()) evidence.set(id, causes.includes(id));
    const open = openGraph(graph, prepared.cutLinks);
    const samples = graph.network
      .query(evidence, { strengths: prepared.cutLinks, targets: 'all', beyondLimit: 'sample' })
      .sample(1, 1);
    const drawn = sampleTruth(open, causes, randomFor('own', title));
    const columns = new Set(samples.ids);
    return {
      causes,
      mechanisms: open.mechanisms.filter((id) =>
        columns.has(id) ? samples.value(0, id) : drawn.mechanisms.includes(id),
      ),
      signs: Object.fromEntries(
        open.symptoms.map((id): [string, Level] => [id, input.observations[id] ?? 'absent']),
      ),
    };
  }
}

/** Whether an answer key agrees with the engine, and if not, both sides of it. */
export interface KeyVerdict {
  readonly agrees: boolean;
  /** For each keyed cause its place in the ranking (from 1) and its ledger, once every fixed answer is given. */
  readonly keyed: readonly { readonly rank: number; readonly cause: CauseResult }[];
  /** The cause that the engine puts first. */
  readonly first: CauseResult | undefined;
  readonly words: string;
}

/** A keyed cause agrees when it stands among as many first causes as are keyed, or is at least this likely. */
const LIKELY = 0.3;

/** Holds a trainer's answer key against the engine, the fixed answers entered as findings. */
export async function checkAnswerKey(room: TrainingRoom, own: TrainerCase): Promise<KeyVerdict> {
  const findings = {
    ...own.input.findings,
    ...Object.fromEntries(Object.entries(own.answers).map(([check, outcome]) => [check, [outcome]])),
  };
  const { causes } = await room.diagnose({ ...own.input, findings });
  const keyed = own.causes.flatMap((id) => {
    const at = causes.findIndex((cause) => cause.id === id);
    const cause = causes[at];
    return cause === undefined ? [] : [{ rank: at + 1, cause }];
  });
  const against = keyed.filter(({ rank, cause }) => rank > own.causes.length && cause.probability < LIKELY);
  const [first] = causes;
  const percent = (p: number) => `${Math.round(100 * p)} %`;
  return {
    agrees: against.length === 0,
    keyed,
    first,
    words:
      against.length === 0
        ? 'The key agrees with what the product makes of the case.'
        : `The product does not see it so: ${against
            .map(({ rank, cause }) => `“${cause.label}” is number ${rank} with ${percent(cause.probability)}`)
            .join(
              '; ',
            )}${first === undefined ? '' : `; “${first.label}” leads with ${percent(first.probability)}`}. Compare the two ledgers: either the case says too little, or the knowledge is wrong here.`,
  };
}
