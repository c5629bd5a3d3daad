import type { SpinningSetup } from '../../spinning/setup.js';
import { toTurnsPerMetre } from '../../spinning/units/twist.js';
import { type Texture, textureAt, textureOf, textureRank } from '../case/ladders.js';

/** Where a setting stands between too low (-1), suitable (0) and too high (1). */
export type Level = -1 | 0 | 1;

/** A setting's end, read from words: a level, and the value where the words hold one. */
export interface SettingEnd {
  readonly level: Level;
  readonly value?: number;
}

/** How a setting of a published record is brought into the product. */
export interface SignSetting {
  /** What the words of one end say; undefined when they say nothing the product knows. */
  read(words: string): SettingEnd | undefined;
  /** The reference setup with the setting at that end; absent where the spinning model has no such setting. */
  apply?(reference: SpinningSetup, end: SettingEnd): SpinningSetup;
  /** Causes that are this setting being too low and too high. */
  readonly low: readonly string[];
  readonly high: readonly string[];
}

type Words = readonly (readonly [RegExp, Level])[];

/** The level of the first pattern that fits. */
const reader =
  (words: Words) =>
  (text: string): SettingEnd | undefined => {
    const found = words.find(([pattern]) => pattern.test(text));
    return found === undefined ? undefined : { level: found[1] };
  };

const MIDDLE: Words = [[/\b(moderate|medium|adequate|critical|optimum|suitable|well[- ]dosed)\b/i, 0]];
const SIZES: Words = [
  ...MIDDLE,
  [/\b(low|lower|small|smaller|less|short|below|little|shallow|set back|relaxed)\b/i, -1],
  [/\b(high|higher|large|larger|more|above|long|sharp|excessive|beyond|protruding|unrelieved)\b/i, 1],
];

/** Reads a number with a unit, or else the words. */
const numbered = (pattern: RegExp, words: (text: string) => SettingEnd | undefined) => (text: string) => {
  const value = Number(pattern.exec(text)?.[1]);
  return Number.isFinite(value) && value > 0
    ? { level: words(text)?.level ?? (0 as Level), value }
    : words(text);
};

/** A number moved by so many percent per level, or set to the value. */
const scaled =
  (key: 'rotorSpeedRpm' | 'rotorDiameterMm' | 'nozzleRadiusMm' | 'openingRollerRpm', percent: number) =>
  (reference: SpinningSetup, { level, value }: SettingEnd): SpinningSetup => ({
    ...reference,
    [key]: value ?? reference[key] * (1 + (level * percent) / 100),
  });

/** Groups of fibre statements, each read from both ends' words. */
const FIBRE_SETTINGS: readonly (readonly [RegExp, SignSetting])[] = [
  [
    /recycled|waste/i,
    {
      read: (text) => {
        const percent = /(\d+)\s*(?:-\s*(\d+)\s*)?%/.exec(text);
        if (percent !== null) {
          const low = Number(percent[1]);
          const share = (low + Number(percent[2] ?? low)) / 2;
          return { level: share > 0 ? 1 : 0, value: share };
        }
        return /waste|recycled/i.test(text) ? { level: 1, value: 60 } : { level: 0, value: 0 };
      },
      apply: (reference, { value }) => ({ ...reference, recycledShare: (value ?? 0) / 100 }),
      low: [],
      high: ['recycled-share-high', 'short-fibre-high'],
    },
  ],
  [
    /trash|dust/i,
    {
      read: reader([
        [/clean/i, 0],
        [/trash|dust/i, 1],
      ]),
      low: [],
      high: ['sliver-trash', 'sliver-microdust'],
    },
  ],
  [
    /micronaire/i,
    {
      read: reader(SIZES),
      apply: (reference, { level }) => ({
        ...reference,
        finenessMtex: reference.finenessMtex * (1 + 0.1 * level),
      }),
      low: ['fibre-immature'],
      high: [],
    },
  ],
  [
    /weaker|stronger/i,
    {
      read: reader([
        [/weaker/i, -1],
        [/stronger/i, 0],
      ]),
      low: ['fibre-weak'],
      high: [],
    },
  ],
  [
    /uniform|combed|carded/i,
    {
      read: reader([
        [/shorter|carded/i, -1],
        [/longer|combed/i, 0],
      ]),
      low: ['short-fibre-high'],
      high: [],
    },
  ],
  [
    /fibre friction/i,
    {
      read: reader([
        [/low/i, -1],
        [/high/i, 0],
      ]),
      low: ['finish-excess'],
      high: [],
    },
  ],
  [
    /finish/i,
    {
      read: reader([
        [/overspray/i, 1],
        [/0\.10/i, 0],
      ]),
      low: ['finish-lack'],
      high: ['finish-excess'],
    },
  ],
  [
    /staple/i,
    {
      read: numbered(/(\d+(?:\.\d+)?)\s*mm staple/i, reader(SIZES)),
      apply: (reference, { value, level }) => ({
        ...reference,
        stapleMm: value ?? reference.stapleMm * (1 + 0.15 * level),
      }),
      low: [],
      high: [],
    },
  ],
];

