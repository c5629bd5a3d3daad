import { readCaseObject } from '../case/case-file.js';
import type { CaseInput } from '../case/types.js';
import { prepareCase } from '../diagnosis/prepare.js';
import type { Cause } from '../knowledge/schema.js';
import { CHANGES, type Change, type Onset, type Scope, WEIGHTS } from '../knowledge/vocabulary.js';
import type { Random } from '../network/random.js';
import { drawAnswers } from './answer.js';
import { TrainingError } from './errors.js';
import { type HiddenTruth, openGraph, sampleTruth } from './hidden-truth.js';
import { type InventedSetup, inventSetup, partOfCard } from './invented-setup.js';
import type { PracticeCase } from './practice-case.js';
import { MOST_SEED, type PracticeNumber, practiceCode } from './practice-code.js';
import type { Standing, TrainingRoom } from './room.js';
import { drawBetween, drawNormal, drawOne, drawPoisson, drawWeighted, randomFor } from './seeded.js';

/** Deals tried before the number is given up. */
const MOST_TRIES = 200;
/** A dealt cause must be at least this likely once every check is answered, or the case cannot be solved. */
const FOUND = 0.3;
/** Causes within this ratio of odds of the true one count as its rivals (5 decibans). */
const RIVAL = 10 ** 0.5;
const CHANCE = 'no-assignable-cause';

/**
 * Deals the case of a number: a frame with a hidden truth drawn from the product's own network.
 *
 * Causes are drawn by the square root of their base rate, so that rare ones are met more often than on the floor; the
 * card shows what a wrong setting would show; signs, places, beginnings and answers come from the network and the
 * cause's profiles; counts scatter as counts do. A deal is thrown away when its truth stays below 30 % although every
 * check is answered (with no fault: every check that tells chance from a fault), or when it is not of the kind its
 * level promises.
 *
 * @throws TrainingError when the seed is none, or no deal of this number comes out right
 */
export async function dealCase(room: TrainingRoom, number: PracticeNumber): Promise<PracticeCase> {
  const { level, seed } = number;
  if (!Number.isInteger(seed) || seed < 1 || seed > MOST_SEED)
    throw new TrainingError(`seed: ${seed} is not allowed; a whole number from 1 to ${MOST_SEED}`);
  const code = practiceCode(number);
  for (let round = 0; round < MOST_TRIES; round++) {
    const dealt = await tryDeal(room, number, code, round);
    if (dealt !== undefined) return dealt;
  }
  throw new TrainingError(`no case of level ${level} came out of seed ${seed}; take another seed`);
}

async function tryDeal(
  room: TrainingRoom,
  number: PracticeNumber,
  code: string,
  round: number,
): Promise<PracticeCase | undefined> {
  const { reasoner } = room;
  const random = randomFor('deal', number.level, number.seed, round);
  const causes = drawCauses(room, number.level, random);
  const setup = inventSetup(room, causes, random);
  const bare = readInput(room, { setup: setup.card });
  const prepared = await prepareCase(reasoner, bare);
  const open = openGraph(reasoner.graph, prepared.cutLinks);
  if (causes.some((id) => ruledOut(room, id, prepared.holds))) return undefined;
  const truth = sampleTruth(open, causes, random);
  const input = readInput(room, describeFrame(room, number, setup, truth, random));
  if (Object.values(input.observations).every((seen) => seen === 'absent') && noBreaksSeen(input))
    return undefined;
  const title = `Practice ${code}: ${setup.name}`;
  const dealt: PracticeCase = { code, number, title, input: { ...input, title }, truth };
  const opening = await room.weigh(dealt.input);
  if (!fitsAtFirst(number.level, causes, opening)) return undefined;
  const answers = await drawAnswers(room, dealt);
  // Chance can be told only by what its entry names; every further check finds something somewhere.
  const telling = number.level === 4 ? room.reasoner.knowledge.book.causes.get(CHANCE)?.checks : undefined;
  const findings = Object.fromEntries(
    [...answers]
      .filter(([check]) => telling === undefined || telling.includes(check))
      .map(([check, outcome]) => [check, [outcome]]),
  );
  const closing = await room.weigh({ ...dealt.input, findings });
  return causes.every((id) => closing.probability(id) >= FOUND) ? dealt : undefined;
}

