import { z } from 'zod';
import { readCaseText } from '../case/case-text.js';
import { nearestWord } from '../case/nearest-word.js';
import type { CaseProblem } from '../case/types.js';
import { idSchema } from '../knowledge/schema.js';
import { PARTS } from '../knowledge/vocabulary.js';
import { dealCase } from './deal.js';
import { TrainingError } from './errors.js';
import { type IssueReader, issueProblems } from './issue-problems.js';
import { PART_EXCHANGE } from './part-exchange.js';
import type { PracticeCase } from './practice-case.js';
import { readPracticeCode } from './practice-code.js';
import type { TrainingRoom } from './room.js';
import { openTrainerCase, readTrainerObject } from './trainer-case.js';

/** Where an action is first tried. */
export const EXTENTS = ['trial', 'everywhere'] as const;
export type Extent = (typeof EXTENTS)[number];

/** A confidence: percent as a number or as `70 %`; kept as 0–1. */
const confidenceSchema = z
  .union([z.number(), z.string().regex(/^\s*\d{1,3}(\.\d+)?\s*%\s*$/, 'must be a percentage such as 70 %')])
  .transform((value) => Number(typeof value === 'string' ? value.replace('%', '').trim() : value))
  .refine((percent) => percent >= 0 && percent <= 100, { message: 'must lie between 0 and 100 %' })
  .transform((percent) => percent / 100);

const moveSchema = z.union([
  z.strictObject({
    check: idSchema,
    /** For `part-exchange`: the part that is tried in place of another. */
    part: z.enum(PARTS).optional(),
    /** The trainee made sure that everything stood still before opening. */
    standstill: z.boolean().optional(),
  }),
  z.strictObject({ propose: z.record(idSchema, confidenceSchema) }),
  z.strictObject({
    act: z.array(idSchema).min(1).max(5),
    on: z.enum(EXTENTS).optional(),
    standstill: z.boolean().optional(),
  }),
]);
/** One step of a trainee: a check made, causes proposed with confidence, or actions tried (several: at once). */
export type Move = z.infer<typeof moveSchema>;

const attemptSchema = z.strictObject({
  /** A number such as `2-7`, or a trainer's own case. */
  case: z.union([z.string(), z.record(z.string(), z.unknown())]),
  trainee: z.string().trim().max(100).optional(),
  moves: z.array(moveSchema).max(60),
});

/** What a trainee did on one case, in order. */
export interface Attempt {
  readonly trainee?: string;
  readonly moves: readonly Move[];
}

/** A file or a form with an attempt, read and held against the knowledge base. */
export interface ReadAttempt {
  readonly dealt: PracticeCase;
  readonly attempt: Attempt;
}

/**
 * Reads an attempt file (YAML or JSON) and deals its case.
 * @throws TrainingError with every problem: field, value, what is allowed, line
 */
export async function readAttempt(room: TrainingRoom, text: string): Promise<ReadAttempt> {
  const read = readCaseText(text);
  if (!read.ok) throw new TrainingError('the attempt cannot be used', read.problems);
  const result = attemptSchema.safeParse(read.data);
  if (!result.success)
    throw new TrainingError(
      'the attempt cannot be used',
      issueProblems(result.error, read.data ?? {}, ATTEMPT_ISSUES).map((problem) => ({
        ...problem,
        line: read.lineOf(problem.field.split('.')),
      })),
    );
  const { case: which, trainee, moves } = result.data;
  const problems = checkMoves(room, moves).map((problem) => ({
    ...problem,
    line: read.lineOf(problem.field.split('.')),
  }));
  if (problems.length > 0) throw new TrainingError('the attempt cannot be used', problems);
  return {
    dealt: await openCase(room, which),
    attempt: { ...(trainee === undefined ? {} : { trainee }), moves },
  };
}

