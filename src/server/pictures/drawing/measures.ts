import { wordTable } from '../../../language/say.js';
import type { Drawn } from './view.js';

/** A measure the drawing shows. */
export interface Measure {
  readonly id: string;
  readonly label: string;
  readonly value: number;
  readonly unit: string;
  /** The value before a change, where one is shown. */
  readonly before?: number;
  /** `setup`: a setting; `model`: computed. */
  readonly from: 'setup' | 'model';
  readonly digits: number;
}

const LABELS = wordTable('drawing-measure', [
  'rotor-diameter',
  'binding-in',
  'required-binding-in',
  'arm-length',
  'nozzle-radius',
  'contact-circle',
  'protrusion',
  'wrap-angle',
  'notches',
  'tube-bend',
  'insert-grooves',
  'yarn-diameter',
  'twist-arm',
  'twist-before-bend',
  'twist-set',
]);

const MEASURES: readonly {
  readonly id: keyof typeof LABELS;
  readonly unit: string;
  readonly from: 'setup' | 'model';
  readonly digits: number;
  readonly of: (drawn: Drawn) => number;
}[] = [
  {
    id: 'rotor-diameter',
    unit: 'mm',
    from: 'setup',
    digits: 1,
    of: ({ geometry: g }) => 2 * g.rotorRadius,
  },
  {
    id: 'binding-in',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.bindingLength,
  },
  {
    id: 'required-binding-in',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.requiredLength,
  },
  {
    id: 'arm-length',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.armLength,
  },
  {
    id: 'nozzle-radius',
    unit: 'mm',
    from: 'setup',
    digits: 2,
    of: ({ geometry: g }) => g.lipRadius,
  },
  {
    id: 'contact-circle',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => 2 * g.contactRadius,
  },
  {
    id: 'protrusion',
    unit: 'mm',
    from: 'setup',
    digits: 2,
    of: ({ geometry: g }) => g.protrusion,
  },
  {
    id: 'wrap-angle',
    unit: '°',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.wrapDeg,
  },
  {
    id: 'notches',
    unit: '',
    from: 'setup',
    digits: 0,
    of: ({ setup }) => setup.notches,
  },
  {
    id: 'tube-bend',
    unit: '°',
    from: 'setup',
    digits: 0,
    of: ({ geometry: g }) => g.bendDeg,
  },
  {
    id: 'insert-grooves',
    unit: '',
    from: 'setup',
    digits: 0,
    of: ({ setup }) => Number(/^\d/.exec(setup.insert)?.[0] ?? 0),
  },
  {
    id: 'yarn-diameter',
    unit: 'mm',
    from: 'model',
    digits: 2,
    of: ({ geometry: g }) => g.yarnDiameter,
  },
  {
    id: 'twist-arm',
    unit: 't/m',
    from: 'model',
    digits: 0,
    of: ({ geometry: g }) => g.twist.arm,
  },
  {
    id: 'twist-before-bend',
    unit: 't/m',
    from: 'model',
    digits: 0,
    of: ({ geometry: g }) => g.twist.beforeBend,
  },
  {
    id: 'twist-set',
    unit: 't/m',
    from: 'setup',
    digits: 0,
    of: ({ geometry: g }) => g.twist.set,
  },
];

/** All measures of the drawing, in the order of the table beside it. */
export function measuresOf(drawn: Drawn, was: Drawn | undefined): Measure[] {
  return MEASURES.map(({ of, ...rest }) => {
    const value = of(drawn);
    const before = was === undefined ? undefined : of(was);
    const moved = before !== undefined && Math.abs(before - value) >= 0.5 * 10 ** -rest.digits;
    return { ...rest, label: LABELS[rest.id], value, ...(moved ? { before } : {}) };
  });
}
