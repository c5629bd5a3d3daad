import { sourceText } from '../../language/source-text.js';
import { weighImperfections } from '../../statistics/imperfections.js';
import { type MeasuredSummary, weighMeasured } from '../../statistics/measured.js';
import { weighRise } from '../../statistics/rise-evidence.js';
import { PROPERTIES } from '../case/measured-properties.js';
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

interface Bearing {
  readonly node: string;
  readonly worse: 'lower' | 'higher';
  readonly graded: boolean;
}

/** Nodes that a property bears on, and the side of the target that speaks for each. */
function bearingsOf(property: MeasuredProperty): Bearing[] {
  const { bearsOn } = PROPERTIES[property];
  if ('check' in bearsOn)
    return [
      { node: `${bearsOn.check}:${bearsOn.below}`, worse: 'lower', graded: false },
      { node: `${bearsOn.check}:${bearsOn.above}`, worse: 'higher', graded: false },
    ];
  const { symptom, worse, otherSide } = bearsOn;
  const own: Bearing = { node: symptom, worse: worse === 'below' ? 'lower' : 'higher', graded: true };
  if (otherSide === undefined) return [own];
  return [own, { node: otherSide, worse: worse === 'below' ? 'higher' : 'lower', graded: true }];
}

/** Turns all measurements of a case into evidence, likelihood ratios held within 1/`most` … `most`. */
export function weighMeasurements(measurements: Measurements, most: number): MeasuredNode[] {
  const nodes: MeasuredNode[] = [];
  if (measurements.endBreaks !== undefined) nodes.push(weighBreaks(measurements.endBreaks));
  for (const [property, value] of Object.entries(measurements.values))
    if (value !== undefined) nodes.push(...weighValue(property as MeasuredProperty, value));
  return nodes.map((node) => ({ ...node, ratio: Math.min(most, Math.max(1 / most, node.ratio)) }));
}

function weighBreaks(breaks: BreakMeasurement): MeasuredNode {
  const bunched = breaks.dispersion === undefined ? {} : { dispersion: breaks.dispersion };
  const result =
    breaks.kind === 'two-groups'
      ? weighRise({ a: breaks.a, b: breaks.b, suspect: 'b', ...bunched })
      : weighRise({
          count: breaks.count,
          rotorHours: breaks.rotorHours,
          normPer1000: breaks.normPer1000,
          ...(breaks.pickedFrom === undefined ? {} : { pickedFrom: breaks.pickedFrom }),
          ...bunched,
        });
  return {
    node: 'end-breaks',
    graded: true,
    ratio: result.likelihoodRatio,
    size: result.ratio,
    words: sourceText(result.words),
    property: 'end-breaks',
  };
}

function weighValue(property: MeasuredProperty, value: ValueMeasurement): MeasuredNode[] {
  if (PROPERTIES[property].scatter === 'poisson-per-km') {
    const mean = value.kind === 'readings' ? average(value.readings) : value.mean;
    const km = value.kind === 'readings' ? value.readings.length : value.tests;
    const result = weighImperfections({
      count: Math.round(mean * km),
      km,
      targetPerKm: value.target,
      dispersion: 2,
    });
    return bearingsOf(property).map(({ node, graded }) => ({
      node,
      graded,
      ratio: result.likelihoodRatio,
      size: result.ratio,
      words: sourceText(result.words),
      property,
    }));
  }
  const series: MeasuredSummary | readonly number[] =
    value.kind === 'readings'
      ? value.readings
      : {
          mean: value.mean,
          cvPercent: value.cvPct ?? (PROPERTIES[property].scatter === 'of-a-cv' ? 100 / Math.SQRT2 : 5),
          tests: value.tests,
        };
  return bearingsOf(property).map(({ node, worse, graded }) => {
    const result = weighMeasured(series, { target: value.target, worse });
    const beyond = worse === 'lower' ? -result.deviation : result.deviation;
    // For a scatter of the property, a tenth beyond target is as telling as a doubling of a count.
    return {
      node,
      graded,
      ratio: result.likelihoodRatio,
      size: 1 + Math.max(0, beyond) * 6,
      words: sourceText(result.words),
      property,
    };
  });
}

const average = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
