import type { FibreShare, SpinningSetup } from '../../spinning/setup.js';
import { fromTurnsPerMetre } from '../../spinning/units/twist.js';
import { readCaseObject } from '../case/case-file.js';
import { applyChanges } from '../case/setup-change.js';
import { QUANTITY_FIELDS, WORD_FIELDS } from '../case/setup-fields.js';
import { commonRotor, usualSetup } from '../case/usual-setup.js';
import type { Random } from '../network/random.js';
import { TrainingError } from './errors.js';
import type { PracticeBook } from './practice-schema.js';
import type { TrainingRoom } from './room.js';
import { drawBetween, drawOne } from './seeded.js';

/** A frame's card as dealt, and as it was before something was set wrong. */
export interface InventedSetup {
  /** "Cotton 20 Ne, knitting yarn". */
  readonly name: string;
  readonly card: Record<string, unknown>;
  /** The card without the fault; the same where the fault is not on the card. */
  readonly sound: Record<string, unknown>;
  /** Fields of the card, as paths, in which the two differ. */
  readonly differ: readonly string[];
}

/** Steps to which the figures of a card are rounded, in the model's units, by field. */
const ROUNDING: Readonly<Record<string, number>> = {
  stapleMm: 0.5,
  finenessMtex: 1,
  rotorSpeedRpm: 1000,
  nozzleRadiusMm: 0.5,
  nozzleProtrusionMm: 0.1,
  nozzleHours: 100,
  tubeBendDeg: 5,
  tubeHours: 100,
  openingRollerRpm: 100,
  temperatureC: 0.5,
  humidityPct: 1,
  sliverKtex: 0.1,
  sliverTrashPct: 0.01,
  windingTensionDraft: 0.005,
  recycledShare: 0.05,
};

/**
 * Invents a frame that spins one of the yarns of the practice book: the usual setup of its end use with the small
 * differences every mill has, and with the settings wrong that the given causes are about.
 */
export function inventSetup(room: TrainingRoom, causes: readonly string[], random: Random): InventedSetup {
  const { knowledge } = room.reasoner;
  const { practice } = room.material;
  const yarn = drawOne(random, practice.yarns);
  const count = drawOne(random, yarn?.counts ?? []);
  if (yarn === undefined || count === undefined) throw new TrainingError('the practice book names no yarn');
  const endUse = knowledge.endUses.get(yarn['end-use']);
  if (endUse === undefined) throw new TrainingError(`there is no end use "${yarn['end-use']}"`);
  const reading = readCaseObject(
    { setup: { fibre: yarn.fibre, count, 'end-use': yarn['end-use'] } },
    room.vocabulary,
  );
  if (!reading.ok) throw new TrainingError(`the yarn "${yarn.name}" cannot be read`, reading.problems);
  const { fibres = [], countTex = 25 } = reading.case.given.values;
  const usual = usualSetup(endUse, fibres, knowledge.parameters.fibres, countTex);
  const plain = roundSetup(scatter(usual, random));
  const changes = causes.flatMap((cause) => practice['setup-faults'][cause] ?? []);
  // A step at a time: one that cannot be made (no milder insert than none) leaves the rest in force.
  let wrong = plain;
  for (const change of changes) wrong = applyChanges(wrong, usual, [change]).setup;
  wrong = roundSetup(wrong);
  const sound = cardOf(plain, yarn, count);
  const card = cardOf(wrong, yarn, count);
  return {
    name: `${sayFibres(fibres, room)} ${count}, ${yarn.name}`,
    card,
    sound,
    differ: differences(sound, card),
  };
}

