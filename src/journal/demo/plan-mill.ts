import type { Draws } from './draws.js';
import type { CaseFile, DemoEngine, DemoFrame } from './engine.js';
import { lotMaterials } from './words.js';

const DAY = 86_400_000;

/** A yarn, a lot and a frame of the plan. */
export interface PlannedLot {
  readonly id: string;
  readonly name: string;
  readonly yarn: string;
  readonly material: string;
  /** Day from which it is spun, counted from the start of the year. */
  readonly from: number;
}

export interface PlannedFrame extends DemoFrame {
  readonly yarnId: string;
  /** How much trouble it has beside the others. */
  readonly weight: number;
  /** Breaks per 1000 rotor-hours on an ordinary day. */
  readonly norm: number;
  /** Share of the day it runs. */
  readonly running: number;
  /** Hours its nozzles and tubes had run at the start of the year. */
  readonly hoursAtStart: number;
  /** Day on which all its nozzles are renewed, if they are. */
  readonly renewalDay: number | undefined;
  /** How prone each position is to trouble, number 1 first. */
  readonly positionWeights: readonly number[];
}

export interface PlannedMill {
  readonly start: number;
  readonly days: number;
  readonly frames: readonly PlannedFrame[];
  readonly yarns: ReadonlyMap<string, string>;
  readonly lots: readonly PlannedLot[];
}

/** Frames of the mill. */
const FRAMES = 12;

/**
 * Lays out the mill: the product's own cards, further frames on the same yarns until there is a dozen, and a new lot for
 * every material each five weeks or so.
 */
export function planMill(engine: DemoEngine, draws: Draws, until: number, days: number): PlannedMill {
  const cards = engine.frames.slice(0, FRAMES);
  const copies = Array.from({ length: Math.max(0, FRAMES - cards.length) }, (_, n): DemoFrame => {
    const model = draws.pick(engine.frames);
    const number = cards.length + n + 1;
    return {
      ...model,
      id: `frame-${number}`,
      name: `Frame ${number}`,
      place: 'Hall B',
      note: `Runs the same yarn as ${model.name}.`,
    };
  });
  const yarns = new Map<string, string>();
  const yarnOf = (words: string) => {
    const known = [...yarns].find(([, name]) => name === words)?.[0];
    if (known !== undefined) return known;
    const id = `yarn-${yarns.size + 1}`;
    yarns.set(id, words);
    return id;
  };
  const frames = [...cards, ...copies].map(
    (card): PlannedFrame => ({
      ...card,
      yarnId: yarnOf(card.yarn),
      weight: draws.logNormal(1, 0.3),
      norm: draws.between(35, 110),
      running: draws.between(0.86, 0.96),
      hoursAtStart: draws.whole(500, 17_000),
      renewalDay: draws.chance(0.3) ? draws.whole(40, days - 60) : undefined,
      positionWeights: Array.from({ length: card.positions }, () =>
        draws.logNormal(1, draws.chance(0.03) ? 1.6 : 0.35),
      ),
    }),
  );
  const lots: PlannedLot[] = [];
  for (let day = 0, n = 1; day < days; day += draws.whole(28, 42), n++)
    [...yarns].forEach(([yarn, words], y) => {
      lots.push({
        id: `lot-${n}-${y + 1}`,
        name: `Lot ${n}/${y + 1}`,
        yarn,
        material: draws.pick(lotMaterials(words)),
        from: day,
      });
    });
  return { start: until - days * DAY, days, frames, yarns, lots };
}

/** The lot a frame spins on a day. */
export const lotOn = (mill: PlannedMill, frame: PlannedFrame, day: number): PlannedLot | undefined =>
  mill.lots.filter((lot) => lot.yarn === frame.yarnId && lot.from <= day).at(-1);

/** Hours that the nozzles of a frame have run on a day. */
export const nozzleHoursOn = (frame: PlannedFrame, day: number): number =>
  Math.round(
    frame.renewalDay !== undefined && day >= frame.renewalDay
      ? (day - frame.renewalDay) * 24 * frame.running
      : frame.hoursAtStart + day * 24 * frame.running,
  );

/** The instant of a day (fractions are hours), counted from the start. */
export const instantOn = (mill: PlannedMill, day: number): string =>
  new Date(mill.start + day * DAY).toISOString();

/** Lays one group of fields over another, group by group. */
export function overlay(under: CaseFile, over: CaseFile): CaseFile {
  const merged: Record<string, unknown> = { ...under };
  for (const [key, value] of Object.entries(over)) {
    const below = merged[key];
    merged[key] = isGroup(value) && isGroup(below) ? overlay(below, value) : value;
  }
  return merged;
}

const isGroup = (value: unknown): value is CaseFile =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A setup without the running hours of its parts, which the history of fittings tells better. */
export function withoutHours(setup: CaseFile): CaseFile {
  const strip = (key: string): CaseFile => {
    const group = setup[key];
    if (!isGroup(group)) return {};
    const { hours: _, ...rest } = group;
    return { [key]: rest };
  };
  return { ...setup, ...strip('nozzle'), ...strip('tube') };
}
