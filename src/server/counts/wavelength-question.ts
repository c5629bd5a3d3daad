import { say, wordTable } from '../../language/say.js';
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
export const wavelengthGroups = (): readonly {
  readonly title: string;
  readonly fields: readonly NumberSpec[];
}[] => [
  {
    title: say('count-question.the-peak'),
    fields: [{ name: 'peak', label: say('count-question.peak'), range: [0.001, 1_000_000], needed: true }],
  },
  {
    title: say('count-question.rotor-fibre'),
    fields: [
      {
        name: 'diameter',
        label: say('count-question.diameter'),
        unit: 'mm',
        range: [10, 150],
        hint: say('count-question.diameter-hint'),
      },
      { name: 'staple', label: say('count-question.staple'), unit: 'mm', range: [5, 200] },
      {
        name: 'draft',
        label: say('count-question.draft'),
        range: [1, 1000],
        hint: say('count-question.draft-hint'),
      },
    ],
  },
  ...PART_ROWS.map((row) => ({
    title: row === 1 ? say('count-question.rollers') : '',
    fields: [
      {
        name: `part-${row}`,
        label: say('count-question.roller-diameter', { row }),
        unit: 'mm',
        range: [1, 1000] as const,
      },
      {
        name: `part-${row}-draft`,
        label: say('count-question.roller-draft', { row }),
        range: [0.1, 2000] as const,
      },
    ],
  })),
];

/** All of them in one list. */
export const wavelengthFields = (): readonly NumberSpec[] =>
  wavelengthGroups().flatMap((group) => group.fields);

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
        : [
            {
              name: say('count-question.roller', { row }),
              circumferenceMm: Math.PI * diameter,
              draftToYarn: draft,
            },
          ];
    }),
    drafting:
      values.staple === undefined || values.draft === undefined
        ? []
        : [{ name: say('count-question.drafting'), stapleMm: values.staple, draftToYarn: values.draft }],
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
  return { matches, finding, sentences: sentencesOf(matches, finding) };
}

const FINDING_WORDS = wordTable('count-finding', ['groove-period', 'drafting-wave', 'metre-waves']);

function sentencesOf(matches: readonly WavelengthMatch[], finding: WavelengthAnswer['finding']): string[] {
  const sentences: string[] = [];
  const [best] = matches;
  if (best === undefined) sentences.push(say('count-question.no-match'));
  else {
    const times =
      best.harmonic === undefined || best.harmonic === 1
        ? ''
        : `, ${say('count-question.marks', { n: best.harmonic })}`;
    const name = best.kind === 'rotor' ? say('count-question.the-rotor') : best.source;
    sentences.push(
      best.kind === 'drafting-wave'
        ? say('count-question.fits-wave', { name })
        : say('count-question.fits', {
            name: `${name}${times}`,
            share: Math.max(1, Math.round(100 * best.deviation)),
          }),
    );
  }
  if (matches.length > 1) sentences.push(say('count-question.more-fit'));
  if (best !== undefined) sentences.push(say('count-question.a-hint'));
  if (finding !== undefined)
    sentences.push(say('count-question.counts-as', { finding: FINDING_WORDS[finding] }));
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
