import { compareBeforeAfter } from '../before-after.js';
import { requireWithin } from '../checks.js';
import { measureDispersion } from '../dispersion.js';
import { ratioConfidenceSequence } from '../e-process.js';
import { type CountOverHours, pool } from '../exposure.js';
import type { Interval } from '../interval.js';
import { rankRates } from '../many-rates.js';
import { judgeAgainstNorm } from '../norm-trial.js';
import { compareWithNorm } from '../rate-norm.js';
import { compareRates } from '../rate-ratio.js';
import { computeRate, type Rate } from '../rates.js';
import type { TrialOutcome } from '../trial-decision.js';
import { planTrialHours, smallestProvable } from '../trial-hours.js';
import { judgeTrial, type TrialBlock, type TrialRule } from '../trial-verdict.js';
import { say } from '../words.js';
import { FRAME_RISE, hoursToNotice } from './counting-need.js';
import { sayAbout, sayBreaks, sayOnceIn, sayTimes } from './plain-words.js';
import type { Figure, ImpliedCase, Sentence } from './types.js';

/** The answer to a question asked without a file. */
export interface QuickAnswer {
  readonly sentences: readonly Sentence[];
  readonly figures: readonly Figure[];
  /** Counts as a diagnosis takes them, where there is something to take. */
  readonly endBreaks: ImpliedCase['endBreaks'];
}

const sentence = (text: string, ...figures: string[]): Sentence => ({ text, figures });

function rateFigure(id: string, name: string, rate: Rate): Figure {
  return {
    id,
    name,
    value: rate.per1000,
    unit: 'per 1000 rotor-hours',
    interval: rate.interval,
    method: 'exact Poisson interval (Garwood 1936)',
    standing: 'published',
  };
}

/** One count, by itself or against a norm (breaks per 1000 rotor-hours). */
export function answerRate(
  events: CountOverHours,
  normPer1000?: number,
): QuickAnswer & { readonly rate: Rate; readonly verdict: 'above' | 'below' | 'not-shown' | undefined } {
  const rate = computeRate(events);
  const figures = [rateFigure('rate', 'Break rate', rate)];
  const sentences = [
    sentence(
      `${say(rate.per1000)} breaks per 1000 rotor-hours; with so many counted, the true figure may lie anywhere from ${say(rate.interval.lower)} to ${say(rate.interval.upper)}.`,
      'rate',
    ),
  ];
  if (normPer1000 === undefined)
    return { rate, verdict: undefined, sentences, figures, endBreaks: undefined };
  const norm = compareWithNorm(events, normPer1000);
  const p = norm.test.midP.twoSided;
  figures.push(
    {
      id: 'norm-ratio',
      name: 'Rate over norm',
      value: norm.ratio,
      unit: '',
      interval: norm.ratioInterval,
      method: 'exact Poisson interval over the norm',
      standing: 'published',
    },
    {
      id: 'norm-p',
      name: 'Chance of so large a difference from the norm',
      value: p,
      unit: '',
      method: 'exact Poisson test, twice the smaller tail, mid-p (Lancaster 1961)',
      standing: 'published',
    },
    {
      id: 'norm-p-exact',
      name: 'The same, exact',
      value: norm.test.exact.twoSided,
      unit: '',
      method: 'exact Poisson test, twice the smaller tail',
      standing: 'published',
    },
  );
  const more = hoursToNotice(normPer1000 / 1000, FRAME_RISE, 0.025);
  figures.push({
    id: 'need',
    name: 'Rotor-hours to notice a rise by half',
    value: more,
    unit: 'h',
    method: 'exact Poisson power 80 %, one-sided',
    standing: 'published',
  });
  const luck = `if the norm still held, a count so far from it would turn up ${sayOnceIn(p)}`;
  sentences.unshift(
    norm.verdict === 'above'
      ? sentence(`Real: ${sayTimes(norm.ratio, 'the norm allows', 'many')}; ${luck}.`, 'norm-ratio', 'norm-p')
      : norm.verdict === 'below'
        ? sentence(
            `Better than the norm: ${sayBreaks(events.count)} where it expects ${sayAbout(norm.expected)}; ${luck}.`,
            'norm-ratio',
            'norm-p',
          )
        : sentence(
            `Not shown to differ from the norm: ${sayBreaks(events.count)} where it expects ${sayAbout(norm.expected)}; ${luck}.`,
            'norm-ratio',
            'norm-p',
          ),
  );
  if (norm.verdict === 'not-shown')
    sentences.push(
      sentence(
        events.rotorHours >= more
          ? 'Enough has been counted to notice a rise by half.'
          : `To notice a rise by half, count ${sayAbout(more)} rotor-hours in all, ${sayAbout(more / events.rotorHours)} times as much as so far.`,
        'need',
      ),
    );
  return {
    rate,
    verdict: norm.verdict,
    sentences,
    figures,
    endBreaks: { kind: 'against-norm', count: events.count, rotorHours: events.rotorHours, normPer1000 },
  };
}