const noBreaksSeen = (input: CaseInput) => input.measurements.endBreaks === undefined;

const ruledOut = ({ reasoner }: TrainingRoom, id: string, holds: ReadonlySet<string>): boolean =>
  (reasoner.knowledge.book.causes.get(id)?.['ruled-out'] ?? []).some((_, n) =>
    holds.has(`ruled-out:${id}:${n}`),
  );

/** Whether the opening is of the kind that the level promises. */
function fitsAtFirst(level: PracticeNumber['level'], causes: readonly string[], standing: Standing): boolean {
  const [first = '', second] = causes;
  const p = standing.probability;
  const odds = (id: string) => p(id) / Math.max(1e-9, 1 - p(id));
  const rivals = standing
    .ranking()
    .map((one) => one.cause)
    .filter((id) => !causes.includes(id) && p(id) > 0 && odds(id) * RIVAL >= odds(first));
  switch (level) {
    case 1:
      // Clear: first at the start, with at most two rivals near it.
      return p(first) >= 0.12 && rivals.every((id) => p(id) < p(first)) && rivals.length <= 2;
    case 2:
      // Look-alikes: not out of sight, but with at least two rivals near it or above it.
      return p(first) >= 0.03 && rivals.length >= 2;
    case 3:
      return second !== undefined && p(first) >= 0.02 && p(second) >= 0.02;
    case 4:
      return true;
    case 5:
      // Misleading: at the start another cause stands at twice the odds of the true one or more.
      return rivals.some((id) => odds(id) >= 2 * odds(first));
  }
}

/** Causes for the level: one, or two that do not exclude one another, or chance alone. */
function drawCauses(room: TrainingRoom, level: PracticeNumber['level'], random: Random): string[] {
  if (level === 4) return [CHANCE];
  const { book } = room.reasoner.knowledge;
  const draw = (without: string) =>
    drawWeighted(
      random,
      [...book.causes.values()]
        .filter((cause) => cause.family !== 'chance' && cause.id !== without)
        .map((cause) => [cause.id, Math.sqrt(cause.prior.base)] as const),
    ) ?? CHANCE;
  const first = draw('');
  return level === 3 ? [first, draw(first)] : [first];
}

function readInput(room: TrainingRoom, object: Record<string, unknown>): CaseInput {
  const reading = readCaseObject(object, room.vocabulary);
  if (!reading.ok) throw new TrainingError('a dealt case cannot be read', reading.problems);
  return reading.case;
}

/** What the trainee is told: card, signs, place, beginning, changes, counts. */
function describeFrame(
  room: TrainingRoom,
  { level }: PracticeNumber,
  setup: InventedSetup,
  truth: HiddenTruth,
  random: Random,
): Record<string, unknown> {
  const { book } = room.reasoner.knowledge;
  const { practice } = room.material;
  const causes = truth.causes.flatMap((id) => book.causes.get(id) ?? []);
  const scope = unique(causes.map((cause) => drawProfile(random, cause.scope) as Scope | undefined));
  const onset = unique(causes.map((cause) => drawProfile(random, cause.onset) as Onset | undefined));
  const changed = drawChanges(causes, onset, level, practice['idle-change'], random);
  const showsOnCard = setup.differ.length > 0;
  const before =
    showsOnCard && onset.includes('since-change') ? partOfCard(setup.sound, setup.differ) : undefined;

  const observations: Record<string, string> = {};
  for (const [id, seen] of Object.entries(truth.signs))
    if (seen !== 'absent' || random() < practice['looked-for']) observations[id] = seen;
  const measurements: Record<string, unknown> = {};
  const breaks = level === 4 ? 'absent' : (truth.signs['end-breaks'] ?? 'absent');
  if (level === 4 || (breaks !== 'absent' && random() < practice.counted)) {
    measurements['end-breaks'] = countBreaks(room, breaks, scope[0] ?? 'frame', random);
    delete observations['end-breaks'];
  }
  const weak = truth.signs['low-tenacity'] ?? 'absent';
  if (weak !== 'absent' && random() < practice.counted) {
    measurements.tenacity = testTenacity(practice.tenacity, weak, random);
    delete observations['low-tenacity'];
  }
  return {
    setup: setup.card,
    ...(before === undefined ? {} : { before }),
    observations,
    ...(scope.length === 0 ? {} : { scope: [...scope] }),
    ...(onset.length === 0 ? {} : { onset: [...onset] }),
    ...(changed.length === 0 ? {} : { changed }),
    ...(Object.keys(measurements).length === 0 ? {} : { measurements }),
  };
}

