import { worstOf } from './answer.js';
import type { CountAnalysis, Figure } from './types.js';

/** Every figure behind the answer with its method, for those who want to follow it. */
export function listFigures(found: Omit<CountAnalysis, 'figures' | 'answer'>): Figure[] {
  const figures: Figure[] = [];
  const add = (figure: Figure) => {
    if (!Number.isNaN(figure.value)) figures.push(figure);
  };
  const { rate, norm, time, day, alarm } = found;
  add({
    id: 'breaks',
    name: 'Breaks counted',
    value: found.breaks,
    unit: '',
    method: 'counted',
    standing: 'counted',
  });
  if (rate !== undefined) {
    add({
      id: 'rotor-hours',
      name: 'Rotor-hours',
      value: rate.rotorHours,
      unit: 'h',
      method: 'positions × hours run',
      standing: 'counted',
    });
    add({
      id: 'rate',
      name: 'Break rate',
      value: rate.per1000,
      unit: 'per 1000 rotor-hours',
      interval: rate.interval,
      method: 'exact Poisson interval (Garwood 1936)',
      standing: 'published',
    });
  }
  if (norm !== undefined) {
    add({
      id: 'norm-ratio',
      name: 'Rate over norm',
      value: norm.ratio,
      unit: '',
      interval: norm.ratioInterval,
      method: 'exact Poisson interval over the norm',
      standing: 'published',
    });
    add({
      id: 'norm-p',
      name: 'Chance of so large a difference from the norm',
      value: norm.test.midP.twoSided,
      unit: '',
      method: 'exact Poisson test, twice the smaller tail, mid-p (Lancaster 1961)',
      standing: 'published',
    });
  }
  for (const question of found.questions) {
    add({
      id: `question-${question.id}`,
      name: question.label,
      value: question.p,
      unit: 'chance if nothing is the matter',
      method: QUESTION_METHODS[question.id],
      standing: 'published',
    });
    add({
      id: `question-${question.id}-adjusted`,
      name: `${question.label} All questions counted`,
      value: question.adjustedP,
      unit: 'chance if nothing is the matter',
      method: 'Holm 1979 over all questions asked',
      standing: 'published',
    });
  }
  for (const place of found.places) {
    const at = place.frame === '' ? '' : ` of frame ${place.frame}`;
    const key = `frame-${place.frame}`;
    if (place.dispersion !== undefined)
      add({
        id: `${key}-scatter`,
        name: `Scatter between the positions${at} (1 is chance)`,
        value: place.dispersion.phi,
        unit: '',
        method: `chi-square over degrees of freedom (${place.dispersion.degrees}); p ${place.dispersion.p.toPrecision(2)}`,
        standing: 'published',
      });
    for (const id of place.flagged) {
      const position = place.positions.find((one) => one.id === id);
      if (position === undefined) continue;
      add({
        id: `${key}-position-${id}`,
        name: `Position ${id}${at}: rate over that of the others`,
        value: position.ratioToRest,
        unit: '',
        method: `${place.judgedAgainstSpread ? 'negative binomial tail against the ordinary spread' : 'binomial tail against the rest'}, p ${position.pExact.toPrecision(2)}, corrected ${position.adjustedP.toPrecision(2)} (Benjamini & Hochberg 1995)`,
        standing: 'published',
      });
      add({
        id: `${key}-position-${id}-next`,
        name: `Position ${id}${at}: breaks to be expected in the same time again if nothing is done`,
        value: place.nextCount[id] ?? Number.NaN,
        unit: 'breaks',
        method: 'count drawn towards a threefold rate, weighed by the chance that the pick is innocent',
        standing: 'judgement',
      });
    }
    for (const section of place.sections)
      add({
        id: `${key}-section-${section.first}`,
        name: `Positions ${section.first} to ${section.last}${at}: rate over that of the rest`,
        value: section.ratioToRest,
        unit: '',
        method: `scan of neighbours (Kulldorff 1997), counts dealt out anew over the positions, p ${section.p.toPrecision(2)}`,
        standing: 'published',
      });
  }
  for (const frame of found.frames)
    add({
      id: `frame-rate-${frame.id}`,
      name: `Frame ${frame.id}: rate over that of the other frames`,
      value: frame.ratioToRest,
      unit: '',
      method: `exact conditional test, mid-p, corrected ${frame.adjustedP.toPrecision(2)} (Holm 1979)`,
      standing: 'published',
    });
  const worst = worstOf(found.places);
  if (worst !== undefined)
    add({
      id: 'worst-next',
      name: `Position ${worst.id}, least like the others: breaks to be expected in the same time again`,
      value: worst.next,
      unit: 'breaks',
      method: 'drawn towards the mean of the frame (gamma–Poisson empirical Bayes, Robbins 1956)',
      standing: 'published',
    });
  for (const [course, mark, whose] of [
    [time, '', ''],
    [found.timeOfFlagged, 'flagged-', ' (positions that stand out)'],
  ] as const) {
    if (course === undefined) continue;
    const label = (index: number) => course.periods[index]?.label ?? '';
    add({
      id: `${mark}time-scatter`,
      name: `Scatter between neighbouring periods${whose} (1 is chance)`,
      value: course.phi,
      unit: '',
      method: 'squared differences of neighbours over their expectation; counts divided by it for the tests',
      standing: 'judgement',
    });
    if (course.step !== undefined) {
      const { step } = course;
      add({
        id: `${mark}step`,
        name: `Likeliest step${whose}, from ${label(step.after)}: rate after over before`,
        value: step.ratePer1000After / step.ratePer1000Before,
        unit: '',
        method: `profile Poisson likelihood, p ${step.p.toPrecision(2)} by simulation; begins with ${Math.round(step.interval.confidence * 100)} % belief from ${label(step.interval.from)} to ${label(step.interval.to)}`,
        standing: 'published',
      });
    }
    if (course.trend !== undefined)
      add({
        id: `${mark}drift`,
        name: `Drift${whose} (above 0: rising)`,
        value: course.trend.z,
        unit: 'standard deviations',
        method: `Laplace test for grouped data, p ${course.trend.pTwoSided.toPrecision(2)}`,
        standing: 'published',
      });
    if (course.spell !== undefined)
      add({
        id: `${mark}spell`,
        name: `Likeliest spell${whose}, ${label(course.spell.from)} to ${label(course.spell.to)}: rate over the rest`,
        value: course.spell.ratio,
        unit: '',
        method: `scan of periods, p ${course.spell.p.toPrecision(2)}`,
        standing: 'published',
      });
  }
  if (day !== undefined) {
    add({
      id: 'day-ratio',
      name: `Worst ${day.by === 'hour' ? 'hours' : 'shift'} (${day.worst}): rate over the rest`,
      value: day.worstRatio,
      unit: '',
      method: 'rate over the rest',
      standing: 'counted',
    });
    add({
      id: 'day-scatter',
      name: 'Scatter between days within the slots (1 is chance)',
      value: day.phi,
      unit: '',
      method: 'chi-square of day × slot; the test of the slots is divided by it',
      standing: 'common practice',
    });
  }
  if (alarm !== undefined) {
    add({
      id: 'alarm-false',
      name: 'Running alarm: mean number of periods between false alarms',
      value: alarm.falseAlarmPeriods,
      unit: 'periods',
      method: `Poisson CUSUM, k ${alarm.reference.toPrecision(3)}, h ${alarm.limit.toPrecision(3)} (Lucas 1985; run length by Markov chain)`,
      standing: 'published',
    });
    add({
      id: 'alarm-detection',
      name: 'Running alarm: mean number of periods to notice a rise by half',
      value: alarm.detectionPeriods,
      unit: 'periods',
      method: 'Poisson CUSUM',
      standing: 'published',
    });
  }
  for (const need of found.needs)
    add({
      id: `need-${need.what}`,
      name:
        need.what === 'frame'
          ? `Rotor-hours to notice a rise ${need.ratio} times`
          : `Hours of each position to notice one that breaks ${need.ratio} times as often`,
      value: need.hours,
      unit: found.hoursKnown ? 'h' : 'times as long as counted',
      method: 'exact Poisson power 80 %, one-sided',
      standing: 'published',
    });
  return figures;
}

const QUESTION_METHODS: Readonly<Record<CountAnalysis['questions'][number]['id'], string>> = {
  norm: 'exact Poisson test against the norm, mid-p; differences below 10 % passed over',
  positions: 'smallest Benjamini–Hochberg p over all positions (Simes 1986)',
  sections:
    'scan of neighbours over all windows, frames counted; 1 when no run holds without its worst position',
  frames: 'each frame against the others, exact, mid-p, Holm; differences below 20 % passed over',
  time: 'smallest of step, drift and spell, times three; differences below 20 % passed over',
  day: 'chi-square of the slots, divided by the scatter between days; differences below 20 % passed over',
};
