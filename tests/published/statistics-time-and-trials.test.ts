import { describe, expect, it } from 'vitest';
import * as statistics from '../../src/statistics/index.js';
import { agree, getCheck, listChecks, title } from './statistics-data.js';

describe('time', () => {
  it(title('laplace-rocof'), () => {
    const check = getCheck('laplace-rocof');
    let now = 0;
    const times = check.inputs['times between failures'].map((gap: number) => {
      now += gap;
      return now;
    });
    agree(check, statistics.testLaplaceTrend(times, 'at-last-event').z, check.expected.U);
    agree(check, statistics.testPowerTrend(times, 'at-last-event').exponent, check.expected.beta);
  });

  it(title('trend-nist-laplace-milhdbk'), () => {
    const check = getCheck('trend-nist-laplace-milhdbk');
    const times = check.inputs['repair times'];
    const truncation = { end: check.inputs.end };
    agree(check, statistics.testLaplaceTrend(times, truncation).z, check.expected['Laplace z']);
    const power = statistics.testPowerTrend(times, truncation);
    agree(check, power.chiSquare, check.expected.chi2);
    expect(power.degrees).toBe(check.expected.df);
    agree(check, power.pWorsening, check.expected['p lower (worsening)']);
    agree(check, power.pImproving, check.expected['p upper (improving)']);
    agree(check, power.exponent, check.expected['beta MLE']);
  });

  for (const id of ['changepoint-coal', 'changepoint-coal-precise']) {
    it(title(id), () => {
      const check = getCheck(id);
      const counts: number[] = getCheck('changepoint-coal').inputs['annual counts from 1851'];
      const change = statistics.findChangePoint(counts.map((count) => ({ count, rotorHours: 1 })));
      if (id === 'changepoint-coal') {
        expect(1850 + change.after).toBe(check.expected['last year of first regime']);
      } else {
        expect(change.after).toBe(check.expected.k);
        agree(check, change.logLikelihoodRatio, check.expected.LLR);
      }
      agree(check, change.ratePer1000Before / 1000, check.expected['rate before']);
      agree(check, change.ratePer1000After / 1000, check.expected['rate after']);
      expect(change.p).toBe(0.001);
    });
  }

  it(title('cusum-poisson-lucas-1'), () => {
    const check = getCheck('cusum-poisson-lucas-1');
    const plan = { reference: check.inputs.k, limit: check.inputs.h };
    agree(check, statistics.cusumRunLength(check.inputs.mu, plan), check.expected.ARL);
    agree(
      check,
      statistics.cusumRunLength(check.inputs.mu, { ...plan, start: check.inputs['FIR start'] }),
      check.expected['ARL FIR'],
    );
  });

  it(title('cusum-poisson-table'), () => {
    const check = getCheck('cusum-poisson-table');
    check.inputs['(h,k,mu,start)'].forEach(
      ([h, k, mu, start]: [number, number, number, number], i: number) => {
        agree(check, statistics.cusumRunLength(mu, { reference: k, limit: h, start }), check.expected[i]);
      },
    );
  });

  it(title('cusum-reference-value'), () => {
    const check = getCheck('cusum-reference-value');
    check.inputs['(mu0,mu1)'].forEach(([norm, raised]: [number, number], i: number) => {
      agree(check, statistics.cusumReference(norm, raised), check.expected[i]);
    });
  });
});

