import type { AttemptResult } from './attempt-result.js';
import { type AttemptRecord, confusionTable } from './course.js';
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

const whole = (minutes: number) => `${Math.round(minutes)} min`;
const percent = (p: number) => (p < 0.01 ? 'under 1 %' : `${Math.round(100 * p)} %`);
const times = (ratio: number) => (ratio >= 3 ? String(Math.round(ratio)) : ratio.toFixed(1));
const cases = (n: number) => `${n} ${n === 1 ? 'case' : 'cases'}`;
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
  if (attempts.length === 0) return { summary: 'No case has been closed yet.', different: [], well: [] };
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
  if (results.every((one) => one.unsafe.length === 0))
    well.push('Every step was safe: stopped, waited for standstill, one change at a time.');
  if (right === results.length) well.push('The first cause put forward was right every time.');
  if (ratio <= 1.2) well.push('The minutes are close to those of the best way.');
  if (results.length > 1 && results.every((one) => one.idle.length === 0))
    well.push('No check was asked for that could not have changed anything.');
  return {
    summary: `${cases(results.length)} closed, ${passed} passed. The first cause put forward was right in ${right} of ${results.length}. Checks and search took ${whole(minutes)} in all; the best way would have taken ${whole(best)}${ratio >= SLOW ? `, so about ${times(ratio)} times as long` : ''}.`,
    different:
      different.length === 0 ? ['Nothing that recurs. Take harder cases: level 3, level 5.'] : different,
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
  return [`Safety first: in ${cases(unsafe.length)} a step was not safe or not sound. ${first}`];
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
      const how = telling === undefined ? '' : ` What tells them apart: ${sayTelling(telling, label)}`;
      return `You took “${label(truth)}” for “${label(taken)}”${count > 1 ? ` ${count} times` : ''}.${how}`;
    });
}

/** How a check tells two causes apart, in a sentence. */
export const sayTelling = (telling: TellingCheck, label: (cause: string) => string): string =>
  `“${telling.label}”: “${telling.outcome}” comes with “${label(telling.speaksFor)}” in ${percent(telling.with)} of such frames, with the other in ${percent(telling.without)}.`;

function sayChecks(results: readonly AttemptResult[]): string[] {
  const said: string[] = [];
  const dear = results.flatMap((one) => one.dearest ?? []).sort((a, b) => b.lost - a.lost);
  const [first] = dear;
  if (first !== undefined)
    said.push(
      `Before each check ask: which answer would make me do something else, and is it worth the minutes? The dearest choice was “${first.asked}” where “${first.better}” promised ${whole(first.lost)} more${dear.length > 1 ? `; in ${cases(dear.length)} a better check was open` : ''}.`,
    );
  const idle = results.filter((one) => one.idle.length > 0);
  if (idle.length > 0)
    said.push(
      `Leave out checks that cannot change your mind: ${[...new Set(idle.flatMap((one) => one.idle))]
        .slice(0, 3)
        .map((name) => `“${name}”`)
        .join(', ')} cost ${whole(idle.reduce((sum, one) => sum + one.idleMinutes, 0))} in all.`,
    );
  const early = results.filter((one) => one.stillOpen !== '');
  if (early.length > 0)
    said.push(
      `You closed ${cases(early.length)} too early; “${early[0]?.stillOpen}” was still worth its minutes.`,
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
  if (none > 0)
    said.push(
      `Put causes forward before you close: in ${cases(none)} none was, and the search was handed over.`,
    );
  const over = mean(stated.map((one) => one.said)) - mean(stated.map((one) => one.warranted));
  if (stated.length > 0 && Math.abs(over) > OFF)
    said.push(
      over > 0
        ? `Say how sure you are by what was found, not by how well the story fits: on average you gave your first cause ${percent(mean(stated.map((one) => one.said)))}, and the findings allowed ${percent(mean(stated.map((one) => one.warranted)))}.`
        : `Trust your findings more: on average you gave your first cause ${percent(mean(stated.map((one) => one.said)))}, and the findings allowed ${percent(mean(stated.map((one) => one.warranted)))}.`,
    );
  return said;
}
