import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
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
import { sayNumber } from '../words.js';
import { FRAME_RISE, hoursToNotice } from './counting-need.js';
import { sayAbout, sayBreaks, sayCompared, sayOnceIn, sayTimes, yes } from './plain-words.js';
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
    unit: say('count-figure.unit-per-1000'),
    interval: rate.interval,
    method: say('count-figure.poisson-interval'),
    standing: 'published',
  };
}

/** One count, by itself or against a norm (breaks per 1000 rotor-hours). */
export function answerRate(
  events: CountOverHours,
  normPer1000?: number,
): QuickAnswer & { readonly rate: Rate; readonly verdict: 'above' | 'below' | 'not-shown' | undefined } {
  const rate = computeRate(events);
  const figures = [rateFigure('rate', say('count-figure.rate'), rate)];
  const sentences = [
    sentence(
      say('count-quick.rate', {
        rate: sayNumber(rate.per1000),
        low: sayNumber(rate.interval.lower),
        high: sayNumber(rate.interval.upper),
      }),
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
      name: say('count-figure.over-norm'),
      value: norm.ratio,
      unit: '',
      interval: norm.ratioInterval,
      method: say('count-figure.poisson-over-norm'),
      standing: 'published',
    },
    {
      id: 'norm-p',
      name: say('count-figure.norm-chance'),
      value: p,
      unit: '',
      method: say('count-figure.poisson-mid-p'),
      standing: 'published',
    },
    {
      id: 'norm-p-exact',
      name: say('count-figure.same-exact'),
      value: norm.test.exact.twoSided,
      unit: '',
      method: say('count-figure.poisson-exact'),
      standing: 'published',
    },
  );
  const more = hoursToNotice(normPer1000 / 1000, FRAME_RISE, 0.025);
  figures.push({
    id: 'need',
    name: say('count-figure.hours-half'),
    value: more,
    unit: 'h',
    method: say('count-figure.poisson-power'),
    standing: 'published',
  });
  const luck = say('count-quick.norm-luck', { times: sayOnceIn(p) });
  const expected = { breaks: sayBreaks(events.count), expected: sayAbout(norm.expected), luck };
  sentences.unshift(
    norm.verdict === 'above'
      ? sentence(
          say('count-quick.above', {
            times: sayTimes(norm.ratio, sayCompared('norm-allows'), 'many'),
            luck,
          }),
          'norm-ratio',
          'norm-p',
        )
      : norm.verdict === 'below'
        ? sentence(say('count-quick.below', expected), 'norm-ratio', 'norm-p')
        : sentence(say('count-quick.alike', expected), 'norm-ratio', 'norm-p'),
  );
  if (norm.verdict === 'not-shown')
    sentences.push(
      sentence(
        events.rotorHours >= more
          ? say('count-quick.enough-half')
          : say('count-quick.to-half', {
              hours: sayAbout(more),
              n: sayAbout(more / events.rotorHours),
            }),
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
    rateFigure(`rate-${group.id}`, say('count-figure.rate-of', { id: group.id }), computeRate(group)),
  );
  if (groups.length === 2 && first !== undefined && second !== undefined) {
    const comparison = compareRates(second, first);
    const p = comparison.test.midP.twoSided;
    const { ratio, verdict, interval } = comparison;
    figures.push(
      {
        id: 'ratio',
        name: say('count-figure.second-over-first', { second: second.id, first: first.id }),
        value: ratio,
        unit: '',
        interval,
        method: say('count-figure.conditional-interval'),
        standing: 'published',
      },
      {
        id: 'p',
        name: say('count-figure.difference-chance'),
        value: p,
        unit: '',
        method: say('count-figure.conditional-mid-p'),
        standing: 'published',
      },
      {
        id: 'p-exact',
        name: say('count-figure.same-exact'),
        value: comparison.test.exact.twoSided,
        unit: '',
        method: say('count-figure.conditional-exact'),
        standing: 'published',
      },
    );
    const luck = say('count-quick.no-difference-luck', { times: sayOnceIn(p) });
    const text = Number.isNaN(ratio)
      ? say('count-quick.neither')
      : verdict === 'not-shown'
        ? say('count-quick.no-difference', { luck })
        : say('count-quick.real-breaks', { id: second.id, times: sayTimes(ratio, first.id), luck });
    const sentences = [sentence(text, 'ratio', 'p')];
    if (!Number.isNaN(ratio))
      sentences.push(
        sentence(
          say('count-quick.against', {
            second: second.id,
            first: first.id,
            low: sayNumber(interval.lower),
            high: sayNumber(interval.upper),
            open: yes(interval.upper === Number.POSITIVE_INFINITY),
          }),
          'ratio',
        ),
      );
    if (verdict === 'not-shown' && !Number.isNaN(ratio))
      sentences.push(sentence(say('count-quick.see-range'), 'ratio'));
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
      name: say('count-figure.over-others', { id: one.id }),
      value: one.ratioToRest,
      unit: '',
      method: say('count-figure.conditional-holm', { p: sayPlain(one.adjustedP) }),
      standing: 'published',
    });
  if (pool(groups).count > 0) {
    const dispersion = measureDispersion(groups);
    figures.push({
      id: 'scatter',
      name: say('count-figure.scatter-groups'),
      value: dispersion.phi,
      unit: '',
      method: say('count-figure.chi-square', {
        degrees: String(dispersion.degrees),
        p: sayPlain(dispersion.p),
      }),
      standing: 'published',
    });
  }
  const sentences = [
    ...[...above, ...below].map((one) =>
      sentence(
        say('count-quick.one-stands', {
          id: one.id,
          times: sayTimes(one.ratioToRest, sayCompared('the-others')),
        }),
        `ratio-${one.id}`,
      ),
    ),
  ];
  return {
    rates: ranked.map((one) => ({ id: one.id, rate: one.rate, verdict: one.verdict })),
    sentences:
      sentences.length > 0
        ? sentences
        : [sentence(say('count-quick.none-stands'), ...(pool(groups).count > 0 ? ['scatter'] : []))],
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
  const method = size.method === 'exact' ? say('count-figure.mid-p-power') : say('count-figure.log-normal');
  const figures: Figure[] = [
    {
      id: 'hours',
      name: say('count-figure.hours-side'),
      value: size.rotorHoursPerSide,
      unit: 'h',
      method,
      standing: 'published',
    },
    {
      id: 'control',
      name: say('count-figure.without-expected'),
      value: size.expectedControlCount,
      unit: say('count-figure.unit-breaks'),
      method: say('count-figure.rate-hours'),
      standing: 'counted',
    },
    {
      id: 'changed',
      name: say('count-figure.with-expected'),
      value: size.expectedChangedCount,
      unit: say('count-figure.unit-breaks'),
      method: say('count-figure.rate-hours'),
      standing: 'counted',
    },
    {
      id: 'power',
      name: say('count-figure.power'),
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
  const rise = yes(ratio >= 1);
  const sentences = [
    sentence(say('count-quick.run', { hours: sayAbout(size.rotorHoursPerSide) }), 'hours'),
    ...(each === undefined
      ? []
      : [
          sentence(
            say('count-quick.run-positions', {
              n: String(positions),
              hours: sayAbout(each),
              days: sayAbout(each / 24),
            }),
            'hours',
          ),
        ]),
    sentence(
      say('count-quick.expect', {
        without: sayAbout(size.expectedControlCount),
        with: sayAbout(size.expectedChangedCount),
        rise,
        from: sayNumber(question.fromPer1000),
        to: sayNumber(question.toPer1000),
        of: String(Math.round(100 * size.power)),
      }),
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
      name: say('count-figure.half-shows'),
      value,
      unit: say('count-figure.unit-per-1000'),
      method: say('count-figure.log-normal'),
      standing: 'published',
    });
    sentences.push(sentence(say('count-quick.half', { rise, to: sayNumber(value) }), 'half'));
  } else sentences.push(sentence(say('count-quick.half-nothing'), 'hours'));
  sentences.push(sentence(say('count-quick.not-in-turn')));
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
    against: say('count-quick.the-controls'),
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
    against: say('count-quick.the-norm'),
    blocks: 1,
    worthwhile: rule.worthwhileRatio ?? 0.8,
  });
  return {
    ...answer,
    sentences: [...answer.sentences, sentence(say('count-quick.no-controls'))],
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
  const hours = moreRotorHours === undefined ? undefined : sayNumber(Number(moreRotorHours.toPrecision(2)));
  const { against } = about;
  const text = {
    better: () => say('count-quick.trial-better', { against }),
    worse: () => say('count-quick.trial-worse', { against }),
    'no-worse': () =>
      say('count-quick.trial-no-worse', {
        outlook:
          hours === undefined
            ? say('count-quick.no-outlook-sentence')
            : say('count-quick.outlook-sentence', { hours }),
      }),
    'no-worthwhile-effect': () => say('count-quick.trial-no-effect', { ratio: sayNumber(about.worthwhile) }),
    'not-yet-known': () =>
      say('count-quick.trial-unknown', {
        outlook: hours === undefined ? say('count-quick.no-outlook') : say('count-quick.outlook', { hours }),
      }),
  }[verdict]();
  const figures: Figure[] = [
    {
      id: 'ratio',
      name: say('count-figure.changed-over', { against: about.against }),
      value: Number.isFinite(ratio) ? ratio : Number.NaN,
      unit: '',
      interval,
      method: say('count-figure.any-time'),
      standing: 'published',
    },
    {
      id: 'e-value',
      name: say('count-figure.evidence'),
      value: about.eValue,
      unit: '',
      method: say('count-figure.e-process'),
      standing: 'published',
    },
  ];
  const range = say('count-quick.true-ratio', {
    against,
    low: sayNumber(interval.lower),
    high: sayNumber(interval.upper),
  });
  const known = figures.filter((figure) => !Number.isNaN(figure.value));
  return {
    verdict,
    ratio,
    interval,
    moreRotorHours,
    steps: about.steps,
    sentences: [
      sentence(text, 'e-value'),
      sentence(range, ...(known.some((figure) => figure.id === 'ratio') ? ['ratio'] : [])),
      ...(verdict === 'better' && interval.lower > about.worthwhile
        ? [sentence(say('count-quick.small-better'), 'e-value')]
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
  const times = sayTimes(result.ratio, sayCompared('before'));
  const seen = {
    'first-lower': say('count-quick.fewer-after', { times }),
    'first-higher': say('count-quick.more-after', { times }),
    'not-shown': say('count-quick.alike-after'),
  }[result.verdict];
  return {
    verdict: 'confounded',
    ratio: result.ratio,
    interval: result.interval,
    moreRotorHours: undefined,
    steps: [],
    sentences: [
      sentence(seen, 'p'),
      sentence(say('count-quick.not-same-time')),
      ...(pickedForBeingBad ? [sentence(say('count-quick.picked-bad'))] : []),
    ],
    figures: [
      {
        id: 'ratio',
        name: say('count-figure.after-before'),
        value: result.ratio,
        unit: '',
        interval: result.interval,
        method: say('count-figure.conditional-interval'),
        standing: 'published' as const,
      },
      {
        id: 'p',
        name: say('count-figure.difference-chance'),
        value: result.test.midP.twoSided,
        unit: '',
        method: say('count-figure.conditional-one-look'),
        standing: 'published' as const,
      },
    ].filter((figure) => !Number.isNaN(figure.value)),
    endBreaks: { kind: 'two-groups', a: after, b: before },
  };
}

/** Two digits, as the methods name their p-values. */
const sayPlain = (p: number) => localDecimal(p.toPrecision(2));
