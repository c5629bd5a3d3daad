import { localDecimal } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import { inSentence } from '../../language/words.js';
import { drawNamed } from '../../spinning/draws.js';
import type { Spread } from '../../spinning/parameters.js';
import {
  copySetup,
  type DrawSource,
  type FibreShare,
  type SetupDraft,
  type SpinningSetup,
  type UncertainSetup,
} from '../../spinning/setup.js';
import { fromTurnsPerMetre, toTurnsPerMetre } from '../../spinning/units/twist.js';
import type { EndUse } from '../knowledge/end-use-schema.js';
import { describeTexture, type NozzleTexture } from './ladders.js';
import { fibreWord, optionWord } from './option-words.js';
import {
  clampToPossible,
  formatNumber,
  formatQuantity,
  type NumberKey,
  quantityFieldOf,
  setupLabel,
  withUnitSign,
} from './setup-fields.js';
import type { Assumption, CaseWarning, GivenSetup, SetupPath } from './types.js';
import {
  COMMON_ROTORS_MM,
  commonRotor,
  type SetupKnowledge,
  setupOfUsual,
  topRotorSpeed,
  type UsualValues,
  type UsualWord,
  usualRotorSpeed,
  usualValues,
} from './usual-setup.js';

/** A given setup made complete. */
export interface ResolvedSetup {
  /** The setup with the doubt about every value. */
  readonly uncertain: UncertainSetup;
  /** The usual setup for the same material (fibres, staple, fineness, count, dirt, hours run) and end use. */
  readonly usual: SpinningSetup;
  readonly endUse: EndUse;
  /** True when the case did not say what the yarn is for. */
  readonly endUseAssumed: boolean;
  readonly assumed: readonly Assumption[];
  readonly warnings: readonly CaseWarning[];
}

/** Draws one value into the setup. Later steps may use what earlier ones drew. */
type Step = (draft: SetupDraft, draw: DrawSource) => void;

/** Quantities that are simply given or usual; count, twist, rotor and nozzle texture have steps of their own. */
const PLAIN_NUMBERS = [
  'recycledShare',
  'stapleMm',
  'finenessMtex',
  'nozzleRadiusMm',
  'nozzleProtrusionMm',
  'nozzleHours',
  'tubeBendDeg',
  'tubeHours',
  'openingRollerRpm',
  'temperatureC',
  'humidityPct',
  'sliverKtex',
  'sliverTrashPct',
  'windingTensionDraft',
] as const satisfies readonly (NumberKey & keyof UsualValues)[];
const PLAIN_WORDS = [
  ['delustrant', 'delustrant'],
  ['groove', 'rotor.groove'],
  ['nozzleMaterial', 'nozzle.material'],
  ['insert', 'tube.insert'],
] as const;

/** Uses among which one is chosen by the twist when none is given, the first on a tie. */
const USES_BY_TWIST = ['weft', 'knitting', 'warp'] as const;
/** From this recycled share on, a yarn of unknown use is taken for a waste yarn. Standing: judgement. */
const WASTE_FROM = 0.4;

/**
 * Completes what a case gives to a whole setup with its doubt.
 *
 * A given value stands but for the small spread of the instrument that measured it. What was not given is taken
 * from the usual values for fibre, count and end use, scatters as mills differ, and is listed in `assumed`. With a
 * rotor speed but no diameter, the diameter is the common one that brings the speed nearest to the usual rim speed,
 * at most one size from the usual one. The end use, if unknown, is judged from the recycled share and the twist, else
 * `weft`.
 *
 * @throws RangeError when a given fibre or end use is not in the knowledge base, or the knowledge base has no end use
 */