/** Differences between mills: hours run, climate, a percent or two of speed and twist. */
function scatter(setup: SpinningSetup, random: Random): SpinningSetup {
  return {
    ...setup,
    twistPerMetre: setup.twistPerMetre * drawBetween(random, 0.985, 1.025),
    rotorDiameterMm: commonRotor(setup.rotorDiameterMm),
    rotorSpeedRpm: setup.rotorSpeedRpm * drawBetween(random, 0.95, 1.0),
    nozzleHours: drawBetween(random, 500, 15_000),
    tubeHours: drawBetween(random, 500, 15_000),
    temperatureC: setup.temperatureC + drawBetween(random, -1.5, 1.5),
    humidityPct: setup.humidityPct + drawBetween(random, -3, 3),
    sliverTrashPct: setup.sliverTrashPct * drawBetween(random, 0.7, 1.3),
    openingRollerRpm: setup.openingRollerRpm * drawBetween(random, 0.97, 1.03),
  };
}

function roundSetup(setup: SpinningSetup): SpinningSetup {
  const rounded: Record<string, unknown> = { ...setup };
  for (const [key, step] of Object.entries(ROUNDING)) {
    const value = rounded[key];
    if (typeof value === 'number') rounded[key] = Number((Math.round(value / step) * step).toFixed(6));
  }
  return rounded as unknown as SpinningSetup;
}

/** The setup as the `setup` of a case file. */
function cardOf(
  setup: SpinningSetup,
  yarn: PracticeBook['yarns'][number],
  count: string,
): Record<string, unknown> {
  const card: Record<string, unknown> = {
    fibre: yarn.fibre,
    count,
    twist: `${fromTurnsPerMetre(setup.twistPerMetre, 'alpha-e', setup.countTex).toFixed(2)} alpha-e`,
    'end-use': yarn['end-use'],
  };
  const put = (path: string, value: unknown) => {
    const [group = '', name] = path.split('.');
    if (name === undefined) card[group] = value;
    else card[group] = { ...(card[group] as Record<string, unknown> | undefined), [name]: value };
  };
  for (const field of QUANTITY_FIELDS) {
    if (field.path === 'count' || field.path === 'twist') continue;
    if (field.key === 'notches' && setup.nozzleSurface !== 'notched') continue;
    if (field.key === 'recycledShare' && setup.recycledShare === 0) continue;
    const value = Number((setup[field.key] / field.scale).toPrecision(6));
    put(field.path, field.unit === '1' ? value : `${value} ${field.unit}`);
  }
  for (const field of WORD_FIELDS) {
    if (field.key === 'delustrant' && setup.fibres.every((one) => one.fibre === 'cotton')) continue;
    put(field.path, setup[field.key]);
  }
  return card;
}

function differences(a: Record<string, unknown>, b: Record<string, unknown>, at = ''): string[] {
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => {
    const [left, right] = [a[key], b[key]];
    if (typeof left === 'object' && left !== null && typeof right === 'object' && right !== null)
      return differences(left as Record<string, unknown>, right as Record<string, unknown>, `${at}${key}.`);
    return left === right ? [] : [`${at}${key}`];
  });
}

function sayFibres(fibres: readonly FibreShare[], room: TrainingRoom): string {
  const name = (id: string) => room.reasoner.knowledge.fibres.get(id)?.label ?? id;
  const [only] = fibres;
  if (fibres.length === 1 && only !== undefined) return name(only.fibre);
  return fibres.map((one) => `${Math.round(100 * one.share)} % ${name(one.fibre).toLowerCase()}`).join(', ');
}

/** The fields of a card that stand under the given paths, nested as in a case file. */
export function partOfCard(card: Record<string, unknown>, paths: readonly string[]): Record<string, unknown> {
  const part: Record<string, unknown> = {};
  for (const path of paths) {
    const [group = '', name] = path.split('.');
    const value = card[group];
    if (name === undefined) {
      if (value !== undefined) part[group] = value;
      continue;
    }
    const inner = (value as Record<string, unknown> | undefined)?.[name];
    if (inner !== undefined)
      part[group] = { ...(part[group] as Record<string, unknown> | undefined), [name]: inner };
  }
  return part;
}
