import type { Draws } from './draws.js';
import type { CaseFile, DemoCause, DemoEngine } from './engine.js';
import {
  lotOn,
  nozzleHoursOn,
  overlay,
  type PlannedFrame,
  type PlannedMill,
  withoutHours,
} from './plan-mill.js';

/** A case of the plan: what happened, what was seen of it, and how it ended. */
export interface PlannedCase {
  readonly day: number;
  readonly frame: PlannedFrame;
  readonly position: number | null;
  readonly lot: string | null;
  readonly cause: DemoCause;
  readonly title: string;
  /** The case as it was opened, and with everything found later. */
  readonly opening: CaseFile;
  readonly complete: CaseFile;
  /** Settings that were not as they should be while the trouble lasted; undefined when the card's held. */
  readonly setup: CaseFile | undefined;
  readonly changed: readonly string[];
  readonly checks: readonly { readonly check: string; readonly outcomes: readonly string[] }[];
  readonly breaksUp: boolean;
  readonly findDays: number;
  readonly fixDays: number;
  readonly end: 'by-trial' | 'by-part' | 'by-look' | 'suspected' | 'not-found' | 'unfinished';
  readonly cost: { readonly minutes: number; readonly rotorHours: number; readonly wasteKg: number };
}

/** Draws the cases of the year, by the causes' base rates, oldest first. */
export function planCases(engine: DemoEngine, mill: PlannedMill, draws: Draws, count: number): PlannedCase[] {
  const causes = engine.causes.filter((cause) => cause.examples.length > 0 && cause.base > 0);
  const days = Array.from({ length: count }, () => draws.between(2, mill.days - 0.2)).sort((a, b) => a - b);
  const planned = days.map((day) => {
    const cause = draws.weighted(causes, (one) => one.base);
    const example = draws.pick(cause.examples);
    const frame = frameFor(mill, example, draws);
    return planCase(engine, mill, draws, { day, cause, example, frame });
  });
  return leaveOpen(
    planned,
    (day) => {
      // Only what has something left to look at can be gone on with.
      const cause = draws.weighted(causes, (one) => (one.examples.some(hasFindings) ? one.base : 0));
      const example = draws.pick(cause.examples.filter(hasFindings));
      return planCase(engine, mill, draws, { day, cause, example, frame: frameFor(mill, example, draws) });
    },
    mill.days,
  );
}

const hasFindings = (example: CaseFile): boolean => Object.keys(example.findings ?? {}).length > 0;

/** Days before the end on which the last cases are opened, and when their cause is known and the trouble over. */
const STILL_OPEN = [
  // An action has been taken, and it is to be seen whether it helps.
  { before: 1.6, findDays: 0.8, fixDays: 3 },
  // Opened in the last shift: checks are to be made.
  { before: 0.35, findDays: 2, fixDays: 4 },
] as const;

/** Has the last cases of the year under way at its end, so that there is something to go on with. */
function leaveOpen(
  planned: readonly PlannedCase[],
  planAnew: (day: number) => PlannedCase,
  end: number,
): PlannedCase[] {
  if (planned.length <= STILL_OPEN.length) return [...planned];
  const open = STILL_OPEN.map(({ before, findDays, fixDays }): PlannedCase => {
    return { ...planAnew(end - before), findDays, fixDays, end: 'unfinished' };
  });
  return [...planned.slice(0, -open.length), ...open].sort((a, b) => a.day - b.day);
}

/** A frame that spins the fibre of the example, where there is one. */
function frameFor(mill: PlannedMill, example: CaseFile, draws: Draws): PlannedFrame {
  const fibre = (setup: unknown) => JSON.stringify((setup as CaseFile | undefined)?.fibre ?? null);
  const alike = mill.frames.filter((frame) => fibre(frame.setup) === fibre(example.setup));
  return draws.weighted(alike.length > 0 ? alike : mill.frames, (frame) => frame.weight);
}