export function resolveSetup(given: GivenSetup, knowledge: SetupKnowledge): ResolvedSetup {
  const values = given.values;
  const assumed: Assumption[] = [];
  const warnings: CaseWarning[] = [];
  const assume = (field: SetupPath, value: string, why: string) =>
    assumed.push({ field, label: setupLabel(field), value, why });

  const fibres = values.fibres ?? assumedFibres(knowledge);
  if (values.fibres === undefined) {
    assume('fibre', describeFibres(fibres), say('assumed.no-fibre'));
    warnings.push({
      field: 'setup.fibre',
      message: say('assumed.no-fibre-warning', { fibre: describeFibres(fibres) }),
    });
  }
  const use = chooseEndUse(given, fibres, knowledge);
  const endUse = use.endUse;
  if (use.why !== undefined) {
    assume('end-use', endUse.label, use.why);
    warnings.push({
      field: 'setup.end-use',
      message: say('assumed.no-use-warning', { use: inSentence(endUse.label), why: use.why }),
    });
  }
  const countTex = values.countTex ?? usualCount(endUse);
  const usual = usualValues(endUse, fibres, knowledge.fibres, countTex);
  const why = say('assumed.usual-for', {
    use: inSentence(endUse.label),
    fibres: describeFibres(fibres),
    count: formatNumber(Number(countTex.toPrecision(3))),
  });

  const central = { ...setupOfUsual(usual, fibres, countTex), ...values } as SetupDraft;
  const steps: Step[] = [];

  // Count first: the twist of a multiplier hangs on it.
  if (values.countTex === undefined) {
    const spread = countSpread(endUse);
    assume(
      'count',
      describeNumber('countTex', countTex, spread),
      say('assumed.usual-for-use', { use: inSentence(endUse.label) }),
    );
    warnings.push({
      field: 'setup.count',
      message: say('assumed.no-count-warning', { count: formatNumber(countTex) }),
    });
    steps.push(drawNumber('countTex', 'setup:count', countTex, spread));
  } else steps.push(drawGiven('countTex', values.countTex));

  for (const key of PLAIN_NUMBERS) {
    const { path } = quantityFieldOf(key);
    const givenValue = values[key];
    if (givenValue !== undefined) {
      steps.push(drawGiven(key, givenValue));
      continue;
    }
    assume(path, describeNumber(key, usual[key].value, usual[key].spread), why);
    steps.push(drawNumber(key, `setup:${path}`, usual[key].value, usual[key].spread));
  }

  if (values.twistPerMetre === undefined) {
    const { value, spread } = usual.alphaE;
    assume(
      'twist',
      say('assumed.alpha', {
        alpha: formatNumber(value),
        twist: formatNumber(central.twistPerMetre),
        spread: describeSpread(spread, ''),
      }),
      why,
    );
    steps.push((draft, draw) => {
      const alphaE = Math.max(0.1, drawNamed(value, spread, draw, 'setup:twist'));
      draft.twistPerMetre = clampToPossible(
        'twistPerMetre',
        toTurnsPerMetre(alphaE, 'alpha-e', draft.countTex),
      );
    });
  } else steps.push(drawGiven('twistPerMetre', values.twistPerMetre));

  steps.push(...resolveRotor(values, usual, central, why, assume));
  for (const [key, path] of PLAIN_WORDS) {
    if (values[key] !== undefined) continue;
    const word: UsualWord<string> = usual[key];
    if (word.choices.length > 1) assume(path, describeWord(word, optionWord), why);
    const pick = picker(word);
    const name = `setup:${path}`;
    steps.push((draft, draw) => {
      Object.assign(draft, { [key]: pick(draw.next(name)) });
    });
  }
  const texture = resolveTexture(values, usual, central, why, assume);
  if (texture !== undefined) steps.push(texture);

  const complete: SpinningSetup = copySetup(central);
  return {
    uncertain: {
      central: complete,
      sample(draw) {
        const draft = copySetup(complete);
        for (const step of steps) step(draft, draw);
        return draft;
      },
    },
    usual: {
      ...setupOfUsual(usual, fibres, countTex),
      recycledShare: complete.recycledShare,
      delustrant: complete.delustrant,
      stapleMm: complete.stapleMm,
      finenessMtex: complete.finenessMtex,
      sliverTrashPct: complete.sliverTrashPct,
      nozzleHours: complete.nozzleHours,
      tubeHours: complete.tubeHours,
    },
    endUse,
    endUseAssumed: use.why !== undefined,
    assumed,
    warnings,
  };
}