/** Nozzle faces in words, with their texture on the ladder; the first pattern that fits. */
const TEXTURES: readonly (readonly [RegExp, Texture, Level])[] = [
  [/\b(4 then 8|8) notches/i, '8-notches', 1],
  [/knurled/i, 'knurled', 1],
  [/without notches/i, 'spiral', -1],
  [/rough|grooved|notched|\b4 notches/i, '4-notches', 1],
  [/spiral/i, 'spiral', -1],
  [/smooth/i, 'smooth', -1],
  [/excessive|too high|high friction/i, '8-notches', 1],
  [/moderate|well-dosed/i, '3-notches', 0],
  [/low friction/i, 'smooth', -1],
];

const INSERT: SignSetting = {
  read: reader([
    [/smooth|none|without|\bno\b/i, -1],
    [/with|strong|aggressive|fluted/i, 1],
  ]),
  apply: (reference, { level }) => ({ ...reference, insert: level > 0 ? '2-groove' : 'none' }),
  low: ['twist-retention-too-weak'],
  high: ['insert-too-aggressive'],
};

const MIXED: SignSetting = {
  read: reader([
    [/mixed/i, 1],
    [/\bone\b/i, 0],
  ]),
  low: [],
  high: ['nozzle-mixed', 'rotor-mixed'],
};

/** How far the yarn lies against the nozzle: the farther the nozzle stands out, the more. */
const CONTACT: SignSetting = {
  read: reader([
    [/\bno nozzle contact/i, -1],
    [/over (the )?nozzle/i, 1],
  ]),
  apply: (reference, { level }) => ({
    ...reference,
    nozzleProtrusionMm: reference.nozzleProtrusionMm + Math.min(0, 3 * level),
  }),
  low: [],
  high: [],
};

