import { requireFraction, requirePositive, requireWhole, requireWithin } from './checks.js';

/** A round part whose revolutions may show in the yarn. */
export interface RotatingPart {
  readonly name: string;
  /** Circumference in contact with the fibres or yarn, mm. */
  readonly circumferenceMm: number;
  /** Draft between this part and the yarn: a mark of one circumference is drawn out this many times. */
  readonly draftToYarn: number;
}

/** A drafting zone whose floating fibres may bunch. */
export interface DraftingZone {
  readonly name: string;
  readonly stapleMm: number;
  /** Draft between the delivery of this zone and the yarn. */
  readonly draftToYarn: number;
}

/** What a peak is compared with. */
export interface WavelengthSources {
  readonly rotor?: {
    readonly diameterMm: number;
    /** Shortening of the yarn by its twist as a fraction, 0–0.3; default 0. */
    readonly contraction?: number;
  };
  readonly parts?: readonly RotatingPart[];
  readonly drafting?: readonly DraftingZone[];
}

/** A possible origin of a spectrogram peak. */
export interface WavelengthMatch {
  readonly source: string;
  readonly kind: 'rotor' | 'part' | 'drafting-wave';
  /** 1 for one mark per revolution, 2 for two, …; undefined for a drafting wave. */
  readonly harmonic: number | undefined;
  readonly expectedMm: { readonly from: number; readonly to: number };
  /** Relative distance of the peak from the expectation (0 inside a band). */
  readonly deviation: number;
}

/** A drafting wave lies between these multiples of the staple length (common practice, no source; the hump is broad). */
const DRAFTING_WAVE = { from: 2.5, to: 3 };

/**
 * Names the parts that a periodic fault of the given wavelength may come from, nearest first.
 *
 * Rotor: one mark per revolution gives π·diameter·(1 − contraction) of yarn, as the ring in the groove is laid down once per
 * circumference; two marks give half of it, and so on. Part: circumference × draft, with its harmonics. Drafting wave: 2.5 to
 * 3 times the staple, times the draft. tolerance: relative, default 0.05; harmonics up to `harmonics`, default 3.
 * A match is a hint and no proof: several parts can have the same wavelength.
 */
export function matchWavelength(
  wavelength: { readonly value: number; readonly unit: 'mm' | 'cm' | 'm' },
  sources: WavelengthSources,
  options: { readonly tolerance?: number; readonly harmonics?: number } = {},
): WavelengthMatch[] {
  const peak = requirePositive('wavelength', wavelength.value) * { mm: 1, cm: 10, m: 1000 }[wavelength.unit];
  const tolerance = requireFraction('tolerance', options.tolerance ?? 0.05);
  const harmonics = requireWhole('harmonics', options.harmonics ?? 3, 1, 20);
  const candidates: Omit<WavelengthMatch, 'deviation'>[] = [];
  const addHarmonics = (source: string, kind: 'rotor' | 'part', fundamental: number) => {
    for (let harmonic = 1; harmonic <= harmonics; harmonic++) {
      const expected = fundamental / harmonic;
      candidates.push({ source, kind, harmonic, expectedMm: { from: expected, to: expected } });
    }
  };
  if (sources.rotor) {
    const contraction = requireWithin('rotor.contraction', sources.rotor.contraction ?? 0, 0, 0.3);
    const diameter = requirePositive('rotor.diameterMm', sources.rotor.diameterMm);
    addHarmonics('rotor', 'rotor', Math.PI * diameter * (1 - contraction));
  }
  sources.parts?.forEach((part, index) => {
    const circumference = requirePositive(`parts[${index}].circumferenceMm`, part.circumferenceMm);
    const draft = requirePositive(`parts[${index}].draftToYarn`, part.draftToYarn);
    addHarmonics(part.name, 'part', circumference * draft);
  });
  sources.drafting?.forEach((zone, index) => {
    const staple = requirePositive(`drafting[${index}].stapleMm`, zone.stapleMm);
    const draft = requirePositive(`drafting[${index}].draftToYarn`, zone.draftToYarn);
    candidates.push({
      source: zone.name,
      kind: 'drafting-wave',
      harmonic: undefined,
      expectedMm: { from: DRAFTING_WAVE.from * staple * draft, to: DRAFTING_WAVE.to * staple * draft },
    });
  });
  return candidates
    .map((candidate) => ({ ...candidate, deviation: distance(peak, candidate.expectedMm) }))
    .filter((match) => match.deviation <= tolerance)
    .sort((a, b) => a.deviation - b.deviation || (a.harmonic ?? 1) - (b.harmonic ?? 1));
}

function distance(peak: number, band: { readonly from: number; readonly to: number }): number {
  if (peak < band.from) return (band.from - peak) / band.from;
  if (peak > band.to) return (peak - band.to) / band.to;
  return 0;
}
