import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { worstOf } from './answer.js';
import { yes } from './plain-words.js';
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
    name: say('count-figure.breaks-counted'),
    value: found.breaks,
    unit: '',
    method: say('count-figure.counted'),
    standing: 'counted',
  });
  if (rate !== undefined) {
    add({
      id: 'rotor-hours',
      name: say('count-figure.rotor-hours'),
      value: rate.rotorHours,
      unit: 'h',
      method: say('count-figure.positions-hours'),
      standing: 'counted',
    });
    add({
      id: 'rate',
      name: say('count-figure.rate'),
      value: rate.per1000,
      unit: say('count-figure.unit-per-1000'),
      interval: rate.interval,
      method: say('count-figure.poisson-interval'),
      standing: 'published',
    });
  }
  if (norm !== undefined) {
    add({
      id: 'norm-ratio',
      name: say('count-figure.over-norm'),
      value: norm.ratio,
      unit: '',
      interval: norm.ratioInterval,
      method: say('count-figure.poisson-over-norm'),
      standing: 'published',
    });
    add({
      id: 'norm-p',
      name: say('count-figure.norm-chance'),
      value: norm.test.midP.twoSided,
      unit: '',
      method: say('count-figure.poisson-mid-p'),
      standing: 'published',
    });
  }
  for (const question of found.questions) {
    add({
      id: `question-${question.id}`,
      name: question.label,
      value: question.p,
      unit: say('count-figure.unit-chance'),
      method: say(`count-figure.m-${question.id}`),
      standing: 'published',
    });
    add({
      id: `question-${question.id}-adjusted`,
      name: say('count-figure.all-counted', { question: question.label }),
      value: question.adjustedP,
      unit: say('count-figure.unit-chance'),
      method: say('count-figure.holm'),
      standing: 'published',
    });
  }
  for (const place of found.places) {
    const at = { named: yes(place.frame !== ''), frame: place.frame };
    const key = `frame-${place.frame}`;
    if (place.dispersion !== undefined)
      add({
        id: `${key}-scatter`,
        name: say('count-figure.scatter-positions', at),
        value: place.dispersion.phi,
        unit: '',
        method: say('count-figure.chi-square-p', {
          degrees: String(place.dispersion.degrees),
          p: sayDigits(place.dispersion.p),
        }),
        standing: 'published',
      });
    for (const id of place.flagged) {
      const position = place.positions.find((one) => one.id === id);
      if (position === undefined) continue;
      add({
        id: `${key}-position-${id}`,
        name: say('count-figure.position-over', { id, ...at }),
        value: position.ratioToRest,
        unit: '',
        method: say(place.judgedAgainstSpread ? 'count-figure.negative-binomial' : 'count-figure.binomial', {
          p: sayDigits(position.pExact),
          adjusted: sayDigits(position.adjustedP),
        }),
        standing: 'published',
      });
      add({
        id: `${key}-position-${id}-next`,
        name: say('count-figure.position-next', { id, ...at }),
        value: place.nextCount[id] ?? Number.NaN,
        unit: say('count-figure.unit-breaks'),
        method: say('count-figure.drawn-threefold'),
        standing: 'judgement',
      });
    }
    for (const section of place.sections)
      add({
        id: `${key}-section-${section.first}`,
        name: say('count-figure.section-over', { first: section.first, last: section.last, ...at }),
        value: section.ratioToRest,
        unit: '',
        method: say('count-figure.kulldorff', { p: sayDigits(section.p) }),
        standing: 'published',
      });
  }
  for (const frame of found.frames)
    add({
      id: `frame-rate-${frame.id}`,
      name: say('count-figure.frame-over', { id: frame.id }),
      value: frame.ratioToRest,
      unit: '',
      method: say('count-figure.conditional-holm', { p: sayDigits(frame.adjustedP) }),
      standing: 'published',
    });
  const worst = worstOf(found.places);
  if (worst !== undefined)
    add({
      id: 'worst-next',
      name: say('count-figure.worst-next', { id: worst.id }),
      value: worst.next,
      unit: say('count-figure.unit-breaks'),
      method: say('count-figure.drawn-mean'),
      standing: 'published',
    });
  for (const [course, mark, flagged] of [
    [time, '', 'no'],
    [found.timeOfFlagged, 'flagged-', 'yes'],
  ] as const) {
    if (course === undefined) continue;
    const label = (index: number) => course.periods[index]?.label ?? '';
    add({
      id: `${mark}time-scatter`,
      name: say('count-figure.scatter-periods', { flagged }),
      value: course.phi,
      unit: '',
      method: say('count-figure.scatter-method'),
      standing: 'judgement',
    });
    if (course.step !== undefined) {
      const { step } = course;
      add({
        id: `${mark}step`,
        name: say('count-figure.step', { flagged, from: label(step.after) }),
        value: step.ratePer1000After / step.ratePer1000Before,
        unit: '',
        method: say('count-figure.step-method', {
          p: sayDigits(step.p),
          share: String(Math.round(step.interval.confidence * 100)),
          from: label(step.interval.from),
          to: label(step.interval.to),
        }),
        standing: 'published',
      });
    }
    if (course.trend !== undefined)
      add({
        id: `${mark}drift`,
        name: say('count-figure.drift', { flagged }),
        value: course.trend.z,
        unit: say('count-figure.unit-deviations'),
        method: say('count-figure.laplace', { p: sayDigits(course.trend.pTwoSided) }),
        standing: 'published',
      });
    if (course.spell !== undefined)
      add({
        id: `${mark}spell`,
        name: say('count-figure.spell', {
          flagged,
          from: label(course.spell.from),
          to: label(course.spell.to),
        }),
        value: course.spell.ratio,
        unit: '',
        method: say('count-figure.spell-method', { p: sayDigits(course.spell.p) }),
        standing: 'published',
      });
  }
  if (day !== undefined) {
    add({
      id: 'day-ratio',
      name: say('count-figure.day-worst', { by: day.by, worst: day.worst }),
      value: day.worstRatio,
      unit: '',
      method: say('count-figure.over-rest'),
      standing: 'counted',
    });
    add({
      id: 'day-scatter',
      name: say('count-figure.day-scatter'),
      value: day.phi,
      unit: '',
      method: say('count-figure.day-scatter-method'),
      standing: 'common practice',
    });
  }
  if (alarm !== undefined) {
    add({
      id: 'alarm-false',
      name: say('count-figure.alarm-false'),
      value: alarm.falseAlarmPeriods,
      unit: say('count-figure.unit-periods'),
      method: say('count-figure.cusum', {
        k: sayDigits(alarm.reference, 3),
        h: sayDigits(alarm.limit, 3),
      }),
      standing: 'published',
    });
    add({
      id: 'alarm-detection',
      name: say('count-figure.alarm-detection'),
      value: alarm.detectionPeriods,
      unit: say('count-figure.unit-periods'),
      method: say('count-figure.cusum-plain'),
      standing: 'published',
    });
  }
  for (const need of found.needs)
    add({
      id: `need-${need.what}`,
      name:
        need.what === 'frame'
          ? say('count-figure.need-frame', { n: localDecimal(String(need.ratio)) })
          : say('count-figure.need-position', { n: localDecimal(String(need.ratio)) }),
      value: need.hours,
      unit: found.hoursKnown ? 'h' : say('count-figure.unit-times'),
      method: say('count-figure.poisson-power'),
      standing: 'published',
    });
  return figures;
}

const sayDigits = (value: number, digits = 2) => localDecimal(value.toPrecision(digits));
