import { requirePositive, requireWhole, requireWithin } from '../checks.js';
import { pool } from '../exposure.js';
import { rankRates } from '../many-rates.js';
import { compareWithNorm } from '../rate-norm.js';
import { computeRate } from '../rates.js';
import type { CountTable } from '../tables/types.js';
import { runAlarm } from './alarm.js';
import { writeAnswer } from './answer.js';
import { FRAME_RISE, hoursToNotice, POSITION_RISE } from './counting-need.js';
import { findDayPattern } from './day-pattern.js';
import { listFigures } from './figures.js';
import { implyCase } from './implied-case.js';
import { FALSE_DISCOVERY, findPlaces, type Places } from './places.js';
import { type Prepared, prepareTable } from './prepare.js';
import { askQuestions, stands, WORTHWHILE } from './questions.js';
import { followTime } from './time-course.js';
import type { AnalysisOptions, AnalysisVerdict, CountAnalysis, CountingNeed, TimeCourse } from './types.js';

/**
 * Everything that a table of breaks says: real or chance, where, since when, what next, with the figures behind every
 * sentence and with what it means for a diagnosis. The same table always gives the same answer.
 * @throws StatisticsError for options out of range and for a log over more than 20 years
 */
export function analyseCounts(table: CountTable, options: AnalysisOptions = {}): CountAnalysis {
  checkOptions(options);
  const prepared = prepareTable(table, options);
  const all = pool(prepared.totals);
  const usable = prepared.totals.filter((one) => one.rotorHours > 0);
  if (all.count === 0 || usable.length === 0) return nothing(table, prepared, all, options);

  const places = findPlaces(prepared, options.seed);
  const focus = places.frames.flatMap((place) => [
    ...place.flagged.map((id) => ({ frame: place.frame, id })),
    ...place.sections.flatMap((section) => section.ids.map((id) => ({ frame: place.frame, id }))),
  ]);
  const course = worthwhileCourse(followTime(table, prepared, options, []));
  const timeOfFlagged =
    focus.length > 0 ? worthwhileCourse(followTime(table, prepared, options, focus)) : undefined;
  const day = findDayPattern(table, prepared, options);
  const frames = usable.length > 1 ? rankRates(usable) : [];

  const normPer1000 = options.normPer1000;
  // Breaks that come in bunches make the level less sure than independent ones.
  const bunched = course?.phi ?? 1;
  const norm =
    normPer1000 === undefined || !prepared.hoursKnown
      ? undefined
      : compareWithNorm(
          { count: Math.round(all.count / bunched), rotorHours: all.rotorHours / bunched },
          normPer1000,
        );
  const questions = askQuestions({ places, frames, norm, time: course, day });
  const time: TimeCourse | undefined =
    course !== undefined && course.onset === undefined && !course.improving && stands(questions, 'norm')
      ? { ...course, onset: 'ongoing' }
      : course;
  const verdict: AnalysisVerdict = questions.some((question) => question.status === 'shown')
    ? 'real'
    : questions.some((question) => question.status === 'hinted')
      ? 'perhaps'
      : norm?.verdict === 'below'
        ? 'better'
        : 'nothing-shown';
  const found = {
    verdict,
    implies: implyCase({ questions, places: places.frames, prepared, time, timeOfFlagged, normPer1000 }),
    breaks: table.breaks,
    hoursKnown: prepared.hoursKnown,
    rate: prepared.hoursKnown ? computeRate(all) : undefined,
    norm,
    questions,
    frames,
    places: places.frames,
    time,
    timeOfFlagged,
    day,
    alarm:
      normPer1000 === undefined || !prepared.hoursKnown || course === undefined
        ? undefined
        : runAlarm(course, normPer1000),
    needs: needsOf(places, prepared, all, normPer1000),
    reasons: table.reasons,
    assumed: prepared.assumed,
    notes: table.notes,
  };
  return { ...found, answer: writeAnswer(found, normPer1000), figures: listFigures(found) };
}

function checkOptions(options: AnalysisOptions): void {
  if (options.normPer1000 !== undefined) requirePositive('normPer1000', options.normPer1000);
  if (options.hoursPerPosition !== undefined) requirePositive('hoursPerPosition', options.hoursPerPosition);
  if (options.positionsPerFrame !== undefined)
    requireWhole('positionsPerFrame', options.positionsPerFrame, 1, 5000);
  if (options.runningShare !== undefined) requireWithin('runningShare', options.runningShare, 0.01, 1);
}

/** A course whose change is too small to be worth a walk counts as none. */
function worthwhileCourse(course: TimeCourse | undefined): TimeCourse | undefined {
  if (course === undefined || (course.onset === undefined && !course.improving)) return course;
  const third = Math.max(1, Math.floor(course.periods.length / 3));
  const rate = (periods: TimeCourse['periods']) => {
    const { count, rotorHours } = pool(periods);
    return (count + 0.5) / rotorHours;
  };
  const drift = rate(course.periods.slice(-third)) / rate(course.periods.slice(0, third));
  const step = course.step === undefined ? 1 : course.step.ratePer1000After / course.step.ratePer1000Before;
  const size =
    course.onset === 'once' ? (course.spell?.ratio ?? 1) : course.onset === 'creeping' ? drift : step;
  return Math.max(size, 1 / size) >= WORTHWHILE.time
    ? course
    : { ...course, onset: undefined, improving: false, p: 1 };
}

function needsOf(
  places: Places,
  prepared: Prepared,
  all: { readonly count: number; readonly rotorHours: number },
  normPer1000: number | undefined,
): CountingNeed[] {
  const needs: CountingNeed[] = [];
  const rate =
    normPer1000 !== undefined && prepared.hoursKnown ? normPer1000 / 1000 : all.count / all.rotorHours;
  const frame = hoursToNotice(rate, FRAME_RISE, 0.025);
  needs.push({ what: 'frame', ratio: FRAME_RISE, hours: frame, times: frame / all.rotorHours });
  const positions = places.frames.reduce((sum, one) => sum + one.positions.length, 0);
  if (positions > 0) {
    const each = hoursToNotice(all.count / all.rotorHours, POSITION_RISE, FALSE_DISCOVERY / positions);
    needs.push({
      what: 'position',
      ratio: POSITION_RISE,
      hours: each,
      times: (each * positions) / all.rotorHours,
    });
  }
  return needs;
}

function nothing(
  table: CountTable,
  prepared: Prepared,
  all: { readonly count: number; readonly rotorHours: number },
  options: AnalysisOptions,
): CountAnalysis {
  const known = prepared.hoursKnown && all.rotorHours > 0;
  const found = {
    verdict: 'no-breaks' as const,
    implies: { scope: undefined, onset: undefined, endBreaks: undefined },
    breaks: table.breaks,
    hoursKnown: known,
    rate: known ? computeRate(all) : undefined,
    norm: known && options.normPer1000 !== undefined ? compareWithNorm(all, options.normPer1000) : undefined,
    questions: [],
    frames: [],
    places: [],
    time: undefined,
    timeOfFlagged: undefined,
    day: undefined,
    alarm: undefined,
    needs: [],
    reasons: table.reasons,
    assumed: prepared.assumed,
    notes: table.notes,
  };
  return { ...found, answer: writeAnswer(found, options.normPer1000), figures: listFigures(found) };
}