function planCase(
  engine: DemoEngine,
  mill: PlannedMill,
  draws: Draws,
  what: {
    readonly day: number;
    readonly cause: DemoCause;
    readonly example: CaseFile;
    readonly frame: PlannedFrame;
  },
): PlannedCase {
  const { day, cause, example, frame } = what;
  const group = (key: string) => (example[key] ?? {}) as Readonly<Record<string, unknown>>;
  const observations = blur(group('observations') as Record<string, string>, draws);
  const findings = Object.entries(group('findings'));
  const scope = [example.scope].flat()[0] as string | undefined;
  const atPosition = scope === 'position';
  const changed = ([example.changed].flat() as (string | undefined)[]).filter(
    (one): one is string => one !== undefined && one !== 'none',
  );
  const given = exampleSetup(example, frame);
  const hours = nozzleHoursOn(frame, day);
  const setup = overlay(overlay(underneath(frame, given), { nozzle: { hours } }), given);
  const base: CaseFile = {
    setup,
    ...(example.before === undefined ? {} : { before: example.before }),
    observations,
    ...(scope !== undefined && draws.chance(0.75) ? { scope } : {}),
    ...(example.onset !== undefined && draws.chance(0.6) ? { onset: example.onset } : {}),
    ...(example.changed !== undefined && draws.chance(0.45) ? { changed: example.changed } : {}),
    ...(example.measurements === undefined ? {} : { measurements: example.measurements }),
  };
  const known = findings.filter(() => draws.chance(0.12));
  const [first] = Object.entries(observations).filter(([, level]) => level !== 'absent');
  const where = atPosition ? 'one position' : scope === 'section' ? 'a section' : frame.name;
  const findDays = Math.min(3, draws.logNormal(0.06, 0.9));
  const fixDays = findDays + Math.min(6, draws.logNormal(0.12, 1));
  return {
    day,
    frame,
    position: atPosition ? pickPosition(frame, draws) : null,
    lot: lotOn(mill, frame, day)?.id ?? null,
    cause,
    title: `${first === undefined ? 'Something is wrong' : engine.symptomLabel(first[0])}, ${where}`,
    opening: { ...base, ...(known.length === 0 ? {} : { findings: Object.fromEntries(known) }) },
    complete: { ...base, ...(findings.length === 0 ? {} : { findings: Object.fromEntries(findings) }) },
    setup:
      Object.keys(withoutHours(given)).length > 0 && changed.length > 0 ? withoutHours(setup) : undefined,
    changed,
    checks: findings
      .filter((one) => !known.includes(one))
      .map(([check, found]) => ({ check, outcomes: outcomes(found) })),
    breaksUp: observations['end-breaks'] === 'marked' || observations['end-breaks'] === 'slight',
    findDays,
    fixDays,
    end: day + fixDays > mill.days ? 'unfinished' : drawEnd(draws, findings.length > 0),
    cost: {
      minutes: Math.round(draws.logNormal(70, 0.7)),
      rotorHours: Math.round((atPosition ? draws.logNormal(4, 0.8) : draws.logNormal(120, 1)) * 10) / 10,
      wasteKg: Math.round((atPosition ? draws.logNormal(1, 0.8) : draws.logNormal(18, 1)) * 10) / 10,
    },
  };
}

/** What an example says of the setup beyond fibre, count and use, which are the frame's own. */
function exampleSetup(example: CaseFile, frame: PlannedFrame): CaseFile {
  const setup = (example.setup ?? {}) as CaseFile;
  const sameFibre = JSON.stringify(setup.fibre ?? null) === JSON.stringify(frame.setup.fibre ?? null);
  if (!sameFibre) return setup;
  const { fibre: _, count: __, 'end-use': ___, ...rest } = setup;
  return rest;
}

/** The frame's card; its notches go when the example tells of another nozzle. */
function underneath(frame: PlannedFrame, given: CaseFile): CaseFile {
  const card = withoutHours(frame.setup);
  const nozzle = (given.nozzle ?? {}) as CaseFile;
  if (nozzle.surface === undefined) return card;
  const { notches: _, ...rest } = (card.nozzle ?? {}) as CaseFile;
  return { ...card, nozzle: rest };
}

/** What people tell: now and then a sign is overlooked, or called slight where it is marked, and the other way round. */
function blur(observations: Readonly<Record<string, string>>, draws: Draws): Record<string, string> {
  const told = Object.entries(observations).filter(() => !draws.chance(0.3));
  const kept = told.length > 0 ? told : Object.entries(observations);
  return Object.fromEntries(
    kept.map(([symptom, level]) => [
      symptom,
      level === 'absent' || !draws.chance(0.2) ? level : level === 'marked' ? 'slight' : 'marked',
    ]),
  );
}

function outcomes(found: unknown): string[] {
  if (Array.isArray(found)) return found.map(String);
  if (typeof found === 'object' && found !== null)
    return Object.entries(found).map(([part, result]) => `${part}.${String(result)}`);
  return [String(found)];
}

function drawEnd(draws: Draws, lookedAt: boolean): PlannedCase['end'] {
  return draws.weighted(['by-trial', 'by-part', 'by-look', 'suspected', 'not-found'] as const, (end) =>
    end === 'by-look'
      ? lookedAt
        ? 0.3
        : 0
      : { 'by-trial': 0.28, 'by-part': 0.25, suspected: 0.1, 'not-found': 0.07 }[end],
  );
}

function pickPosition(frame: PlannedFrame, draws: Draws): number {
  const numbers = frame.positionWeights.map((_, n) => n + 1);
  return draws.weighted(numbers, (number) => (frame.positionWeights[number - 1] ?? 1) ** 2);
}