const CONFIDENCE = '0 to 100 %, for example 70 %';
/** What tells the forms of a move apart, in the order of its schema. */
const MOVE_KINDS = ['check', 'propose', 'act'] as const;
const MOVE_FORMS = [
  '{check: groove-look, standstill: true}',
  '{check: part-exchange, part: rotor, standstill: true}',
  '{propose: {twist-too-low: 70 %}}',
  '{act: [raise-twist], on: trial}',
] as const;

const CASE_FORMS = ['the number of a practice case, such as 2-7', 'a case of your own with its answer-key'];
const ID_FORM = ['an id: lower-case words joined by hyphens, as in peelpoint knowledge list'];

/** What may stand where in an attempt, for telling what is wrong with one. */
const ATTEMPT_ISSUES: IssueReader = {
  allowedAt([head, n, field, key]) {
    if (head === 'case') return CASE_FORMS;
    if (head === 'trainee') return ['a name, as text'];
    if (head !== 'moves') return ['case, moves and, if you like, trainee'];
    if (n === undefined) return ['a list of moves', ...MOVE_FORMS];
    if (field === 'standstill') return ['true or false'];
    if (field === 'propose') return [key === undefined ? MOVE_FORMS[2] : CONFIDENCE];
    if (field === 'act' && key === undefined) return ['1 to 5 actions'];
    return field === undefined ? MOVE_FORMS : ID_FORM;
  },
  formOf(value, [head, n, field]) {
    if (head !== 'moves' || n === undefined || field !== undefined) return undefined;
    if (typeof value !== 'object' || value === null) return undefined;
    const form = MOVE_KINDS.findIndex((kind) => Object.hasOwn(value, kind));
    return form < 0 ? undefined : form;
  },
  unionAt([head, , field]) {
    if (head === 'case') return 'is neither the number of a practice case nor a case';
    return field === undefined ? 'is not one of the forms a move may have' : 'must be a percentage';
  },
};

async function openCase(room: TrainingRoom, which: string | Record<string, unknown>): Promise<PracticeCase> {
  if (typeof which !== 'string')
    return openTrainerCase(room, readTrainerObject(which, room.vocabulary, room));
  const number = readPracticeCode(which);
  if (number === undefined)
    throw new TrainingError('the attempt cannot be used', [
      {
        field: 'case',
        value: which,
        message: 'is not the number of a practice case',
        allowed: ['level and seed with a hyphen between, for example 2-7'],
      },
    ]);
  return dealCase(room, number);
}

/** Ids in moves that the knowledge base does not have, and confidences that cannot stand together. */
export function checkMoves(room: TrainingRoom, moves: readonly Move[]): CaseProblem[] {
  const { causes, checks, actions } = room.reasoner.knowledge.book;
  const problems: CaseProblem[] = [];
  const look = (field: string, id: string, known: ReadonlyMap<string, unknown>, what: string) => {
    if (known.has(id)) return;
    const meant = nearestWord(id, known.keys());
    problems.push({
      field,
      value: id,
      message: `is not ${what}${meant === undefined ? '' : `; did you mean "${meant}"?`}`,
      allowed: [`the id of ${what}, as in peelpoint knowledge list`],
    });
  };
  moves.forEach((move, n) => {
    if ('check' in move) {
      look(`moves.${n}.check`, move.check, checks, 'a check');
      if ((move.check === PART_EXCHANGE) !== (move.part !== undefined))
        problems.push({
          field: `moves.${n}.part`,
          value: move.part ?? '',
          message: move.part === undefined ? 'is missing' : 'belongs to the check part-exchange alone',
          allowed: move.part === undefined ? PARTS : [],
        });
    } else if ('propose' in move)
      for (const cause of Object.keys(move.propose))
        look(`moves.${n}.propose.${cause}`, cause, causes, 'a cause');
    else
      for (const [i, action] of move.act.entries()) look(`moves.${n}.act.${i}`, action, actions, 'an action');
  });
  return problems;
}