/** Rotor diameter and speed: what is missing follows from the other and the usual rim speed. */
function resolveRotor(
  values: GivenSetup['values'],
  usual: UsualValues,
  central: SetupDraft,
  why: string,
  assume: (field: SetupPath, value: string, why: string) => void,
): Step[] {
  const steps: Step[] = [];
  const rim = usual.rimSpeed;
  if (values.rotorDiameterMm === undefined) {
    let middle = usual.rotorDiameterMm.value;
    let reason = why;
    if (values.rotorSpeedRpm !== undefined) {
      const fitting = (rim.value * 60_000) / (Math.PI * values.rotorSpeedRpm);
      const near = neighbouringRotor(usual.rotorDiameterMm.value, fitting);
      if (near !== middle) {
        middle = near;
        reason = say('assumed.fits-speed', { speed: formatNumber(values.rotorSpeedRpm) });
      }
    }
    central.rotorDiameterMm = middle;
    assume('rotor.diameter', describeNumber('rotorDiameterMm', middle, usual.rotorDiameterMm.spread), reason);
    steps.push((draft, draw) => {
      draft.rotorDiameterMm = commonRotor(
        drawNamed(middle, usual.rotorDiameterMm.spread, draw, 'setup:rotor.diameter'),
      );
    });
  }
  if (values.rotorSpeedRpm === undefined) {
    central.rotorSpeedRpm = usualRotorSpeed(rim.value, central.rotorDiameterMm);
    const sd = rim.spread.kind === 'normal' ? rim.spread.sd / rim.value : 0;
    assume(
      'rotor.speed',
      describeNumber('rotorSpeedRpm', central.rotorSpeedRpm, {
        kind: 'normal',
        sd: central.rotorSpeedRpm * sd,
      }),
      say('assumed.rim', { rim: formatNumber(rim.value), why }),
    );
    steps.push((draft, draw) => {
      const speed = drawNamed(rim.value, rim.spread, draw, 'setup:rotor.speed');
      const rpm = (Math.max(1, speed) * 60_000) / (Math.PI * draft.rotorDiameterMm);
      draft.rotorSpeedRpm = clampToPossible(
        'rotorSpeedRpm',
        Math.min(rpm, topRotorSpeed(draft.rotorDiameterMm)),
      );
    });
  } else steps.push(drawGiven('rotorSpeedRpm', values.rotorSpeedRpm));
  return steps;
}

/** Surface and notches, of which the notches alone may be unknown. */
function resolveTexture(
  values: GivenSetup['values'],
  usual: UsualValues,
  central: SetupDraft,
  why: string,
  assume: (field: SetupPath, value: string, why: string) => void,
): Step | undefined {
  if (values.nozzleSurface === undefined) {
    assume('nozzle.surface', describeWord(usual.texture, describeTexture), why);
    const pick = picker(usual.texture);
    return (draft, draw) => {
      const texture = pick(draw.next('setup:nozzle.surface'));
      draft.nozzleSurface = texture.surface;
      draft.notches = texture.notches;
    };
  }
  if (values.nozzleSurface !== 'notched') {
    central.notches = 0;
    return undefined;
  }
  if (values.notches !== undefined) return undefined;
  const notched = notchedOnly(usual.texture);
  central.notches = notched.value.notches;
  assume('nozzle.notches', describeWord(notched, describeTexture), say('assumed.notched-and', { why }));
  const pick = picker(notched);
  return (draft, draw) => {
    draft.notches = pick(draw.next('setup:nozzle.notches')).notches;
  };
}

/** The notched rungs among the usual textures; if there is none, four notches and its neighbours. */
function notchedOnly(usual: UsualWord<NozzleTexture>): UsualWord<NozzleTexture> {
  const four = { surface: 'notched', notches: 4 } as const;
  const notched = usual.choices.filter((one) => one.value.surface === 'notched');
  const sum = notched.reduce((total, one) => total + one.chance, 0);
  if (usual.value.surface !== 'notched' || sum <= 0) {
    return {
      value: four,
      choices: [
        { value: four, chance: 0.5 },
        { value: { surface: 'notched', notches: 3 }, chance: 0.25 },
        { value: { surface: 'notched', notches: 6 }, chance: 0.15 },
        { value: { surface: 'notched', notches: 8 }, chance: 0.1 },
      ],
      standing: 'judgement',
    };
  }
  return {
    value: usual.value,
    choices: notched.map((one) => ({ value: one.value, chance: one.chance / sum })),
    standing: usual.standing,
  };
}

function chooseEndUse(
  given: GivenSetup,
  fibres: readonly FibreShare[],
  knowledge: SetupKnowledge,
): { readonly endUse: EndUse; readonly why?: string } {
  const uses = knowledge.endUses;
  if (given.endUse !== undefined) {
    const endUse = uses.get(given.endUse);
    if (endUse === undefined) {
      throw new RangeError(
        `end-use: "${given.endUse}" is not known; known are: ${[...uses.keys()].join(', ')}`,
      );
    }
    return { endUse };
  }
  const { twistPerMetre, countTex, recycledShare } = given.values;
  const waste = uses.get('waste-yarn');
  if (recycledShare !== undefined && recycledShare >= WASTE_FROM && waste !== undefined) {
    return { endUse: waste, why: say('assumed.waste-share', { percent: formatNumber(recycledShare * 100) }) };
  }
  const fallback = uses.get('weft') ?? uses.values().next().value;
  if (fallback === undefined) throw new RangeError('the knowledge base has no end use');
  if (twistPerMetre === undefined || countTex === undefined) {
    return { endUse: fallback, why: say('assumed.nothing-says') };
  }
  const alphaE = fromTurnsPerMetre(twistPerMetre, 'alpha-e', countTex);
  let best = fallback;
  let least = Number.POSITIVE_INFINITY;
  for (const id of USES_BY_TWIST) {
    const endUse = uses.get(id);
    if (endUse === undefined) continue;
    const off = Math.abs(usualValues(endUse, fibres, knowledge.fibres, countTex).alphaE.value - alphaE);
    if (off < least - 1e-9) [best, least] = [endUse, off];
  }
  return { endUse: best, why: say('assumed.nearest-twist', { alpha: formatNumber(alphaE) }) };
}

