import { z } from 'zod';
import type { AttemptRecord } from './course.js';
import type { Marking } from './marking.js';

const number = z.number();

/** What a course keeps of a marked attempt: enough for progress, confusions and the report in words. */
export const attemptResultSchema = z.object({
  code: z.string(),
  title: z.string(),
  truth: z.array(z.string()),
  /** Causes put forward, surest first. */
  proposed: z.array(z.object({ cause: z.string(), confidence: number })),
  minutes: number,
  bestMinutes: number,
  /** Minutes of checks alone, and how many were asked for. */
  checkMinutes: number,
  checks: number,
  brier: number,
  log: number,
  /** The Brier score that the findings warranted. */
  warrantedBrier: number,
  /** What the findings warranted for the first cause put forward, 0–1; null when none was. */
  warranted: number.nullable(),
  unsafe: z.array(z.string()),
  passed: z.boolean(),
  /** The check that lost most minutes against the best one then. */
  dearest: z.object({ asked: z.string(), better: z.string(), lost: number }).nullable(),
  /** Checks that could be known to tell nothing. */
  idle: z.array(z.string()),
  idleMinutes: number,
  /** The check that was still worth it at the end; empty when none was. */
  stillOpen: z.string(),
  advice: z.array(z.string()),
  summary: z.string(),
});
export type AttemptResult = z.output<typeof attemptResultSchema>;

/** What a course keeps of a marking. */
export function resultOf(marking: Marking): AttemptResult {
  const dearest = marking.checks
    .filter((check) => check.better !== undefined)
    .sort((a, b) => b.lost - a.lost)[0];
  const idle = marking.checks.filter((check) => check.verdict === 'idle' && check.told < 1);
  return {
    code: marking.code,
    title: marking.title,
    truth: marking.truth.map((one) => one.cause),
    proposed: marking.proposal.entries.map(({ cause, confidence }) => ({ cause, confidence })),
    minutes: marking.minutes.total,
    bestMinutes: marking.best.total,
    checkMinutes: marking.minutes.checks,
    checks: marking.checks.length,
    brier: marking.proposal.brier,
    log: marking.proposal.log,
    warrantedBrier: marking.proposal.warrantedBrier,
    warranted: marking.proposal.entries[0]?.warranted ?? null,
    unsafe: [...marking.unsafe],
    passed: marking.passed,
    dearest:
      dearest?.better === undefined
        ? null
        : { asked: dearest.label, better: dearest.better.label, lost: dearest.lost },
    idle: idle.map((check) => check.label),
    idleMinutes: idle.reduce((sum, check) => sum + check.minutes, 0),
    stillOpen: marking.stillOpen?.label ?? '',
    advice: [...marking.advice],
    summary: marking.summary,
  };
}

/** The same as the arithmetic of a course takes it; `item` is the part of the course. */
export const recordOf = (
  result: AttemptResult,
  of: { readonly trainee: string; readonly item: string; readonly at: string },
): AttemptRecord => ({
  trainee: of.trainee,
  code: of.item,
  at: of.at,
  truth: result.truth,
  proposed: result.proposed,
  minutes: result.minutes,
  bestMinutes: result.bestMinutes,
  brier: result.brier,
  unsafe: result.unsafe.length,
  passed: result.passed,
});

/** What a course keeps of a lesson's questions. */
export const lessonResultSchema = z.object({
  lesson: z.string(),
  title: z.string(),
  right: number,
  of: number,
  /** Answers given, by question, from 0; −1 for none. */
  answers: z.array(number),
});
export type LessonResult = z.output<typeof lessonResultSchema>;
