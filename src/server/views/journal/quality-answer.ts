import type { measureCalibration, measureHits, Pareto } from '../../../journal/index.js';
import { sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { joinWords } from '../../../rules/words.js';
import type { ComplaintAnswer, ComplaintCause } from '../../journal/complaint-answer.js';
import type { Names } from '../../journal/names.js';
import { sayRough } from '../../words.js';
import { sayDay } from './moments.js';
import { causeName, sayCost, sayShare } from './words.js';

/** What the quality desk was asked for, as far as its short answer says it. */
export interface AskedOfQuality {
  readonly params: URLSearchParams;
  /** First instant of the cases, and the months asked for; undefined when the question is not so. */
  readonly from: string | undefined;
  readonly months: number | undefined;
}

/** The short answer: complaints, what they were traced to, what it cost, whether it is fixed. */
export function sayAnswer(
  answer: ComplaintAnswer,
  pareto: Pareto,
  costs: { readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number },
  wanted: AskedOfQuality,
  names: Names,
  knowledge: Knowledge,
): string[] {
  const { months } = wanted;
  const when =
    wanted.from === undefined
      ? say('quality-desk.since-begun')
      : months === undefined
        ? say('quality-desk.since', { day: sayDay(wanted.from) })
        : months === 1
          ? say('quality-desk.last-month')
          : months === 12
            ? say('quality-desk.last-year')
            : say('quality-desk.last-months', { n: months });
  const yarn = wanted.params.get('yarn');
  const customer = wanted.params.get('customer');
  const on = `${yarn === null ? '' : ` ${say('quality-desk.on-yarn', { yarn: names.yarns.get(yarn) ?? yarn })}`}${customer === null ? '' : ` ${say('quality-desk.from-customer', { customer })}`}`;
  const lines: string[] = [];
  const traced = answer.causes.filter((group) => group.cause !== null);
  if (answer.complaints === 0) lines.push(say('quality-desk.none-when', { when, on }));
  else {
    const causes = traced.map(
      (group) =>
        `${group.cause === 'none' ? say('quality-desk.something-else') : say('quality-desk.quoted', { cause: causeName(knowledge, group.cause ?? '') })}${group.complaints.length > 1 ? ` (${group.complaints.length})` : ''}`,
    );
    lines.push(
      `${say('quality-desk.there-were', { when, n: answer.complaints, count: answer.complaints, on, kg: `${sayRough(answer.claimedKg)}\u00a0kg` })} ${
        causes.length === 0
          ? say('quality-desk.none-traced')
          : causes.length > 5
            ? say('quality-desk.traced-more', {
                causes: joinWords(causes.slice(0, 5)),
                more: causes.length - 5,
              })
            : say('quality-desk.traced', { causes: joinWords(causes) })
      }`,
    );
    const cost = sayCost(sumCosts(traced));
    const all = answer.causes.reduce(
      (sum, group) => ({
        yes: sum.yes + group.fixed.yes,
        partly: sum.partly + group.fixed.partly,
        no: sum.no + group.fixed.no,
        open: sum.open + group.fixed.open,
      }),
      { yes: 0, partly: 0, no: 0, open: 0 },
    );
    lines.push(
      `${cost === '' ? say('quality-desk.cost-unstated') : say('quality-desk.cost-behind', { cost })} ${say(
        'quality-desk.fixed',
        {
          fixed: joinWords([
            ...(all.yes > 0 ? [say('quality-desk.n-yes', { n: all.yes })] : []),
            ...(all.partly > 0 ? [say('quality-desk.n-partly', { n: all.partly })] : []),
            ...(all.no > 0 ? [say('quality-desk.n-no', { n: all.no })] : []),
            ...(all.open > 0 ? [say('quality-desk.n-open', { n: all.open })] : []),
          ]),
        },
      )}`,
    );
  }
  const closed = pareto.cases + pareto.suspected + pareto.notFound;
  const total = sayCost(costs);
  lines.push(
    closed === 0
      ? say('quality-desk.none-closed')
      : total === ''
        ? say('quality-desk.closed', { n: closed, count: closed, confirmed: pareto.cases })
        : say('quality-desk.closed-cost', {
            n: closed,
            count: closed,
            confirmed: pareto.cases,
            cost: total,
          }),
  );
  if (answer.cut) lines.push(say('quality-desk.cut'));
  return lines;
}

/** How often the bench was right, in sentences. */
export function sayHits(
  hits: Awaited<ReturnType<typeof measureHits>>,
  calibration: Awaited<ReturnType<typeof measureCalibration>>,
): string[] {
  const { first, firstThree } = hits;
  if (first === null || firstThree === null) return [say('quality-desk.no-hits')];
  const lines = [
    say('quality-desk.hits', {
      first: first.cases,
      all: hits.cases,
      share: sayShare(first.share),
      range: sayRange(first.interval),
      shareThree: sayShare(firstThree.share),
      rangeThree: sayRange(firstThree.interval),
    }),
  ];
  if (calibration !== null)
    lines.push(
      `${say('quality-desk.brier', {
        score: sayFixed(calibration.score, 3),
        half: sayFixed(0.25, 3),
        reliability: sayFixed(calibration.binned.reliability, 3),
        uncertainty: sayFixed(calibration.binned.uncertainty, 3),
        resolution: sayFixed(calibration.binned.resolution, 3),
      })}${calibration.few ? ` ${say('quality-desk.too-few', { n: calibration.cases })}` : ''}`,
    );
  return lines;
}

/** A range of shares: "61 to 80 %". */
export const sayRange = (interval: { readonly lower: number; readonly upper: number }): string =>
  say('quality-desk.range', {
    low: Math.round(interval.lower * 100),
    high: `${Math.round(interval.upper * 100)}\u00a0%`,
  });

const sumCosts = (groups: readonly ComplaintCause[]) =>
  groups.reduce(
    (sum, { cost }) => ({
      minutes: sum.minutes + cost.minutes,
      rotorHours: sum.rotorHours + cost.rotorHours,
      wasteKg: sum.wasteKg + cost.wasteKg,
    }),
    { minutes: 0, rotorHours: 0, wasteKg: 0 },
  );

/** How many complaints were fixed, and how. */
export const sayFixedCounts = ({ fixed }: ComplaintCause): string =>
  joinWords([
    ...(fixed.yes > 0 ? [say('quality-desk.n-yes', { n: fixed.yes })] : []),
    ...(fixed.partly > 0 ? [say('quality-desk.n-partly', { n: fixed.partly })] : []),
    ...(fixed.no > 0 ? [say('quality-desk.n-no', { n: fixed.no })] : []),
    ...(fixed.open > 0 ? [say('quality-desk.n-not-yet', { n: fixed.open })] : []),
  ]);
