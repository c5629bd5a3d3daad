import { say } from '../../language/say.js';
import { answerCheck, tryActions } from './answer.js';
import type { Attempt } from './attempt.js';
import { type MarkedAction, markAction } from './mark-actions.js';
import { type BetterCheck, describeBetter, type MarkedCheck, markCheck } from './mark-checks.js';
import { type MarkedProposal, markProposal } from './mark-proposal.js';
import { promisedByExchange } from './part-exchange.js';
import { joinAll, quote, sayWhole } from './plain-words.js';
import { bestCheck, type PolicyRun, runPolicy, searchFrom } from './policy.js';
import type { PracticeCase } from './practice-case.js';
import { causeLabel, type Standing, type TrainingRoom, withAnswer, withTrial } from './room.js';

/** Minutes of an attempt, or of the best policy on the same frame. */
export interface MinutesUsed {
  readonly checks: number;
  /** Until the true causes are come to afterwards. */
  readonly search: number;
  readonly total: number;
}

/** A marked attempt: what was done, what it was worth, and what to do differently. */
export interface Marking {
  readonly code: string;
  readonly title: string;
  readonly trainee?: string;
  readonly truth: readonly { readonly cause: string; readonly label: string; readonly what: string }[];
  readonly checks: readonly MarkedCheck[];
  readonly proposal: MarkedProposal;
  readonly actions: readonly MarkedAction[];
  readonly minutes: MinutesUsed & { readonly actions: number };
  /** The best policy on the same frame, from the same beginning. */
  readonly best: MinutesUsed & {
    readonly way: readonly { readonly label: string; readonly answer: string; readonly minutes: number }[];
  };
  /** What should have been looked at before closing, if anything was still worth it. */
  readonly stillOpen?: BetterCheck;
  readonly unsafe: readonly string[];
  /** Whether the case counts as passed: no unsafe step, and a true cause put first. */
  readonly passed: boolean;
  /** What to do differently, most important first. */
  readonly advice: readonly string[];
  readonly summary: string;
  readonly notes?: string;
}

/** Closing while a check would still gain this much counts as closing too early, minutes. Standing: judgement. */
const WORTH_ASKING = 5;
const MOST_ADVICE = 4;

/**
 * Marks an attempt on a dealt frame. Every step is judged on what could be known when it was made: the findings until
 * then, never the hidden truth. The same attempt is always marked the same.
 */
export async function markAttempt(
  room: TrainingRoom,
  dealt: PracticeCase,
  attempt: Attempt,
): Promise<Marking> {
  const { book } = room.reasoner.knowledge;
  const label = (id: string) => causeLabel(book, id);
  const checks: MarkedCheck[] = [];
  const actions: MarkedAction[] = [];
  const made = new Set<string>();
  const tried = new Set<string>();
  let standing = await room.weigh(dealt.input);
  let proposal: Readonly<Record<string, number>> = {};
  let proposedAt: Standing | undefined;
  let truth = dealt.truth;
  for (const move of attempt.moves) {
    if ('check' in move) {
      const answer = await answerCheck(room, dealt, move.check, move.part);
      const after = await room.weigh(withAnswer(standing.input, answer));
      const asked = `${move.check} ${move.part ?? ''}`;
      checks.push(
        markCheck(room, standing, after, answer, {
          standstill: move.standstill === true,
          again: made.has(asked),
          ...(move.part === undefined
            ? {}
            : { promised: await promisedByExchange(room, standing, move.part) }),
        }),
      );
      made.add(asked);
      standing = after;
    } else if ('propose' in move) {
      proposal = move.propose;
      proposedAt = standing;
    } else {
      const diagnosis = await room.diagnose(standing.input);
      const outcome = await tryActions(
        room,
        dealt,
        truth,
        move.act.map((id) => ({
          id,
          causes: diagnosis.actions.find((action) => action.id === id)?.causes ?? [],
        })),
      );
      actions.push(
        markAction(room, diagnosis, outcome, {
          on: move.on ?? 'trial',
          standstill: move.standstill === true,
          tried,
          scope: dealt.input.scope,
          causeLabel: label,
        }),
      );
      for (const id of move.act) tried.add(id);
      truth = outcome.truth;
      standing = await room.weigh(withTrial(standing.input, outcome));
    }
  }
  const closing = proposedAt ?? standing;
  const marked = markProposal(room, closing, proposal, dealt.truth.causes);
  const run = await runPolicy(room, dealt, 'best');
  const open = bestCheck(room, closing);
  const stillOpen =
    open !== undefined && open.gain >= WORTH_ASKING ? describeBetter(room, closing, open) : undefined;
  const checkTime = checks.reduce((sum, check) => sum + check.minutes, 0);
  const unsafe = [...checks.flatMap((check) => check.unsafe ?? []), ...actions.flatMap((one) => one.unsafe)];
  const first = marked.entries[0];
  const minutes = {
    checks: checkTime,
    search: marked.searchMinutes,
    total: checkTime + marked.searchMinutes,
    actions: actions.reduce((sum, one) => sum + one.minutes, 0),
  };
  return {
    code: dealt.code,
    title: dealt.title,
    ...(attempt.trainee === undefined ? {} : { trainee: attempt.trainee }),
    truth: dealt.truth.causes.map((cause) => ({
      cause,
      label: label(cause),
      what: book.causes.get(cause)?.what ?? '',
    })),
    checks,
    proposal: marked,
    actions,
    minutes,
    best: describeRun(room, run),
    ...(stillOpen === undefined ? {} : { stillOpen }),
    unsafe,
    passed: unsafe.length === 0 && first?.right === true,
    advice: giveAdvice({ checks, marked, actions, unsafe, stillOpen }),
    summary: summarise(minutes, run, first, unsafe.length, searchFrom(room, closing, dealt.truth.causes)),
    ...(dealt.notes === undefined ? {} : { notes: dealt.notes }),
  };
}