const unique = <T>(items: readonly (T | undefined)[]): T[] => [
  ...new Set(items.filter((item): item is T => item !== undefined)),
];

const drawProfile = (random: Random, profile: Readonly<Partial<Record<string, number>>>) =>
  drawWeighted(
    random,
    Object.entries(profile).map(([key, share]) => [key, share ?? 0] as const),
  );

/**
 * What is reported as changed. A fault that began with a change names one that brings it on, by its weight; the others
 * mostly name none. Misleading data name a change that has nothing to do with it.
 */
function drawChanges(
  causes: readonly Cause[],
  onset: readonly Onset[],
  level: number,
  idleShare: number,
  random: Random,
): Change[] {
  const brings = (cause: Cause) => cause.after ?? {};
  const made = onset.includes('since-change')
    ? causes.flatMap((cause) => {
        const change = drawWeighted(
          random,
          Object.entries(brings(cause))
            .filter(([id]) => id !== 'none')
            .map(([id, weight]) => [id as Change, WEIGHTS[weight]] as const),
        );
        return change ?? [];
      })
    : [];
  const idle = drawOne(
    random,
    CHANGES.filter(
      (change) => change !== 'none' && causes.every((cause) => brings(cause)[change] === undefined),
    ),
  );
  const mislead = level === 5 ? random() < 0.5 : made.length === 0 && random() < idleShare;
  if (mislead && idle !== undefined) return unique([...made, idle]);
  if (made.length > 0) return unique(made);
  return random() < 0.6 ? ['none'] : [];
}

/**
 * Breaks counted on the position or frame that drew attention. With no fault behind it, that is the worst of many
 * counts of the usual rate, and the file says of how many.
 */
function countBreaks(
  room: TrainingRoom,
  level: 'absent' | 'slight' | 'marked',
  scope: Scope,
  random: Random,
): Record<string, unknown> {
  const { practice } = room.material;
  const norm = Math.round(drawBetween(random, ...practice['norm-per-1000']) / 5) * 5;
  const onePosition = scope === 'position' || scope === 'can';
  const positions =
    room.reasoner.knowledge.judgements[scope === 'section' ? 'section-positions' : 'frame-positions'];
  const rotorHours = onePosition ? (drawOne(random, [16, 24, 48]) ?? 24) : positions * 4;
  const usual = (norm * rotorHours) / 1000;
  if (level === 'absent') {
    const pickedFrom = onePosition ? positions : 12;
    let count = 0;
    for (let one = 0; one < pickedFrom; one++) count = Math.max(count, drawPoisson(random, usual));
    return { count, 'rotor-hours': rotorHours, 'norm-per-1000': norm, 'picked-from': pickedFrom };
  }
  const ratio = drawBetween(random, ...practice['breaks-over-norm'][level]);
  return {
    count: drawPoisson(random, usual * ratio),
    'rotor-hours': rotorHours,
    'norm-per-1000': norm,
  };
}

function testTenacity(
  judged: TrainingRoom['material']['practice']['tenacity'],
  level: 'slight' | 'marked',
  random: Random,
): Record<string, unknown> {
  const target = Math.round(drawBetween(random, 11, 13) * 10) / 10;
  const true_ = target * drawBetween(random, ...judged[level]);
  const error = (judged['cv-percent'] / 100 / Math.sqrt(judged.tests)) * drawNormal(random);
  return {
    mean: `${(true_ * (1 + error)).toFixed(1)} cN/tex`,
    cv: `${judged['cv-percent']} %`,
    tests: judged.tests,
    target: `${target} cN/tex`,
  };
}