describe('trials', () => {
  it(title('power-total-events'), () => {
    const check = getCheck('power-total-events');
    check.inputs.RR.forEach((ratio: number, i: number) => {
      agree(check, statistics.trialEvents(ratio), check.expected[i]);
    });
  });

  it(title('power-exposure-hours'), () => {
    const check = getCheck('power-exposure-hours');
    check.inputs.RR.forEach((ratio: number, i: number) => {
      const ratePer1000 = 1000 * check.inputs['rate before per hour'];
      agree(check, statistics.trialHoursByFormula({ ratePer1000, ratio }), check.expected[i]);
    });
  });

  it(title('power-conditional-exact'), () => {
    const check = getCheck('power-conditional-exact');
    check.inputs['expected counts (before, after)'].forEach(
      ([before, after]: [number, number], i: number) => {
        agree(check, statistics.powerOfRateTest(before, after, { rule: 'exact' }), check.expected.power[i]);
      },
    );
  });

  it(title('e-process-gamma-poisson'), () => {
    const check = getCheck('e-process-gamma-poisson');
    const mixture = { shape: check.inputs.a, rate: check.inputs.b };
    check.inputs['(x,t)'].forEach(([x, t]: [number, number], i: number) => {
      const e = Math.exp(statistics.logEValueAgainstNorm(x, t, check.inputs.lambda0, mixture));
      agree(check, e / check.expected.E[i], 1);
    });
  });

  it(title('e-process-two-rates'), () => {
    const check = getCheck('e-process-two-rates');
    check.inputs['(after, before) events'].forEach(([after, before]: [number, number], i: number) => {
      const e = Math.exp(
        statistics.logEValueOfSplit(after, before, check.inputs.p0, { first: 1, second: 1 }),
      );
      agree(check, e, check.expected.E[i]);
    });
  });

  it(title('confidence-sequence-poisson'), () => {
    const check = getCheck('confidence-sequence-poisson');
    const { x, t, a, b, alpha } = check.inputs;
    const interval = statistics.rateConfidenceSequence(x, t, { shape: a, rate: b }, 1 - alpha);
    agree(check, interval.lower, check.expected['lower,upper'][0]);
    agree(check, interval.upper, check.expected['lower,upper'][1]);
  });
});

describe('calibration', () => {
  it(title('brier-sklearn'), () => {
    const check = getCheck('brier-sklearn');
    const forecasts = check.inputs.p.map((probability: number, i: number) => ({
      probability,
      happened: check.inputs.y[i] === 1,
    }));
    agree(check, statistics.scoreForecasts(forecasts).score, check.expected);
  });

  it(title('brier-decomposition'), () => {
    const check = getCheck('brier-decomposition');
    const forecasts = check.inputs['bins (forecast, n, events)'].flatMap(
      ([probability, n, events]: [number, number, number]) =>
        Array.from({ length: n }, (_, i) => ({ probability, happened: i < events })),
    );
    const score = statistics.scoreForecasts(forecasts);
    agree(check, score.score, check.expected.BS);
    agree(check, score.reliability, check.expected.REL);
    agree(check, score.resolution, check.expected.RES);
    agree(check, score.uncertainty, check.expected.UNC);
  });

  it(title('beta-bda-placenta'), () => {
    const check = getCheck('beta-bda-placenta');
    const { successes, n } = check.inputs;
    const belief = statistics.updateBelief({ yes: 1, no: 1 }, successes, n - successes);
    const { mean, interval } = statistics.summariseBelief(belief);
    agree(check, mean, check.expected.mean);
    agree(check, interval.lower, check.expected.ci95[0]);
    agree(check, interval.upper, check.expected.ci95[1]);
  });

  it(title('power-prior'), () => {
    const check = getCheck('power-prior');
    const [yes, no] = check.inputs['old (s,f)'];
    const [newYes, newNo] = check.inputs['new (s,f)'];
    const old = statistics.updateBelief({ yes: 1, no: 1 }, yes, no, check.inputs.a0);
    const belief = statistics.updateBelief(old, newYes, newNo);
    agree(check, belief.yes, check.expected.alpha);
    agree(check, belief.no, check.expected.beta);
    agree(check, statistics.summariseBelief(belief).mean, check.expected.mean);
  });
});

it('has records with a named source and a standing each', () => {
  expect(listChecks().length).toBeGreaterThan(45);
  for (const id of listChecks()) {
    expect(getCheck(id).source.length).toBeGreaterThan(5);
    expect(['published', 'from memory', 'computed independently']).toContain(getCheck(id).standing);
  }
});
