import { say } from '../../language/say.js';
import { adjustPValues } from '../adjustment.js';
import type { RankedRate } from '../many-rates.js';
import type { NormComparison } from '../rate-norm.js';
import type { Places } from './places.js';
import type { DayPattern, Question, TimeCourse } from './types.js';

/** Differences smaller than these are passed over, however sure: not worth a walk. Judgement. */
export const WORTHWHILE = { norm: 1.1, frames: 1.2, time: 1.2, day: 1.2 } as const;

/** Chance of a false "this is real" over all questions together. */
const REAL = 0.05;
const OWN = 0.05;

/** What the questions are answered from. */
export interface Findings {
  readonly places: Places;
  readonly frames: readonly RankedRate[];
  readonly norm: NormComparison | undefined;
  readonly time: TimeCourse | undefined;
  readonly day: DayPattern | undefined;
}

/**
 * The questions that the table could be asked, each with its chance if nothing is the matter, and corrected for all of them
 * (Holm), so that asking much does not make something out of nothing.
 */
export function askQuestions(findings: Findings): Question[] {
  const { places, frames, norm, time, day } = findings;
  const asked: Omit<Question, 'adjustedP' | 'status'>[] = [];
  const own = new Set<Question['id']>();
  const ask = (id: Question['id'], label: string, p: number, stands: boolean) => {
    asked.push({ id, label, p });
    if (stands) own.add(id);
  };
  if (norm !== undefined) {
    const p = norm.ratio >= WORTHWHILE.norm ? Math.min(1, 2 * norm.test.midP.high) : 1;
    ask('norm', say('count-figure.q-norm'), p, p <= OWN);
  }
  if (places.frames.length > 0) {
    const flagged = places.frames.some((frame) => frame.flagged.length > 0);
    ask('positions', say('count-figure.q-positions'), places.positionP, flagged);
    ask('sections', say('count-figure.q-sections'), places.sectionP, places.sectionP < 1);
  }
  if (frames.length > 1) {
    const above = frames.filter((one) => one.ratioToRest >= WORTHWHILE.frames).map((one) => one.adjustedP);
    const p = Math.min(1, ...above);
    ask('frames', say('count-figure.q-frames'), p, p <= OWN);
  }
  if (time !== undefined)
    ask('time', say('count-figure.q-time'), time.p, time.onset !== undefined || time.improving);
  if (day !== undefined) {
    const p = day.worstRatio >= WORTHWHILE.day ? day.p : 1;
    ask('day', say('count-figure.q-day', { by: day.by }), p, p <= OWN);
  }
  const adjusted = adjustPValues(
    asked.map((one) => one.p),
    'holm',
  );
  return asked.map((one, index) => {
    const adjustedP = adjusted[index] ?? 1;
    const status = !own.has(one.id) ? 'none' : adjustedP <= REAL ? 'shown' : 'hinted';
    return { ...one, adjustedP, status };
  });
}

/** Whether a question was answered with yes, surely or perhaps. */
export function stands(questions: readonly Question[], id: Question['id']): boolean {
  return questions.some((question) => question.id === id && question.status !== 'none');
}
