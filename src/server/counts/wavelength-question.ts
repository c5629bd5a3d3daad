import type { Mill } from '../../rules/knowledge/load-mill.js';
import {
  matchWavelength,
  type WavelengthMatch,
  type WavelengthSources,
} from '../../statistics/wavelength.js';
import type { NumberSpec } from './number-form.js';

/** Round parts whose wavelength can be asked for, beside the rotor. */
export const PART_ROWS = [1, 2, 3] as const;

/** Fields of the wavelength page. */
export const WAVELENGTH_GROUPS: readonly {
  readonly title: string;
  readonly fields: readonly NumberSpec[];
}[] = [
  {
    title: 'The peak',
    fields: [
      { name: 'peak', label: 'Wavelength of the peak or hump', range: [0.001, 1_000_000], needed: true },
    ],
  },
  {
    title: 'Rotor and fibre',
    fields: [
      {
        name: 'diameter',
        label: 'Rotor diameter',
        unit: 'mm',
        range: [10, 150],
        hint: 'One mark in the groove shows at π times the diameter.',
      },
      { name: 'staple', label: 'Staple length', unit: 'mm', range: [5, 200] },
      {
        name: 'draft',
        label: 'Draft from sliver to yarn',
        range: [1, 1000],
        hint: 'Sliver count ÷ yarn count, both in tex.',
      },
    ],
  },
  ...PART_ROWS.map((row) => ({
    title: row === 1 ? 'Rollers that may mark the yarn' : '',
    fields: [
      { name: `part-${row}`, label: `Roller ${row}, diameter`, unit: 'mm', range: [1, 1000] as const },
      { name: `part-${row}-draft`, label: `Draft from roller ${row} to yarn`, range: [0.1, 2000] as const },
    ],
  })),
];

export const WAVELENGTH_FIELDS: readonly NumberSpec[] = WAVELENGTH_GROUPS.flatMap((group) => group.fields);

/** What a peak may come from, with the finding that a diagnosis takes. */
export interface WavelengthAnswer {
  readonly matches: readonly WavelengthMatch[];
  readonly finding: 'groove-period' | 'drafting-wave' | 'metre-waves' | undefined;
  readonly sentences: readonly string[];
}

/** From this wavelength on a peak counts as one "at some metres". */
const METRES = 1000;

/** Matches a peak with the rotor, the rollers and the drafting wave. */
export function answerWavelength(
  values: Readonly<Record<string, number | undefined>>,
  unit: 'mm' | 'cm' | 'm',
): WavelengthAnswer {
  const value = values.peak ?? 1;
  const sources: WavelengthSources = {
    ...(values.diameter === undefined ? {} : { rotor: { diameterMm: values.diameter } }),
    parts: PART_ROWS.flatMap((row) => {
      const diameter = values[`part-${row}`];
      const draft = values[`part-${row}-draft`];
      return diameter === undefined || draft === undefined
        ? []
        : [{ name: `roller ${row}`, circumferenceMm: Math.PI * diameter, draftToYarn: draft }];
    }),
    drafting:
      values.staple === undefined || values.draft === undefined
        ? []
        : [{ name: 'the drafting before the frame', stapleMm: values.staple, draftToYarn: values.draft }],
  };
  const matches = matchWavelength({ value, unit }, sources);
  const mm = value * { mm: 1, cm: 10, m: 1000 }[unit];
  const [best] = matches;
  const finding =
    best?.kind === 'rotor'
      ? ('groove-period' as const)
      : best?.kind === 'drafting-wave'
        ? ('drafting-wave' as const)
        : mm >= METRES
          ? ('metre-waves' as const)
          : undefined;
  return { matches, finding, sentences: say(matches, finding) };
}

const FINDING_WORDS = {
  'groove-period': 'a peak at the groove length',
  'drafting-wave': 'a broad hump at medium waves',
  'metre-waves': 'peaks at some metres',
} as const;

function say(matches: readonly WavelengthMatch[], finding: WavelengthAnswer['finding']): string[] {
  const sentences: string[] = [];
  const [best] = matches;
  if (best === undefined)
    sentences.push(
      'Nothing that was given makes this wavelength. Give more rollers, or look at parts that come before.',
    );
  else {
    const times = best.harmonic === undefined || best.harmonic === 1 ? '' : `, ${best.harmonic} marks a turn`;
    const name = best.kind === 'rotor' ? 'the rotor' : best.source;
    sentences.push(
      best.kind === 'drafting-wave'
        ? `It fits ${name}: floating fibres that bunch make a wave of two and a half to three staple lengths, drawn out.`
        : `It fits ${name}${times}: within ${Math.max(1, Math.round(100 * best.deviation))} %.`,
    );
  }
  if (matches.length > 1)
    sentences.push(
      'More than one part fits. Exchange one of them and measure again before anything is renewed.',
    );
  if (best !== undefined)
    sentences.push('A fit is a hint and no proof: other parts can have the same wavelength.');
  if (finding !== undefined) sentences.push(`For the diagnosis this counts as: ${FINDING_WORDS[finding]}.`);
  return sentences;
}

/** What the card of a frame says of the fields: diameter, staple and draft. */
export function fieldsOfFrame(mill: Mill, id: string): Record<string, string> {
  const given = mill.get(id)?.card.given.values;
  if (given === undefined) return {};
  const { rotorDiameterMm: diameter, stapleMm: staple, countTex: yarn, sliverKtex: sliver } = given;
  return {
    ...(diameter === undefined ? {} : { diameter: String(diameter) }),
    ...(staple === undefined ? {} : { staple: String(staple) }),
    ...(yarn === undefined || sliver === undefined
      ? {}
      : { draft: String(Math.round((1000 * sliver) / yarn)) }),
  };
}