function describeRun(room: TrainingRoom, run: PolicyRun): Marking['best'] {
  const { book } = room.reasoner.knowledge;
  return {
    checks: run.checkMinutes,
    search: run.searchMinutes,
    total: run.total,
    way: run.checks.map((one) => {
      const check = book.checks.get(one.check);
      return {
        label: check?.label ?? one.check,
        answer: check?.outcomes[one.outcome]?.label ?? one.outcome,
        minutes: one.minutes,
      };
    }),
  };
}

function summarise(
  minutes: MinutesUsed,
  run: PolicyRun,
  first: MarkedProposal['entries'][number] | undefined,
  unsafe: number,
  couldSearch: number,
): string {
  const found =
    first === undefined
      ? say('judged.no-cause')
      : first.right
        ? say('judged.first-right', { cause: first.label })
        : say('judged.first-wrong', { cause: first.label });
  const time = say('judged.time', {
    checks: sayWhole(minutes.checks),
    search: sayWhole(minutes.search),
    bestChecks: sayWhole(run.checkMinutes),
    bestSearch: sayWhole(run.searchMinutes),
  });
  const order =
    couldSearch + 10 < minutes.search ? say('judged.better-list', { time: sayWhole(couldSearch) }) : '';
  const safety = unsafe === 0 ? say('judged.no-unsafe') : say('judged.unsafe', { n: unsafe });
  return [found, time, order, safety].filter((part) => part !== '').join(' ');
}

/** What to do differently, in plain words, most important first. */
function giveAdvice(of: {
  readonly checks: readonly MarkedCheck[];
  readonly marked: MarkedProposal;
  readonly actions: readonly MarkedAction[];
  readonly unsafe: readonly string[];
  readonly stillOpen: BetterCheck | undefined;
}): string[] {
  const advice: string[] = [...new Set(of.unsafe)].slice(0, 2);
  const dearest = of.checks.filter((check) => check.better !== undefined).sort((a, b) => b.lost - a.lost)[0];
  if (dearest?.better !== undefined)
    advice.push(
      say('judged.ask-first', {
        check: dearest.label,
        better: dearest.better.label,
        why: dearest.better.why,
      }),
    );
  const idle = of.checks.filter((check) => check.verdict === 'idle' && check.told < 1);
  if (idle.length > 0)
    advice.push(
      say('judged.leave-out', {
        checks: idle.map((check) => quote(check.label)).join(', '),
        time: sayWhole(idle.reduce((sum, check) => sum + check.minutes, 0)),
      }),
    );
  const needless = of.checks.filter((check) => check.verdict === 'dear' && check.better === undefined);
  if (needless.length > 0)
    advice.push(
      say('judged.needless', {
        checks: needless
          .map((check) =>
            say('judged.needless-check', {
              check: check.label,
              minutes: sayWhole(check.minutes),
              promised: sayWhole(check.promised),
            }),
          )
          .join(', '),
      }),
    );
  if (of.stillOpen !== undefined)
    advice.push(say('judged.too-early', { check: of.stillOpen.label, why: of.stillOpen.why }));
  const surest = of.marked.entries.find((entry) => entry.confidence - entry.warranted > 0.25);
  if (surest !== undefined)
    advice.push(
      say('judged.surest', {
        cause: surest.label,
        said: Math.round(100 * surest.confidence),
        allowed:
          surest.warranted < 0.01 ? say('judged.under-one') : String(Math.round(100 * surest.warranted)),
      }),
    );
  const action = of.actions.find((one) => one.better !== undefined);
  if (action?.better !== undefined)
    advice.push(
      say('judged.better-action', {
        action: action.better.label,
        chance: Math.round(100 * action.better.cures),
        tried: joinAll(action.actions.map((one) => one.label)),
      }),
    );
  if (of.marked.entries.length === 0) advice.push(say('judged.put-forward'));
  return advice.length === 0 ? [say('judged.nothing-else')] : advice.slice(0, MOST_ADVICE);
}
