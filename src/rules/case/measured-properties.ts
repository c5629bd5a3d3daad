import { say } from '../../language/say.js';
import type { QuantityKind } from '../../spinning/units/quantity.js';
import type { MeasuredProperty } from './types.js';

/** What a measured property means for the diagnosis, and how it is written. */
export interface PropertyInfo {
  readonly label: string;
  readonly quantity: QuantityKind;
  /** Unit of the values, and of a bare number. */
  readonly unit: string;
  /** Values that can be meant, in that unit, ends included. */
  readonly possible: readonly [number, number];
  /** Least target; above 0 where a target of 0 would make any find infinitely surprising. */
  readonly leastTarget: number;
  /** How single tests scatter: given with the mean, or a consequence of it. */
  readonly scatter: 'given' | 'poisson-per-km' | 'of-a-cv';
  /** The symptom it speaks for and the side that is worse, or the check whose outcome it decides. */
  readonly bearsOn:
    | {
        readonly symptom: string;
        readonly worse: 'below' | 'above' /** Symptom on the other side, if there is one. */;
        readonly otherSide?: string;
      }
    | { readonly check: string; readonly below: string; readonly above: string; readonly at: string };
}

/** Measured properties by their key in a case file. Ranges are judgement, set wide. */
export const PROPERTIES: Readonly<Record<MeasuredProperty, PropertyInfo>> = {
  tenacity: {
    get label() {
      return say('property.tenacity');
    },
    quantity: 'tenacity',
    unit: 'cN/tex',
    possible: [1, 80],
    leastTarget: 1,
    scatter: 'given',
    bearsOn: { symptom: 'low-tenacity', worse: 'below' },
  },
  'strength-cv': {
    get label() {
      return say('property.strength-cv');
    },
    quantity: 'percent',
    unit: '%',
    possible: [0.5, 80],
    leastTarget: 0.5,
    scatter: 'of-a-cv',
    bearsOn: { symptom: 'strength-cv', worse: 'above' },
  },
  elongation: {
    get label() {
      return say('property.elongation');
    },
    quantity: 'percent',
    unit: '%',
    possible: [0.5, 60],
    leastTarget: 0.5,
    scatter: 'given',
    bearsOn: { symptom: 'low-elongation', worse: 'below' },
  },
  cvm: {
    get label() {
      return say('property.cvm');
    },
    quantity: 'percent',
    unit: '%',
    possible: [2, 60],
    leastTarget: 2,
    scatter: 'given',
    bearsOn: { symptom: 'cvm', worse: 'above' },
  },
  thin: {
    get label() {
      return say('property.thin');
    },
    quantity: 'number',
    unit: '1',
    possible: [0, 100000],
    leastTarget: 0.01,
    scatter: 'poisson-per-km',
    bearsOn: { symptom: 'thin', worse: 'above' },
  },
  thick: {
    get label() {
      return say('property.thick');
    },
    quantity: 'number',
    unit: '1',
    possible: [0, 100000],
    leastTarget: 0.01,
    scatter: 'poisson-per-km',
    bearsOn: { symptom: 'thick', worse: 'above' },
  },
  neps: {
    get label() {
      return say('property.neps');
    },
    quantity: 'number',
    unit: '1',
    possible: [0, 100000],
    leastTarget: 0.01,
    scatter: 'poisson-per-km',
    bearsOn: { symptom: 'neps', worse: 'above' },
  },
  hairiness: {
    get label() {
      return say('property.hairiness');
    },
    quantity: 'number',
    unit: '1',
    possible: [0.1, 50],
    leastTarget: 0.1,
    scatter: 'given',
    bearsOn: { symptom: 'hairy', worse: 'above', otherSide: 'lean' },
  },
  count: {
    get label() {
      return say('property.count');
    },
    quantity: 'count',
    unit: 'tex',
    possible: [5, 1000],
    leastTarget: 5,
    scatter: 'given',
    bearsOn: { check: 'count-measured', below: 'finer', above: 'coarser', at: 'as-set' },
  },
  twist: {
    get label() {
      return say('property.twist');
    },
    quantity: 'twist',
    unit: 't/m',
    possible: [80, 3000],
    leastTarget: 80,
    scatter: 'given',
    bearsOn: { check: 'twist-measured', below: 'low', above: 'high', at: 'as-set' },
  },
};
