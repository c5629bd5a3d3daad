import type { Prepared } from './prepare.js';
import { stands } from './questions.js';
import type { FramePlaces, ImpliedCase, Question, TimeCourse } from './types.js';

/** What the analysis is told apart from the places. */
export interface ImpliedInput {
  readonly questions: readonly Question[];
  readonly places: readonly FramePlaces[];
  readonly prepared: Prepared;
  readonly time: TimeCourse | undefined;
  readonly timeOfFlagged: TimeCourse | undefined;
  readonly normPer1000: number | undefined;
}

/**
 * What the answer means in the words of a case file. A position or section picked as the worst is given with the number it was
 * picked from, so that the diagnosis does not take the pick for evidence; counts are given only where hours are known.
 */
export function implyCase(input: ImpliedInput): ImpliedCase {
  const { questions, places, time, timeOfFlagged } = input;
  // What is shown goes before what is hinted at.
  const scope = (['shown', 'hinted'] as const)
    .map((status) => scopeOf(questions, places, input.prepared.totals.length, status))
    .find((one) => one !== undefined);
  const named = scope === 'section' || scope === 'position';
  const whole = stands(questions, 'time') || time?.onset === 'ongoing' ? time?.onset : undefined;
  const onset =
    (named ? timeOfFlagged?.onset : undefined) ??
    whole ??
    (scope === 'shift' ? ('time-of-day' as const) : undefined);
  return { scope, onset, endBreaks: input.prepared.hoursKnown ? measured(input, scope) : undefined };
}

function scopeOf(
  questions: readonly Question[],
  places: readonly FramePlaces[],
  frames: number,
  status: Question['status'],
): ImpliedCase['scope'] {
  const has = (id: Question['id']) =>
    questions.some((question) => question.id === id && question.status === status);
  if (has('sections')) return 'section';
  if (has('positions') && places.some((place) => place.flagged.length > 0)) return 'position';
  if (has('day')) return 'shift';
  if (has('frames') || (frames === 1 && (has('norm') || has('time')))) return 'frame';
  return undefined;
}

function measured(input: ImpliedInput, scope: ImpliedCase['scope']): ImpliedCase['endBreaks'] {
  const { places, time, normPer1000, prepared, questions } = input;
  if (scope === 'section') {
    const [worst] = places
      .flatMap((frame) => frame.sections.map((section) => ({ frame, section })))
      .sort((a, b) => a.section.p - b.section.p || b.section.ratioToRest - a.section.ratioToRest);
    if (worst !== undefined) {
      const inside = new Set(worst.section.ids);
      const sums = splitSum(worst.frame, inside);
      return againstRest(sums.inside, sums.outside, Math.floor(worst.frame.positions.length / inside.size));
    }
  }
  if (scope === 'position') {
    const [worst] = places
      .flatMap((frame) => frame.flagged.slice(0, 1).map((id) => ({ frame, id })))
      .map(({ frame, id }) => ({ frame, id, p: frame.positions.find((one) => one.id === id)?.pExact ?? 1 }))
      .sort((a, b) => a.p - b.p);
    if (worst !== undefined) {
      const sums = splitSum(worst.frame, new Set([worst.id]));
      return againstRest(sums.inside, sums.outside, worst.frame.positions.length);
    }
  }
  const count = prepared.totals.reduce((sum, one) => sum + one.count, 0);
  const rotorHours = prepared.totals.reduce((sum, one) => sum + one.rotorHours, 0);
  if (normPer1000 !== undefined)
    return { kind: 'against-norm', count, rotorHours: tidy(rotorHours), normPer1000 };
  const step = time?.step;
  if (time?.onset === 'sudden' && step !== undefined && stands(questions, 'time')) {
    const part = (from: number, to: number) => {
      const periods = time.periods.slice(from, to);
      return {
        count: periods.reduce((sum, one) => sum + one.count, 0),
        rotorHours: tidy(periods.reduce((sum, one) => sum + one.rotorHours, 0)),
      };
    };
    return { kind: 'two-groups', a: part(0, step.after), b: part(step.after, time.periods.length) };
  }
  return undefined;
}

interface Sum {
  readonly count: number;
  readonly rotorHours: number;
}

function splitSum(
  frame: FramePlaces,
  ids: ReadonlySet<string>,
): { readonly inside: Sum; readonly outside: Sum } {
  const add = (within: boolean): Sum =>
    frame.positions
      .filter((one) => ids.has(one.id) === within)
      .reduce(
        (sum, one) => ({ count: sum.count + one.count, rotorHours: sum.rotorHours + one.rate.rotorHours }),
        { count: 0, rotorHours: 0 },
      );
  return { inside: add(true), outside: add(false) };
}

/** The rate of the rest is the norm, as it is what the others on the frame do. */
function againstRest(own: Sum, rest: Sum, pickedFrom: number): ImpliedCase['endBreaks'] {
  if (rest.count === 0) {
    return {
      kind: 'two-groups',
      a: { count: 0, rotorHours: tidy(rest.rotorHours) },
      b: { count: own.count, rotorHours: tidy(own.rotorHours) },
    };
  }
  return {
    kind: 'against-norm',
    count: own.count,
    rotorHours: tidy(own.rotorHours),
    normPer1000: tidy((1000 * rest.count) / rest.rotorHours),
    ...(pickedFrom >= 2 ? { pickedFrom } : {}),
  };
}

/** Four digits are enough to carry over. */
const tidy = (value: number) => Number(value.toPrecision(4));