/** Two or more counts held against one another; the first of two is the comparison (before, sister frame). */
export function answerCompare(groups: readonly (CountOverHours & { readonly id: string })[]): QuickAnswer & {
  readonly rates: readonly {
    readonly id: string;
    readonly rate: Rate;
    readonly verdict: 'above' | 'below' | 'not-shown';
  }[];
} {
  const [first, second] = groups;
  const figures = groups.map((group) =>
    rateFigure(`rate-${group.id}`, `Break rate of ${group.id}`, computeRate(group)),
  );
  if (groups.length === 2 && first !== undefined && second !== undefined) {
    const comparison = compareRates(second, first);
    const p = comparison.test.midP.twoSided;
    const { ratio, verdict, interval } = comparison;
    figures.push(
      {
        id: 'ratio',
        name: `Rate of ${second.id} over that of ${first.id}`,
        value: ratio,
        unit: '',
        interval,
        method: 'exact interval of the conditional share (Clopper & Pearson 1934)',
        standing: 'published',
      },
      {
        id: 'p',
        name: 'Chance of so large a difference if there is none',
        value: p,
        unit: '',
        method: 'exact conditional test (Przyborowski & Wilenski 1940), twice the smaller tail, mid-p',
        standing: 'published',
      },
      {
        id: 'p-exact',
        name: 'The same, exact',
        value: comparison.test.exact.twoSided,
        unit: '',
        method: 'exact conditional test, twice the smaller tail',
        standing: 'published',
      },
    );
    const luck = `if there were no difference, counts so far apart would turn up ${sayOnceIn(p)}`;
    const open = 'the true ratio may lie anywhere from';
    const text = Number.isNaN(ratio)
      ? 'Neither has a break yet: nothing can be said.'
      : verdict === 'not-shown'
        ? `No difference is shown; ${luck}.`
        : `Real: ${second.id} breaks ${sayTimes(ratio, first.id)}; ${luck}.`;
    const sentences = [sentence(text, 'ratio', 'p')];
    if (!Number.isNaN(ratio))
      sentences.push(
        sentence(
          `${second.id} against ${first.id}: ${open} ${say(interval.lower)} to ${say(interval.upper)}${interval.upper === Number.POSITIVE_INFINITY ? '' : ' times'}.`,
          'ratio',
        ),
      );
    if (verdict === 'not-shown' && !Number.isNaN(ratio))
      sentences.push(
        sentence(
          'That no difference is shown does not mean that there is none: see how wide the range is, and count on if it is too wide.',
          'ratio',
        ),
      );
    const mirrored = {
      'first-higher': ['below', 'above'],
      'first-lower': ['above', 'below'],
      'not-shown': ['not-shown', 'not-shown'],
    } as const;
    const [a, b] = mirrored[verdict];
    return {
      rates: [
        { id: first.id, rate: computeRate(first), verdict: a },
        { id: second.id, rate: computeRate(second), verdict: b },
      ],
      sentences,
      figures: figures.filter((figure) => !Number.isNaN(figure.value)),
      endBreaks: {
        kind: 'two-groups',
        a: { count: first.count, rotorHours: first.rotorHours },
        b: { count: second.count, rotorHours: second.rotorHours },
      },
    };
  }
  const ranked = rankRates(groups);
  const above = ranked.filter((one) => one.verdict === 'above');
  const below = ranked.filter((one) => one.verdict === 'below');
  for (const one of ranked)
    figures.push({
      id: `ratio-${one.id}`,
      name: `Rate of ${one.id} over that of the others`,
      value: one.ratioToRest,
      unit: '',
      method: `exact conditional test, mid-p, corrected ${one.adjustedP.toPrecision(2)} (Holm 1979)`,
      standing: 'published',
    });
  if (pool(groups).count > 0) {
    const dispersion = measureDispersion(groups);
    figures.push({
      id: 'scatter',
      name: 'Scatter between them (1 is chance)',
      value: dispersion.phi,
      unit: '',
      method: `chi-square over degrees of freedom (${dispersion.degrees}), p ${dispersion.p.toPrecision(2)}`,
      standing: 'published',
    });
  }
  const sentences = [
    ...above.map((one) =>
      sentence(`Real: ${one.id} breaks ${sayTimes(one.ratioToRest, 'the others')}.`, `ratio-${one.id}`),
    ),
    ...below.map((one) =>
      sentence(`Real: ${one.id} breaks ${sayTimes(one.ratioToRest, 'the others')}.`, `ratio-${one.id}`),
    ),
  ];
  return {
    rates: ranked.map((one) => ({ id: one.id, rate: one.rate, verdict: one.verdict })),
    sentences:
      sentences.length > 0
        ? sentences
        : [
            sentence(
              'None stands out from the others: they differ no more than chance lets them.',
              ...(pool(groups).count > 0 ? ['scatter'] : []),
            ),
          ],
    figures: figures.filter((figure) => !Number.isNaN(figure.value)),
    endBreaks: undefined,
  };
}

