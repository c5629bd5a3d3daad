import { designCusum, runCusum } from '../cusum.js';
import { StatisticsError } from '../errors.js';
import { FRAME_RISE } from './counting-need.js';
import type { AlarmNote, TimeCourse } from './types.js';

/** Wanted mean number of periods between false alarms. Common practice takes 100 to 500. */
const FALSE_ALARM_PERIODS = 200;
const LEAST_PERIODS = 5;

/**
 * What a running alarm (Poisson CUSUM against the norm, set for a rise by half) would have said over the course. Counts and norm
 * are divided by the scatter between periods where it exceeds chance. Undefined when there are too few periods, or the norm
 * gives too few breaks a period to run one.
 */
export function runAlarm(course: TimeCourse, normPer1000: number): AlarmNote | undefined {
  const { periods, phi } = course;
  if (periods.length < LEAST_PERIODS) return undefined;
  const sorted = periods.map((one) => one.rotorHours).sort((a, b) => a - b);
  const usualRotorHours = sorted[Math.floor(sorted.length / 2)] ?? 1;
  const norm = (normPer1000 * usualRotorHours) / 1000 / phi;
  const counts = periods.map((one) => ({ count: Math.round(one.count / phi), rotorHours: one.rotorHours }));
  try {
    const plan = designCusum({ norm, raised: norm * FRAME_RISE, falseAlarmPeriods: FALSE_ALARM_PERIODS });
    const points = runCusum(counts, plan, usualRotorHours);
    const at = points.findIndex((point) => point.alarm);
    return {
      usualRotorHours,
      unit: course.unit,
      reference: plan.reference,
      limit: plan.limit,
      falseAlarmPeriods: plan.falseAlarmPeriods,
      detectionPeriods: plan.detectionPeriods,
      first: at < 0 ? undefined : { at, label: periods[at]?.label ?? '', since: points[at]?.since ?? at },
    };
  } catch (error) {
    // Norms that no alarm can be designed for; the answer does without it.
    if (error instanceof StatisticsError) return undefined;
    throw error;
  }
}