function assumedFibres(knowledge: SetupKnowledge): readonly FibreShare[] {
  const ids = Object.keys(knowledge.fibres);
  const fibre = ids.includes('cotton') ? 'cotton' : ids[0];
  if (fibre === undefined) throw new RangeError('the knowledge base has no fibre');
  return [{ fibre, share: 1 }];
}

function usualCount(endUse: EndUse): number {
  const count = endUse.usual.count['by-fibre'].other;
  return typeof count === 'number' ? count : (count?.[0]?.value ?? 30);
}

function countSpread(endUse: EndUse): Spread {
  const spread = endUse.usual.count.spread;
  return 'sd' in spread
    ? { kind: 'normal', sd: spread.sd }
    : { kind: 'lognormal', sd: Math.log1p(spread.percent / 100) };
}

/** The common size nearest to `fitting`, at most one size away from `usual`. */
function neighbouringRotor(usual: number, fitting: number): number {
  const at = (COMMON_ROTORS_MM as readonly number[]).indexOf(usual);
  if (at < 0) return usual;
  const near = COMMON_ROTORS_MM.slice(Math.max(0, at - 1), at + 2);
  return near.reduce(
    (best, size) => (Math.abs(size - fitting) < Math.abs(best - fitting) ? size : best),
    usual,
  );
}

/** A given value, blurred by the instrument that measured it. */
function drawGiven(key: NumberKey, value: number): Step {
  const { instrument, path } = quantityFieldOf(key);
  if ('exact' in instrument)
    return (draft) => {
      draft[key] = value;
    };
  const sd = 'relative' in instrument ? instrument.relative * Math.abs(value) : instrument.absolute;
  // A share of nothing is known to be nothing.
  if (sd === 0 || (key === 'recycledShare' && value === 0)) return () => undefined;
  return drawNumber(key, `setup:${path}`, value, { kind: 'normal', sd });
}

function drawNumber(key: NumberKey, name: string, value: number, spread: Spread): Step {
  return (draft, draw) => {
    draft[key] = clampToPossible(key, drawNamed(value, spread, draw, name));
  };
}

/** Turns a uniform number into one of the choices. */
function picker<T>(word: UsualWord<T>): (uniform: number) => T {
  return (uniform) => {
    let left = uniform;
    for (const choice of word.choices) {
      left -= choice.chance;
      if (left < 0) return choice.value;
    }
    return word.value;
  };
}

function describeNumber(key: NumberKey, value: number, spread: Spread): string {
  const field = quantityFieldOf(key);
  const scaled: Spread = spread.kind === 'normal' ? { kind: 'normal', sd: spread.sd / field.scale } : spread;
  return `${formatQuantity(field, value)}, ${describeSpread(scaled, field.unit)}`;
}

function describeSpread(spread: Spread, unit: string): string {
  if (spread.kind === 'lognormal')
    return say('assumed.give-take-percent', {
      percent: formatNumber(Math.round(Math.expm1(spread.sd) * 100)),
    });
  if (spread.kind === 'uniform')
    return say('assumed.between', { low: formatNumber(spread.low), high: formatNumber(spread.high) });
  return say('assumed.give-take', {
    spread: withUnitSign(localDecimal(String(Number(spread.sd.toPrecision(2)))), unit),
  });
}

function describeWord<T>(word: UsualWord<T>, show: (value: T) => string): string {
  const usual = show(word.value);
  const others = word.choices.map((one) => show(one.value)).filter((one) => one !== usual);
  return others.length === 0
    ? usual
    : say('assumed.perhaps', { usual, others: others.join(` ${say('words.or')} `) });
}

/** `cotton`, `50 % cotton and 50 % polyester`. */
export function describeFibres(fibres: readonly FibreShare[]): string {
  if (fibres.length === 1) return fibreWord(fibres[0]?.fibre ?? '');
  return fibres
    .map((one) => `${formatNumber(Math.round(one.share * 1000) / 10)} % ${fibreWord(one.fibre)}`)
    .join(` ${say('words.and')} `);
}
