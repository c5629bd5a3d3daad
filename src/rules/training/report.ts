import { say } from '../../language/say.js';
import type { AttemptResult } from './attempt-result.js';
import { type AttemptRecord, confusionTable } from './course.js';
import { quote, sayPercent, sayTenth, sayWhole } from './plain-words.js';
import type { TellingCheck } from './tell-apart.js';

/** What a trainee's attempts say of how he or she works, in plain words. */
export interface TraineeReport {
  readonly summary: string;
  /** What to do differently, most important first. */
  readonly different: readonly string[];
  /** What goes well already. */
  readonly well: readonly string[];
}

export interface ReportedAttempt {
  readonly record: AttemptRecord;
  readonly result: AttemptResult;
}

/** So much over the best way counts as slow. Standing: judgement. */
const SLOW = 1.5;
/** Stated and warranted confidence differ noticeably from here on, on average. Standing: judgement. */
const OFF = 0.15;
const MOST = 6;

const times = (ratio: number) => (ratio >= 3 ? String(Math.round(ratio)) : sayTenth(ratio));
const cases = (n: number) => say('trainee-report.cases', { n });
const mean = (values: readonly number[]) =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

/**
 * Sums up a trainee's attempts: what to do differently comes from what recurs, not from a single slip.
 *
 * @param attempts the last attempt at each case
 * @param label the name of a cause
 * @param tellApart the check that tells two causes apart, if one does
 */
export function reportTrainee(
  attempts: readonly ReportedAttempt[],
  label: (cause: string) => string,
  tellApart: (one: string, other: string) => TellingCheck | undefined,
): TraineeReport {
  if (attempts.length === 0) return { summary: say('trainee-report.none-closed'), different: [], well: [] };
  const results = attempts.map((one) => one.result);
  const passed = results.filter((one) => one.passed).length;
  const right = results.filter((one) => one.truth.includes(one.proposed[0]?.cause ?? '')).length;
  const minutes = results.reduce((sum, one) => sum + one.minutes, 0);
  const best = results.reduce((sum, one) => sum + one.bestMinutes, 0);
  const ratio = minutes / Math.max(1, best);
  const different = [
    ...saySafety(results),
    ...sayMixUps(attempts, label, tellApart),
    ...sayChecks(results),
    ...sayConfidence(results),
  ].slice(0, MOST);
  const well: string[] = [];
  if (results.every((one) => one.unsafe.length === 0)) well.push(say('trainee-report.safe'));
  if (right === results.length) well.push(say('trainee-report.right'));
  if (ratio <= 1.2) well.push(say('trainee-report.near-best'));
  if (results.length > 1 && results.every((one) => one.idle.length === 0))
    well.push(say('trainee-report.no-idle'));
  return {
    summary: say('trainee-report.summary', {
      cases: cases(results.length),
      passed,
      right,
      of: results.length,
      minutes: sayWhole(minutes),
      best: sayWhole(best),
      slow: ratio >= SLOW ? 'yes' : 'no',
      times: times(ratio),
    }),
    different: different.length === 0 ? [say('trainee-report.nothing-recurs')] : different,
    well,
  };
}

function saySafety(results: readonly AttemptResult[]): string[] {
  const unsafe = results.filter((one) => one.unsafe.length > 0);
  if (unsafe.length === 0) return [];
  const counted = new Map<string, number>();
  for (const sentence of unsafe.flatMap((one) => one.unsafe))
    counted.set(sentence, (counted.get(sentence) ?? 0) + 1);
  const [first = ''] = [...counted].sort((a, b) => b[1] - a[1]).map(([sentence]) => sentence);
  return [say('trainee-report.safety-first', { cases: cases(unsafe.length), first })];
}

function sayMixUps(
  attempts: readonly ReportedAttempt[],
  label: (cause: string) => string,
  tellApart: (one: string, other: string) => TellingCheck | undefined,
): string[] {
  return confusionTable(attempts.map((one) => one.record))
    .mixUps.slice(0, 2)
    .map(({ truth, taken, count }) => {
      const telling = tellApart(truth, taken);
      const mixedUp = say('trainee-report.mixed-up', { truth: label(truth), taken: label(taken), n: count });
      return telling === undefined
        ? mixedUp
        : say('trainee-report.what-tells', { mixedUp, telling: sayTelling(telling, label) });
    });
}

/** How a check tells two causes apart, in a sentence. */
export const sayTelling = (telling: TellingCheck, label: (cause: string) => string): string =>
  say('trainee-report.telling', {
    check: telling.label,
    answer: telling.outcome,
    cause: label(telling.speaksFor),
    with: sayPercent(telling.with),
    without: sayPercent(telling.without),
  });

function sayChecks(results: readonly AttemptResult[]): string[] {
  const said: string[] = [];
  const dear = results.flatMap((one) => one.dearest ?? []).sort((a, b) => b.lost - a.lost);
  const [first] = dear;
  if (first !== undefined)
    said.push(
      say('trainee-report.dearest', {
        asked: first.asked,
        better: first.better,
        more: sayWhole(first.lost),
        several: dear.length > 1 ? 'yes' : 'no',
        cases: cases(dear.length),
      }),
    );
  const idle = results.filter((one) => one.idle.length > 0);
  if (idle.length > 0)
    said.push(
      say('trainee-report.idle', {
        checks: [...new Set(idle.flatMap((one) => one.idle))].slice(0, 3).map(quote).join(', '),
        time: sayWhole(idle.reduce((sum, one) => sum + one.idleMinutes, 0)),
      }),
    );
  const early = results.filter((one) => one.stillOpen !== '');
  if (early.length > 0)
    said.push(
      say('trainee-report.too-early', {
        cases: cases(early.length),
        check: early[0]?.stillOpen ?? '',
      }),
    );
  return said;
}

function sayConfidence(results: readonly AttemptResult[]): string[] {
  const stated = results.flatMap((one) => {
    const first = one.proposed[0];
    return first === undefined || one.warranted === null
      ? []
      : [{ said: first.confidence, warranted: one.warranted }];
  });
  const none = results.length - stated.length;
  const said: string[] = [];
  if (none > 0) said.push(say('trainee-report.put-forward', { cases: cases(none) }));
  const over = mean(stated.map((one) => one.said)) - mean(stated.map((one) => one.warranted));
  if (stated.length > 0 && Math.abs(over) > OFF)
    said.push(
      say(over > 0 ? 'trainee-report.less-sure' : 'trainee-report.trust-more', {
        said: sayPercent(mean(stated.map((one) => one.said))),
        warranted: sayPercent(mean(stated.map((one) => one.warranted))),
      }),
    );
  return said;
}