/** What a trial is to show. */
export interface PlanQuestion {
  readonly fromPer1000: number;
  readonly toPer1000: number;
  readonly power?: number;
  readonly dispersion?: number;
  /** Positions with the change (as many more are the controls). */
  readonly positions?: number;
}

/** The hours a side-by-side trial needs, in sentences. */
export function answerPlan(question: PlanQuestion): QuickAnswer & {
  readonly rotorHoursPerSide: number;
  readonly hoursPerPosition: number | undefined;
  readonly power: number;
  readonly method: 'exact' | 'formula';
} {
  const ratio = question.toPer1000 / requireWithin('from', question.fromPer1000, 0.01, 1e6);
  const power = question.power ?? 0.8;
  const size = planTrialHours({
    ratePer1000: question.fromPer1000,
    ratio,
    power,
    ...(question.dispersion === undefined ? {} : { dispersion: question.dispersion }),
  });
  const { positions } = question;
  const each = positions === undefined ? undefined : size.rotorHoursPerSide / positions;
  const method =
    size.method === 'exact'
      ? 'conditional mid-p test, power summed over all outcomes'
      : 'normal approximation on the logarithm of the ratio';
  const figures: Figure[] = [
    {
      id: 'hours',
      name: 'Rotor-hours on each side',
      value: size.rotorHoursPerSide,
      unit: 'h',
      method,
      standing: 'published',
    },
    {
      id: 'control',
      name: 'Breaks to be expected without the change',
      value: size.expectedControlCount,
      unit: 'breaks',
      method: 'rate × hours',
      standing: 'counted',
    },
    {
      id: 'changed',
      name: 'Breaks to be expected with the change',
      value: size.expectedChangedCount,
      unit: 'breaks',
      method: 'rate × hours',
      standing: 'counted',
    },
    {
      id: 'power',
      name: 'Chance of noticing it',
      value: size.power,
      unit: '',
      method,
      standing: 'published',
    },
  ];
  const half = smallestProvable(question.fromPer1000, size.rotorHoursPerSide / 2, {
    power,
    ...(question.dispersion === undefined ? {} : { dispersion: question.dispersion }),
  });
  const word = ratio < 1 ? 'fall' : 'rise';
  const sentences = [
    sentence(
      `Run ${sayAbout(size.rotorHoursPerSide)} rotor-hours with the change and as many without, side by side.`,
      'hours',
    ),
    ...(each === undefined
      ? []
      : [
          sentence(
            `On ${positions} changed positions and ${positions} beside them that is ${sayAbout(each)} running hours, ${sayAbout(each / 24)} days day and night.`,
            'hours',
          ),
        ]),
    sentence(
      `About ${sayAbout(size.expectedControlCount)} breaks without and ${sayAbout(size.expectedChangedCount)} with the change are to be expected; a ${word} from ${say(question.fromPer1000)} to ${say(question.toPer1000)} is then noticed in ${Math.round(100 * size.power)} of 100 such trials.`,
      'control',
      'changed',
      'power',
    ),
  ];
  const limit = ratio < 1 ? half.fallRatio : half.riseRatio;
  if (limit !== undefined && Number.isFinite(limit)) {
    const value = question.fromPer1000 * limit;
    figures.push({
      id: 'half',
      name: 'What half of these hours could show, as a rate',
      value,
      unit: 'per 1000 rotor-hours',
      method: 'normal approximation on the logarithm of the ratio',
      standing: 'published',
    });
    sentences.push(
      sentence(
        `With half of these hours only a ${word} to ${say(value)} would be noticed as surely.`,
        'half',
      ),
    );
  } else
    sentences.push(
      sentence('Half of these hours would not show even the end of all breaks as surely.', 'hours'),
    );
  sentences.push(
    sentence(
      'Do not run a week before and a week after: lot, climate and people change as well. Count running hours only, and write down stops and lots.',
    ),
  );
  return {
    rotorHoursPerSide: size.rotorHoursPerSide,
    hoursPerPosition: each,
    power: size.power,
    method: size.method,
    sentences,
    figures,
    endBreaks: undefined,
  };
}

