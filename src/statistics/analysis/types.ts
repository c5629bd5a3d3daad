/** What the analysis of a table of breaks says: plain data for pages, the command line and programs. */
import type { ChangePoint } from '../change-point.js';
import type { Dispersion } from '../dispersion.js';
import type { Interval } from '../interval.js';
import type { RankedRate } from '../many-rates.js';
import type { ScreenedPosition } from '../positions.js';
import type { NormComparison } from '../rate-norm.js';
import type { Rate } from '../rates.js';
import type { Trend } from '../trend.js';

/** What may be told beside the table. */
export interface AnalysisOptions {
  /** Usual breaks per 1000 rotor-hours. */
  readonly normPer1000?: number;
  /** Hours that each position ran over the whole table; goes before what the table says. */
  readonly hoursPerPosition?: number;
  /** Positions on each frame: a log does not list positions without a break, and frame-hours need it to become rotor-hours. */
  readonly positionsPerFrame?: number;
  /** Share of the time between the first and the last event of a log that the frames ran, 0–1; default 1. */
  readonly runningShare?: number;
  readonly seed?: number;
}

/** What a figure rests on. */
export type FigureStanding = 'published' | 'common practice' | 'judgement' | 'counted';

/** One figure behind the answer. */
export interface Figure {
  readonly id: string;
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly interval?: Interval;
  readonly method: string;
  readonly standing: FigureStanding;
}

/** A sentence of the answer with the figures (by id) that it rests on. */
export interface Sentence {
  readonly text: string;
  readonly figures: readonly string[];
}

/**
 * `real`: something stands out that chance explains less than once in twenty such tables, all questions asked of it counted.
 * `perhaps`: something stands out by its own measure, but not when all questions are counted. `better`: fewer breaks than the
 * norm, and nothing stands out. `nothing-shown`: chance explains what is seen. `no-breaks`: there is nothing to judge.
 */
export type AnalysisVerdict = 'real' | 'perhaps' | 'better' | 'nothing-shown' | 'no-breaks';

/** A question asked of the table. */
export interface Question {
  readonly id: 'norm' | 'positions' | 'sections' | 'frames' | 'time' | 'day';
  readonly label: string;
  /** Chance of so strong an answer if nothing is the matter, all places looked at counted. */
  readonly p: number;
  /** The same with all questions counted (Holm). */
  readonly adjustedP: number;
  readonly status: 'shown' | 'hinted' | 'none';
}

/** A run of neighbours that breaks together. */
export interface BadSection {
  readonly first: string;
  readonly last: string;
  readonly ids: readonly string[];
  readonly count: number;
  readonly expected: number;
  readonly ratioToRest: number;
  readonly p: number;
}

/** The positions of one frame. */
export interface FramePlaces {
  readonly frame: string;
  /** In order along the frame. */
  readonly positions: readonly ScreenedPosition[];
  /** Ids that stand out singly, worst first. */
  readonly flagged: readonly string[];
  readonly sections: readonly BadSection[];
  /** For every flagged position the breaks to be expected in the same time again if nothing is done. */
  readonly nextCount: Readonly<Record<string, number>>;
  readonly dispersion: Dispersion | undefined;
  /** Whether positions were judged against the ordinary spread between them, as it exceeds chance. */
  readonly judgedAgainstSpread: boolean;
  readonly rate: Rate;
}

/** One stretch of time. */
export interface Period {
  readonly label: string;
  readonly start: number | undefined;
  readonly count: number;
  readonly rotorHours: number;
}

/** The course in time. */
export interface TimeCourse {
  readonly periods: readonly Period[];
  /** Length of a period in words: "day", "8 hours". */
  readonly unit: string;
  /** Whether it follows the positions that stand out rather than all. */
  readonly onlyFlagged: boolean;
  readonly onset: 'sudden' | 'creeping' | 'once' | 'ongoing' | undefined;
  /** The rate fell, in a step or by and by. */
  readonly improving: boolean;
  readonly step: ChangePoint | undefined;
  readonly trend: Trend | undefined;
  /** A spell of breaks with quiet after it. */
  readonly spell:
    | { readonly from: number; readonly to: number; readonly ratio: number; readonly p: number }
    | undefined;
  /** Variance over mean between neighbouring periods; the counts were divided by it for the tests when above 1. */
  readonly phi: number;
  /** Smallest p of step, drift and spell, corrected for the three. */
  readonly p: number;
}

/** The pattern over the day, by hours or by shifts. */
export interface DayPattern {
  readonly by: 'hour' | 'shift';
  readonly slots: readonly {
    readonly id: string;
    readonly rate: Rate;
    readonly ratioToRest: number;
    readonly adjustedP: number;
  }[];
  readonly phi: number;
  readonly p: number;
  /** Worst stretch of hours or worst shift, in words. */
  readonly worst: string;
  readonly worstRatio: number;
}

/** What a running alarm would have said. */
export interface AlarmNote {
  readonly usualRotorHours: number;
  readonly reference: number;
  readonly limit: number;
  readonly falseAlarmPeriods: number;
  readonly detectionPeriods: number;
  /** Length of a period in words. */
  readonly unit: string;
  /** Index and label of the period of the first alarm, and index of the one in which its run began. */
  readonly first: { readonly at: number; readonly label: string; readonly since: number } | undefined;
}

/** What the answer means for a diagnosis: words of the case file. */
export interface ImpliedCase {
  readonly scope: 'position' | 'section' | 'frame' | 'shift' | undefined;
  readonly onset: 'sudden' | 'creeping' | 'time-of-day' | 'ongoing' | 'once' | undefined;
  readonly endBreaks:
    | {
        readonly kind: 'against-norm';
        readonly count: number;
        readonly rotorHours: number;
        readonly normPer1000: number;
        readonly pickedFrom?: number;
      }
    | {
        readonly kind: 'two-groups';
        /** For comparison. */
        readonly a: { readonly count: number; readonly rotorHours: number };
        /** In trouble. */
        readonly b: { readonly count: number; readonly rotorHours: number };
      }
    | undefined;
}

/** How long counting must go on to notice something. */
export interface CountingNeed {
  readonly what: 'frame' | 'position';
  /** The rise to be noticed, as a ratio. */
  readonly ratio: number;
  /** Rotor-hours in all (frame) or hours of each position (position). */
  readonly hours: number;
  /** Times as long as counted so far. */
  readonly times: number;
}

/** Everything that was found out. */
export interface CountAnalysis {
  readonly verdict: AnalysisVerdict;
  readonly answer: {
    readonly realOrChance: readonly Sentence[];
    readonly where: readonly Sentence[];
    readonly sinceWhen: readonly Sentence[];
    readonly next: readonly Sentence[];
  };
  readonly implies: ImpliedCase;
  readonly breaks: number;
  /** Whether hours are known; if not, every position or period counts as one "hour" and no rate is shown. */
  readonly hoursKnown: boolean;
  readonly rate: Rate | undefined;
  readonly norm: NormComparison | undefined;
  readonly questions: readonly Question[];
  readonly frames: readonly RankedRate[];
  readonly places: readonly FramePlaces[];
  /** The course of all positions. */
  readonly time: TimeCourse | undefined;
  /** The course of the positions that stand out, where the table can follow them. */
  readonly timeOfFlagged: TimeCourse | undefined;
  readonly day: DayPattern | undefined;
  readonly alarm: AlarmNote | undefined;
  readonly needs: readonly CountingNeed[];
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  readonly figures: readonly Figure[];
  /** What was taken for granted, in sentences. */
  readonly assumed: readonly string[];
  readonly notes: readonly string[];
}
