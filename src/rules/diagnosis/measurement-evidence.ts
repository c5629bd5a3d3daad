import { weighImperfections } from '../../statistics/imperfections.js';
import { type MeasuredSummary, weighMeasured } from '../../statistics/measured.js';
import { weighRise } from '../../statistics/rise-evidence.js';
import type { BreakMeasurement, MeasuredProperty, Measurements, ValueMeasurement } from '../case/types.js';

/** What a measurement says of one node of the network: the likelihood ratio of "really so" against "as it should be". */
export interface MeasuredNode {
  /** Symptom id, or `check:outcome` for twist. */
  readonly node: string;
  readonly graded: boolean;
  readonly ratio: number;
  /** How far beyond target the value lies, as a ratio above 1; large values speak for "marked". */
  readonly size: number;
  readonly words: string;
  /** Property as the case file names it. */
  readonly property: string;
}

type Worse = 'lower' | 'higher';

/** Which node each property bears on, and which side of the target is worse. */
const BEARS_ON: Record<MeasuredProperty, readonly { node: string; worse: Worse; graded: boolean }[]> = {
  tenacity: [{ node: 'low-tenacity', worse: 'lower', graded: true }],
  'strength-cv': [{ node: 'strength-cv', worse: 'higher', graded: true }],
  elongation: [{ node: 'low-elongation', worse: 'lower', graded: true }],
  cvm: [{ node: 'cvm', worse: 'higher', graded: true }],
  thin: [{ node: 'thin', worse: 'higher', graded: true }],
  thick: [{ node: 'thick', worse: 'higher', graded: true }],
  neps: [{ node: 'neps', worse: 'higher', graded: true }],
  hairiness: [
    { node: 'hairy', worse: 'higher', graded: true },
    { node: 'lean', worse: 'lower', graded: true },
  ],
  count: [
    { node: 'count-measured:coarser', worse: 'higher', graded: false },
    { node: 'count-measured:finer', worse: 'lower', graded: false },
  ],
  twist: [
    { node: 'twist-measured:low', worse: 'lower', graded: false },
    { node: 'twist-measured:high', worse: 'higher', graded: false },
  ],
};

/** Properties whose own size is a scatter: their standard error follows from the number of tests (√(1/2n)). */
const SCATTERS: readonly MeasuredProperty[] = ['strength-cv', 'cvm'];
const COUNTS: readonly MeasuredProperty[] = ['thin', 'thick', 'neps'];

/** Turns all measurements of a case into evidence, likelihood ratios held within 1/`most` … `most`. */
export function weighMeasurements(measurements: Measurements, most: number): MeasuredNode[] {
  const nodes: MeasuredNode[] = [];
  if (measurements.endBreaks !== undefined) nodes.push(weighBreaks(measurements.endBreaks));
  for (const [property, value] of Object.entries(measurements.values))
    if (value !== undefined) nodes.push(...weighValue(property as MeasuredProperty, value));
  return nodes.map((node) => ({ ...node, ratio: Math.min(most, Math.max(1 / most, node.ratio)) }));
}

function weighBreaks(breaks: BreakMeasurement): MeasuredNode {
  const result =
    breaks.kind === 'two-groups'
      ? weighRise({ a: breaks.b, b: breaks.a, suspect: 'a' })
      : weighRise({
          count: breaks.count,
          rotorHours: breaks.rotorHours,
          normPer1000: breaks.normPer1000,
          ...(breaks.pickedFrom === undefined ? {} : { pickedFrom: breaks.pickedFrom }),
        });
  return {
    node: 'end-breaks',
    graded: true,
    ratio: result.likelihoodRatio,
    size: result.ratio,
    words: result.words,
    property: 'end-breaks',
  };
}

function weighValue(property: MeasuredProperty, value: ValueMeasurement): MeasuredNode[] {
  if (COUNTS.includes(property)) {
    const mean = value.kind === 'readings' ? average(value.readings) : value.mean;
    const km = value.kind === 'readings' ? value.readings.length : value.tests;
    const result = weighImperfections({
      count: Math.round(mean * km),
      km,
      targetPerKm: value.target,
      dispersion: 2,
    });
    return BEARS_ON[property].map(({ node, graded }) => ({
      node,
      graded,
      ratio: result.likelihoodRatio,
      size: result.ratio,
      words: result.words,
      property,
    }));
  }
  const series: MeasuredSummary | readonly number[] =
    value.kind === 'readings'
      ? value.readings
      : {
          mean: value.mean,
          cvPercent: value.cvPct ?? (SCATTERS.includes(property) ? 100 / Math.SQRT2 : 5),
          tests: value.tests,
        };
  return BEARS_ON[property].map(({ node, worse, graded }) => {
    const result = weighMeasured(series, { target: value.target, worse });
    const beyond = worse === 'lower' ? -result.deviation : result.deviation;
    // For a scatter of the property, a tenth beyond target is as telling as a doubling of a count.
    return {
      node,
      graded,
      ratio: result.likelihoodRatio,
      size: 1 + Math.max(0, beyond) * 6,
      words: result.words,
      property,
    };
  });
}

const average = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