/** A look at a trial: hours so far, ratio and the range in which the true one lies. */
export interface TrialStep {
  readonly hours: number;
  readonly ratio: number;
  readonly interval: Interval;
  /** Supposes that the ratio stays as it is. */
  readonly ahead: boolean;
}

/** The verdict of a trial. */
export interface TrialAnswer extends QuickAnswer {
  readonly verdict: TrialOutcome | 'confounded';
  readonly ratio: number;
  readonly interval: Interval;
  readonly moreRotorHours: number | undefined;
  /** Course of the looks, for the picture; empty when there is none. */
  readonly steps: readonly TrialStep[];
}

const VERDICT_WORDS: Readonly<Record<TrialOutcome, string>> = {
  better: 'Better',
  worse: 'Worse',
  'no-worse': 'No worse',
  'no-worthwhile-effect': 'No effect worth having',
  'not-yet-known': 'Not yet known',
};

/** A trial run side by side, in one block or several (each with both sides); may be asked at any time and as often as wanted. */
export function answerTrial(blocks: readonly TrialBlock[], rule: TrialRule = {}): TrialAnswer {
  const state = judgeTrial(blocks, rule);
  const changed = pool(blocks.map((block) => block.changed));
  const control = pool(blocks.map((block) => block.control));
  const hours = changed.rotorHours + control.rotorHours;
  const phi = rule.dispersion ?? 1;
  const steps: TrialStep[] = blocks.map((_, i) => {
    const part = judgeTrial(blocks.slice(0, i + 1), rule);
    return {
      hours: blocks
        .slice(0, i + 1)
        .reduce((sum, one) => sum + one.changed.rotorHours + one.control.rotorHours, 0),
      ratio: part.ratio,
      interval: part.interval,
      ahead: false,
    };
  });
  const end = state.moreRotorHours === undefined ? 0 : state.moreRotorHours / hours;
  for (const share of end > 0 ? [0.25, 0.5, 0.75, 1] : []) {
    const scale = 1 + share * end;
    const interval = ratioConfidenceSequence(
      { count: Math.round((changed.count * scale) / phi), rotorHours: changed.rotorHours * scale },
      { count: Math.round((control.count * scale) / phi), rotorHours: control.rotorHours * scale },
      rule.confidence ?? 0.95,
    );
    steps.push({ hours: hours * scale, ratio: state.ratio, interval, ahead: true });
  }
  return describeTrial(state, {
    steps,
    eValue: state.eValue,
    against: 'the controls',
    blocks: blocks.length,
    worthwhile: rule.worthwhileRatio ?? 0.8,
  });
}

/** A trial without controls against a norm that is known from long running. */
export function answerNormTrial(
  events: CountOverHours,
  normPer1000: number,
  rule: { readonly worthwhileRatio?: number; readonly toleratedRatio?: number } = {},
): TrialAnswer {
  const state = judgeAgainstNorm(events, normPer1000, rule);
  const answer = describeTrial(state, {
    steps: [],
    eValue: state.eValue,
    against: 'the norm',
    blocks: 1,
    worthwhile: rule.worthwhileRatio ?? 0.8,
  });
  return {
    ...answer,
    sentences: [
      ...answer.sentences,
      sentence(
        'Without positions beside that were left alone, a new lot or other weather counts as an effect of the change.',
      ),
    ],
  };
}