/** The settings of published records, by the record's word for them. */
const SETTINGS: Readonly<Record<string, SignSetting>> = {
  rotor_speed: {
    read: numbered(/(\d{4,6})\s*rpm/i, reader(SIZES)),
    apply: scaled('rotorSpeedRpm', 15),
    low: ['rotor-speed-too-low'],
    high: ['rotor-speed-too-high'],
  },
  rotor_diameter: {
    read: numbered(/(\d+(?:\.\d+)?)\s*mm/i, reader(SIZES)),
    apply: scaled('rotorDiameterMm', 12),
    low: ['rotor-too-small-for-fibre'],
    high: ['rotor-too-large-for-speed'],
  },
  twist_multiplier: {
    read: (text) => {
      const alphaE = Number(/alpha-e\s*(\d+(?:\.\d+)?)/i.exec(text)?.[1]);
      if (Number.isFinite(alphaE)) return { level: 0, value: -alphaE };
      return numbered(/(\d{3,4})\s*turns\/m/i, reader(SIZES))(text);
    },
    apply: (reference, { level, value }) => ({
      ...reference,
      twistPerMetre:
        value === undefined
          ? reference.twistPerMetre * (1 + 0.12 * level)
          : value > 0
            ? value
            : toTurnsPerMetre(-value, 'alpha-e', reference.countTex),
    }),
    low: ['twist-too-low'],
    high: ['twist-too-high'],
  },
  yarn_count: {
    read: numbered(
      /(\d+(?:\.\d+)?)\s*tex/i,
      reader([
        [/finer|next count unit|about 100 fibres/i, -1],
        [/coarser|one count unit coarser/i, 0],
      ]),
    ),
    // The multiplier stays: twist follows the count.
    apply: (reference, { level, value }) => {
      const countTex = value ?? reference.countTex * (1 + 0.3 * level);
      return {
        ...reference,
        countTex,
        twistPerMetre: reference.twistPerMetre * Math.sqrt(reference.countTex / countTex),
      };
    },
    low: ['too-few-fibres'],
    high: [],
  },
  nozzle_surface: {
    read: (text) => {
      const found = TEXTURES.find(([pattern]) => pattern.test(text));
      return found === undefined ? undefined : { level: found[2], value: textureRank(textureOf(found[1])) };
    },
    apply: (reference, { value }) => {
      const { surface, notches } = textureAt(value ?? 0);
      return { ...reference, nozzleSurface: surface, notches };
    },
    low: ['nozzle-too-smooth'],
    high: ['nozzle-too-rough'],
  },
  nozzle_radius: {
    read: numbered(/(\d+(?:\.\d+)?)\s*mm/i, reader(SIZES)),
    apply: scaled('nozzleRadiusMm', 30),
    low: ['nozzle-radius-too-small'],
    high: ['nozzle-radius-too-large'],
  },
  nozzle_protrusion: {
    read: reader([
      [/set back/i, -1],
      [/protruding/i, 1],
    ]),
    apply: (reference, { level }) => ({
      ...reference,
      nozzleProtrusionMm: reference.nozzleProtrusionMm + level,
    }),
    low: [],
    high: [],
  },
  nozzle_material: {
    read: reader([
      [/\bceramic\b/i, -1],
      [/steel/i, 1],
    ]),
    apply: (reference, { level }) => ({ ...reference, nozzleMaterial: level > 0 ? 'steel' : 'ceramic' }),
    low: [],
    high: [],
  },
  tube_bend_angle: {
    read: (text) => {
      if (/straight/i.test(text)) return { level: -1, value: 0.001 };
      return numbered(/(\d+)\s*deg/i, reader(SIZES))(text);
    },
    apply: (reference, { level, value }) => ({
      ...reference,
      tubeBendDeg: value ?? Math.max(0, reference.tubeBendDeg + 20 * level),
    }),
    low: [],
    high: ['tube-bend-too-sharp'],
  },
  twist_retention_insert: INSERT,
  opening_roller_speed: {
    read: numbered(/(\d{4,5})\s*rpm/i, reader(SIZES)),
    apply: scaled('openingRollerRpm', 12),
    low: ['opening-speed-too-low'],
    high: ['opening-speed-too-high'],
  },
  groove_type: {
    read: reader([
      [/fresh/i, 0],
      [/worn/i, -1],
      [/narrow/i, -1],
      [/wide|rounded/i, 1],
    ]),
    apply: (reference, { level }) => ({ ...reference, groove: level > 0 ? 'wide' : 'narrow' }),
    low: ['groove-too-narrow'],
    high: ['groove-too-wide'],
  },
  humidity: {
    read: (text) => {
      const percent = /(\d+)(?:-(\d+))?\s*%\s*RH/i.exec(text);
      const words = reader([
        [/dry or very humid|below/i, -1],
        [/dry/i, -1],
        [/moisture content/i, 1],
      ])(text);
      if (percent === null) return words;
      const value = (Number(percent[1]) + Number(percent[2] ?? percent[1])) / 2;
      return { level: words?.level ?? 0, value };
    },
    apply: (reference, { level, value }) => ({
      ...reference,
      humidityPct: value ?? reference.humidityPct + 15 * level,
    }),
    low: ['humidity-low'],
    high: ['humidity-high'],
  },
  winding_tension: {
    read: reader([...MIDDLE, [/too low|\blow\b/i, -1], [/too high|\bhigh\b/i, 1]]),
    low: ['winding-tension-too-low'],
    high: ['winding-tension-too-high'],
  },
  sliver_hank_draft: {
    read: reader([
      [/higher|heav(y|ier)|above 200/i, 1],
      [/lower|finer|about 100/i, 0],
    ]),
    low: [],
    high: ['draft-too-high'],
  },
};

/**
 * The product's reading of a record's setting.
 *
 * A worn groove and mixed parts are not settings turned up or down but causes of their own; an insert in the nozzle's
 * throat is taken for a twist-retention insert, the nearest part the product knows.
 *
 * @returns undefined when the product has no such setting
 */
export function signSetting(setting: string, from: string, to: string): SignSetting | undefined {
  const words = `${from} ${to}`;
  if (setting === 'fibre') return FIBRE_SETTINGS.find(([pattern]) => pattern.test(words))?.[1];
  if (setting === 'nozzle_surface' && /mixed/i.test(words)) return MIXED;
  if (setting === 'nozzle_surface' && /throat insert/i.test(words)) return INSERT;
  if (setting === 'nozzle_surface' && /nozzle contact/i.test(words)) return CONTACT;
  if (setting === 'groove_type' && /worn/i.test(words)) {
    const { apply: _, ...groove } = SETTINGS.groove_type as SignSetting;
    return { ...groove, low: ['rotor-groove-worn'], high: [] };
  }
  return Object.hasOwn(SETTINGS, setting) ? SETTINGS[setting] : undefined;
}
