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

const MEASURES: readonly {
  readonly id: string;
  readonly label: string;
  readonly unit: string;
  readonly from: 'setup' | 'model';
  readonly digits: number;
  readonly of: (drawn: Drawn) => number;
}[] = [
  {
    id: 'rotor-diameter',
    label: 'Rotor diameter',
    unit: 'mm',
    from: 'setup',
    digits: 1,
    of: ({ geometry: g }) => 2 * g.rotorRadius,
  },
  {
    id: 'binding-in',
    label: 'Binding-in length',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.bindingLength,
  },
  {
    id: 'required-binding-in',
    label: 'Binding-in length needed',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.requiredLength,
  },
  {
    id: 'arm-length',
    label: 'Length of the yarn arm',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.armLength,
  },
  {
    id: 'nozzle-radius',
    label: 'Entry radius of the nozzle',
    unit: 'mm',
    from: 'setup',
    digits: 2,
    of: ({ geometry: g }) => g.lipRadius,
  },
  {
    id: 'contact-circle',
    label: 'Diameter of the contact circle',
    unit: 'mm',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => 2 * g.contactRadius,
  },
  {
    id: 'protrusion',
    label: 'Protrusion of the nozzle',
    unit: 'mm',
    from: 'setup',
    digits: 2,
    of: ({ geometry: g }) => g.protrusion,
  },
  {
    id: 'wrap-angle',
    label: 'Wrap at the nozzle',
    unit: '°',
    from: 'model',
    digits: 1,
    of: ({ geometry: g }) => g.wrapDeg,
  },
  {
    id: 'notches',
    label: 'Notches on the nozzle',
    unit: '',
    from: 'setup',
    digits: 0,
    of: ({ setup }) => setup.notches,
  },
  {
    id: 'tube-bend',
    label: 'Bend of the draw-off tube',
    unit: '°',
    from: 'setup',
    digits: 0,
    of: ({ geometry: g }) => g.bendDeg,
  },
  {
    id: 'insert-grooves',
    label: 'Grooves of the insert',
    unit: '',
    from: 'setup',
    digits: 0,
    of: ({ setup }) => Number(/^\d/.exec(setup.insert)?.[0] ?? 0),
  },
  {
    id: 'yarn-diameter',
    label: 'Yarn diameter',
    unit: 'mm',
    from: 'model',
    digits: 2,
    of: ({ geometry: g }) => g.yarnDiameter,
  },
  {
    id: 'twist-arm',
    label: 'Twist in the arm',
    unit: 't/m',
    from: 'model',
    digits: 0,
    of: ({ geometry: g }) => g.twist.arm,
  },
  {
    id: 'twist-before-bend',
    label: 'Twist between nozzle and bend',
    unit: 't/m',
    from: 'model',
    digits: 0,
    of: ({ geometry: g }) => g.twist.beforeBend,
  },
  {
    id: 'twist-set',
    label: 'Twist after the bend (set)',
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
    return { ...rest, value, ...(moved ? { before } : {}) };
  });
}