function describeTrial(
  state: {
    readonly verdict: TrialOutcome;
    readonly ratio: number;
    readonly interval: Interval;
    readonly moreRotorHours: number | undefined;
  },
  about: {
    readonly steps: readonly TrialStep[];
    readonly eValue: number;
    readonly against: string;
    readonly blocks: number;
    readonly worthwhile: number;
  },
): TrialAnswer {
  const { verdict, ratio, interval, moreRotorHours } = state;
  const more = moreRotorHours === undefined ? undefined : Number(moreRotorHours.toPrecision(2));
  const outlook =
    more === undefined
      ? 'how much longer it takes cannot be said yet'
      : `about ${say(more)} more rotor-hours (both sides together) would decide it if things stay as they are`;
  const lead = VERDICT_WORDS[verdict];
  const text = {
    better: `${lead}: the changed positions break less than ${about.against}.`,
    worse: `${lead}: the changed positions break more than ${about.against}. Take the change back.`,
    'no-worse': `${lead}: a rise worth speaking of is ruled out; that it is better is not shown. ${capital(outlook)}.`,
    'no-worthwhile-effect': `${lead}: a fall to ${say(about.worthwhile)} times or lower is ruled out.`,
    'not-yet-known': `${lead}: ${outlook}.`,
  }[verdict];
  const figures: Figure[] = [
    {
      id: 'ratio',
      name: `Rate of the changed positions over ${about.against}`,
      value: Number.isFinite(ratio) ? ratio : Number.NaN,
      unit: '',
      interval,
      method:
        'any-time valid interval (confidence sequence by mixture; Howard et al. 2021, Lindon & Malek 2022)',
      standing: 'published',
    },
    {
      id: 'e-value',
      name: 'Evidence against "no difference" (20 and more decides)',
      value: about.eValue,
      unit: '',
      method: 'e-process by mixture; may be looked at as often as wanted',
      standing: 'published',
    },
  ];
  const range = `The true ratio, changed to ${about.against}, lies between ${say(interval.lower)} and ${say(interval.upper)}, however often one looks`;
  const known = figures.filter((figure) => !Number.isNaN(figure.value));
  return {
    verdict,
    ratio,
    interval,
    moreRotorHours,
    steps: about.steps,
    sentences: [
      sentence(text, 'e-value'),
      sentence(`${range}.`, ...(known.some((figure) => figure.id === 'ratio') ? ['ratio'] : [])),
      ...(verdict === 'better' && interval.lower > about.worthwhile
        ? [sentence('Better, but by less than would be worthwhile.', 'e-value')]
        : []),
    ],
    figures: known,
    endBreaks: undefined,
  };
}

/** A block before and a block after, which cannot tell the change from anything else that changed in time. */
export function answerBeforeAfter(
  before: CountOverHours,
  after: CountOverHours,
  pickedForBeingBad = false,
): TrialAnswer {
  const result = compareBeforeAfter(before, after, { pickedForBeingBad });
  const seen = {
    'first-lower': `Fewer breaks after than before: ${sayTimes(result.ratio, 'before')}`,
    'first-higher': `More breaks after than before: ${sayTimes(result.ratio, 'before')}`,
    'not-shown': 'No difference between before and after is shown',
  }[result.verdict];
  return {
    verdict: 'confounded',
    ratio: result.ratio,
    interval: result.interval,
    moreRotorHours: undefined,
    steps: [],
    sentences: [
      sentence(`${seen}. Whether the change did it cannot be told.`, 'p'),
      sentence(
        'Before and after did not run at the same time: lot, weather, cleaning and people may have changed as well. Run changed and unchanged positions side by side.',
      ),
      ...(pickedForBeingBad
        ? [
            sentence(
              'The positions were picked because they were bad: part of that was bad luck, and they would have improved without any change. Compare with equally bad positions left alone.',
            ),
          ]
        : []),
    ],
    figures: [
      {
        id: 'ratio',
        name: 'Rate after over before',
        value: result.ratio,
        unit: '',
        interval: result.interval,
        method: 'exact interval of the conditional share (Clopper & Pearson 1934)',
        standing: 'published' as const,
      },
      {
        id: 'p',
        name: 'Chance of so large a difference if there is none',
        value: result.test.midP.twoSided,
        unit: '',
        method: 'exact conditional test, mid-p; for one look at the end',
        standing: 'published' as const,
      },
    ].filter((figure) => !Number.isNaN(figure.value)),
    endBreaks: { kind: 'two-groups', a: after, b: before },
  };
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
