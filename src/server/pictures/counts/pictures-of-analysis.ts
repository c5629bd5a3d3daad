import { say } from '../../../language/say.js';
import {
  type CountAnalysis,
  type FramePlaces,
  sayUnit,
  type TimeCourse,
} from '../../../statistics/analysis/index.js';
import type { CountPicture } from './count-picture.js';
import { drawDayBars } from './day-bars.js';
import { drawForest } from './forest.js';
import { drawFrameStrip } from './frame-strip.js';
import { drawTrend } from './trend.js';

/** Frames shown as strips, the ones with something to show first. */
const MOST_STRIPS = 12;

/** The pictures that belong to an analysis, each with its table. */
export function drawAnalysis(analysis: CountAnalysis, normPer1000: number | undefined): CountPicture[] {
  const pictures: CountPicture[] = [];
  const named = analysis.places.length > 1 || (analysis.places[0]?.frame ?? '') !== '';
  const strips = [...analysis.places].sort((a, b) => weightOf(b) - weightOf(a)).slice(0, MOST_STRIPS);
  for (const place of strips)
    pictures.push(
      drawFrameStrip(
        named ? say('count-picture.frame-strip', { frame: place.frame }) : say('count-picture.strip'),
        stripOf(place, analysis.hoursKnown),
      ),
    );
  if (analysis.frames.length > 1 && analysis.hoursKnown)
    pictures.push(
      drawForest(
        analysis.frames.slice(0, 40).map((frame) => ({
          label: say('count-picture.frame', { id: frame.id }),
          value: frame.rate.per1000,
          lower: frame.rate.interval.lower,
          upper: frame.rate.interval.upper,
          marked: frame.verdict === 'above' && frame.ratioToRest >= 1.2,
        })),
        {
          title: say('count-picture.rates'),
          unit: say('count-picture.breaks-per-1000'),
          ...(normPer1000 === undefined
            ? {}
            : { reference: { value: normPer1000, label: say('count-picture.the-norm') } }),
        },
      ),
    );
  if (analysis.timeOfFlagged !== undefined)
    pictures.push(
      courseOf(analysis.timeOfFlagged, say('count-picture.named'), analysis.hoursKnown, undefined),
    );
  if (analysis.time !== undefined)
    pictures.push(courseOf(analysis.time, say('count-picture.in-time'), analysis.hoursKnown, normPer1000));
  const { day } = analysis;
  if (day !== undefined) {
    const count = day.slots.reduce((sum, slot) => sum + slot.rate.count, 0);
    const hours = day.slots.reduce((sum, slot) => sum + slot.rate.rotorHours, 0);
    pictures.push(
      drawDayBars({
        title: day.by === 'hour' ? say('count-picture.by-hour') : say('count-picture.by-shift'),
        unit: analysis.hoursKnown ? say('count-picture.breaks-per-1000') : say('count-picture.relative'),
        mean: (1000 * count) / hours,
        slots: day.slots.map((slot) => ({
          label: slot.id,
          count: slot.rate.count,
          rate: slot.rate.per1000,
          ratio: slot.ratioToRest,
          marked: slot.adjustedP <= 0.05 && slot.ratioToRest > 1,
        })),
      }),
    );
  }
  return pictures;
}

const weightOf = (place: FramePlaces) => place.sections.length * 100 + place.flagged.length;

function stripOf(place: FramePlaces, hoursKnown: boolean) {
  const flagged = new Set(place.flagged);
  const inSection = new Set(place.sections.flatMap((section) => section.ids));
  return place.positions.map((position) => ({
    id: position.id,
    count: position.count,
    ratio: position.ratioToRest,
    per1000: hoursKnown ? position.rate.per1000 : undefined,
    mark: flagged.has(position.id)
      ? ('position' as const)
      : inSection.has(position.id)
        ? ('section' as const)
        : undefined,
  }));
}

function courseOf(
  course: TimeCourse,
  title: string,
  hoursKnown: boolean,
  norm: number | undefined,
): CountPicture {
  const { step, spell } = course;
  // Without hours the counts themselves, which is what a period of one "hour" gives as rate.
  const scale = hoursKnown ? 1000 : 1;
  const factor = scale / 1000;
  const unit = hoursKnown
    ? say('count-picture.breaks-per-1000')
    : say('count-picture.relative-in', { unit: sayUnit(course.unit) });
  return drawTrend({
    title,
    unit,
    periods: course.periods.map((one) => ({
      label: one.label,
      count: one.count,
      rate: (scale * one.count) / one.rotorHours,
    })),
    ...(norm === undefined ? {} : { norm }),
    ...(step !== undefined && (course.onset === 'sudden' || course.improving)
      ? {
          step: {
            after: step.after,
            from: step.interval.from,
            to: step.interval.to,
            before: step.ratePer1000Before * factor,
            now: step.ratePer1000After * factor,
          },
        }
      : {}),
    ...(spell !== undefined && course.onset === 'once' ? { spell: { from: spell.from, to: spell.to } } : {}),
  });
}
