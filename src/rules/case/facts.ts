import type { FibreEntry } from '../../spinning/parameters.js';
import type { FibreId, SpinningSetup } from '../../spinning/setup.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { insertRank, textureRank } from './ladders.js';
import type { ResolvedSetup } from './resolve-setup.js';
import { usualSpeed, usualTwist } from './setup-change.js';
import { setupField } from './setup-fields.js';
import { type Facts, type FactValue, type GivenSetup, SETUP_PATHS } from './types.js';

type Given = GivenSetup['values'];

/** Significant digits kept in facts, so that a limit in a rule is not missed by a rounding error. */
const DIGITS = 9;

/**
 * The facts that rules see of the setup. Only what was given is known: a fact about an assumed value has no key.
 *
 * - `setup.<field>` in the units of the case file's help (shares in %), and `setup.alpha-e`;
 * - `fibre.main` and `fibre.<id>` (% of the mix, 0 for the fibres that are not in it), `fibre.thermoplastic` (%);
 * - `deviation.<setting>`: given value against the usual one for fibre, count and end use: % for twist (against the
 *   usual multiplier), rotor speed (against the usual rim speed on the rotor fitted) and opening roller; steps for
 *   texture and insert; mm and degrees for the rest. The twist's is known only if the end use was given;
 * - `before.<setting>`: now minus before, in the same units; known where both are given.
 */
export function setupFacts(
  given: GivenSetup,
  before: GivenSetup | undefined,
  resolved: Pick<ResolvedSetup, 'uncertain' | 'usual' | 'endUseAssumed'>,
  fibres: Readonly<Record<FibreId, FibreEntry>>,
): Facts {
  const facts: Record<string, FactValue> = {};
  const put = (name: string, value: FactValue | undefined) => {
    if (value === undefined) return;
    facts[name] = typeof value === 'number' ? tidy(value) : value;
  };
  const { values } = given;

  put('setup.end-use', given.endUse);
  for (const path of SETUP_PATHS) {
    const field = setupField(path);
    if (field === undefined) continue;
    const value = values[field.key];
    if (value === undefined) continue;
    put(`setup.${path}`, field.type === 'word' ? value : Number(value) / field.scale);
  }
  put('setup.alpha-e', alphaOf(values));
  putFibres(put, values, fibres);

  const { central } = resolved.uncertain;
  const { usual } = resolved;
  if (!resolved.endUseAssumed)
    put('deviation.twist', percent(values.twistPerMetre, usualTwist(central, usual)));
  put('deviation.rotor-speed', percent(values.rotorSpeedRpm, usualSpeed(central, usual)));
  put('deviation.opening-roller', percent(values.openingRollerRpm, usual.openingRollerRpm));
  for (const [name, value] of differences(values, usual)) put(`deviation.${name}`, value);

  if (before !== undefined) {
    const was = before.values;
    put('before.twist', twistChange(values, was));
    put('before.rotor-speed', percent(values.rotorSpeedRpm, was.rotorSpeedRpm));
    put('before.opening-roller', percent(values.openingRollerRpm, was.openingRollerRpm));
    for (const [name, value] of differences(values, was)) put(`before.${name}`, value);
  }
  return facts;
}

/** Settings whose difference is counted in steps, mm or degrees. */
function differences(now: Given, then: Partial<SpinningSetup>): [string, number | undefined][] {
  return [
    ['texture', minus(rankOfTexture(now), rankOfTexture(then))],
    ['insert', minus(rankOfInsert(now), rankOfInsert(then))],
    ['nozzle-radius', minus(now.nozzleRadiusMm, then.nozzleRadiusMm)],
    ['nozzle-protrusion', minus(now.nozzleProtrusionMm, then.nozzleProtrusionMm)],
    ['rotor-diameter', minus(now.rotorDiameterMm, then.rotorDiameterMm)],
    ['tube-bend', minus(now.tubeBendDeg, then.tubeBendDeg)],
  ];
}

function rankOfTexture(values: Partial<SpinningSetup>): number | undefined {
  const { nozzleSurface: surface, notches } = values;
  if (surface === undefined || (surface === 'notched' && notches === undefined)) return undefined;
  return textureRank({ surface, notches: notches ?? 0 });
}

const rankOfInsert = (values: Partial<SpinningSetup>) =>
  values.insert === undefined ? undefined : insertRank(values.insert);

function putFibres(
  put: (name: string, value: FactValue | undefined) => void,
  values: Given,
  fibres: Readonly<Record<FibreId, FibreEntry>>,
): void {
  if (values.fibres === undefined) return;
  let main = values.fibres[0];
  let thermoplastic = 0;
  for (const id of Object.keys(fibres)) put(`fibre.${id}`, 0);
  for (const one of values.fibres) {
    if (main === undefined || one.share > main.share) main = one;
    if (Object.hasOwn(fibres, one.fibre) && fibres[one.fibre]?.thermoplastic) thermoplastic += one.share;
    put(`fibre.${one.fibre}`, one.share * 100);
  }
  put('fibre.main', main?.fibre);
  put('fibre.thermoplastic', thermoplastic * 100);
}

/** Change of twist in %: of the multiplier when the count before was another, else of the turns. */
function twistChange(now: Given, was: Given): number | undefined {
  if (was.countTex === undefined || now.countTex === undefined) {
    return percent(now.twistPerMetre, was.twistPerMetre);
  }
  return percent(alphaOf(now), alphaOf(was));
}

function alphaOf(values: Given): number | undefined {
  return values.twistPerMetre === undefined || values.countTex === undefined
    ? undefined
    : fromTurnsPerMetre(values.twistPerMetre, 'alpha-e', values.countTex);
}

function percent(now: number | undefined, then: number | undefined): number | undefined {
  return now === undefined || then === undefined || then === 0 ? undefined : (now / then - 1) * 100;
}

function minus(now: number | undefined, then: number | undefined): number | undefined {
  return now === undefined || then === undefined ? undefined : now - then;
}

function tidy(value: number): number {
  const rounded = Number(value.toPrecision(DIGITS));
  return Math.abs(rounded) < 1e-9 ? 0 : rounded;
}
