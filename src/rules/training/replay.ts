import { say, wordTable } from '../../language/say.js';
import { PROPERTIES } from '../case/measured-properties.js';
import { triedKey } from '../case/read-tried.js';
import type { CaseInput, MeasuredProperty } from '../case/types.js';
import { chainFinder } from '../diagnosis/chains.js';
import { decibansBetween, sayWeight } from '../diagnosis/decibans.js';
import { sayTried } from '../diagnosis/say-tried.js';
import type { Chain } from '../diagnosis/types.js';
import type { Family, Part } from '../knowledge/vocabulary.js';
import {
  allInSentence,
  CHANGE_WORDS,
  joinWords,
  LEVEL_WORDS,
  ONSET_WORDS,
  PART_RESULT_WORDS,
  PART_WORDS,
  SCOPE_WORDS,
  sentenceCase,
} from '../words.js';
import { sayPercent, sayTenth } from './plain-words.js';
import { causeLabel, type Standing, type TrainingRoom } from './room.js';

/** One thing known of a case, under the name of its field: `scope`, `observations.hairy`, `findings.groove-look`. */
export type ItemKey = string;

/** A cause in a step, with what the step did to it. */
export interface MovedCause {
  readonly cause: string;
  readonly label: string;
  readonly before: number;
  readonly after: number;
  /** Weight of the step for (+) or against (−) it, decibans. */
  readonly decibans: number;
  readonly words: string;
}

/** Where on a spinning position a cause sits, for the drawing. */
export type Place =
  | 'sliver'
  | 'feed'
  | 'opening-roller'
  | 'channel'
  | 'rotor'
  | 'nozzle'
  | 'tube'
  | 'take-off'
  | 'winding'
  | 'room'
  | 'downstream'
  | 'none';

/** One step of a replay. */
export interface ReplayStep {
  /** Absent for the first step, before anything but the base rates is known. */
  readonly item?: ItemKey;
  readonly title: string;
  /** The first five causes after the step. */
  readonly ranking: readonly MovedCause[];
  /** Causes that it moved most, up first. */
  readonly up: readonly MovedCause[];
  readonly down: readonly MovedCause[];
  /** The chain of the graph that carried the step to the cause it lifted most. */
  readonly chain?: Chain;
  readonly place: Place;
  /** The cause whose part the step concerns: the one it lifted most, else the one that leads. */
  readonly concerns?: string;
  /** Minutes of search still expected. */
  readonly searchMinutes: number;
  readonly words: string;
}

const TOP = 5;
const MOVERS = 3;
/** Causes whose probability moves less than this are not shown as moved. */
const VISIBLE = 0.01;

/**
 * Replays how a diagnosis came about: first the base rates, then the card, then each thing known in the order given.
 *
 * @param order fields of the case (see {@link itemsOf}); what is not named follows in the usual order, unknown names
 *   are passed over
 */
export async function replayCase(
  room: TrainingRoom,
  input: CaseInput,
  order: readonly ItemKey[] = [],
): Promise<readonly ReplayStep[]> {
  const all = itemsOf(input);
  const chosen = [...new Set(order.filter((key) => all.includes(key)))];
  const items = [...chosen, ...all.filter((key) => !chosen.includes(key))];
  const { book } = room.reasoner.knowledge;
  let standing = await room.weigh(withItems(input, []));
  const steps: ReplayStep[] = [firstStep(room, standing)];
  for (let count = 1; count <= items.length; count++) {
    const item = items[count - 1] ?? '';
    const before = standing;
    standing = await room.weigh(withItems(input, items.slice(0, count)));
    const moved = [...book.causes.keys()]
      .map((cause) => movedCause(room, cause, before.probability(cause), standing.probability(cause)))
      .filter((one) => Math.abs(one.after - one.before) >= VISIBLE && Math.abs(one.decibans) >= 0.5)
      .sort((a, b) => b.decibans - a.decibans);
    const up = moved.filter((one) => one.decibans > 0).slice(0, MOVERS);
    const down = moved
      .filter((one) => one.decibans < 0)
      .sort((a, b) => b.before - a.before)
      .slice(0, MOVERS);
    const lifted = [...up].sort((a, b) => b.after - b.before - (a.after - a.before))[0];
    const concerned = lifted?.cause ?? standing.ranking()[0]?.cause ?? '';
    const chain = lifted === undefined ? undefined : chainFor(room, standing, lifted.cause, item);
    steps.push({
      item,
      title: titleOf(room, input, item),
      ranking: topCauses(room, standing, before),
      up,
      down,
      ...(chain === undefined ? {} : { chain }),
      place: placeOf(room, concerned),
      concerns: concerned,
      searchMinutes: standing.searchMinutes,
      words: sayStep(up, down, standing, before),
    });
  }
  return steps;
}

/** Everything a case says besides its card, in the order in which the ledger enters it. */
export function itemsOf(input: CaseInput): ItemKey[] {
  const rank = { marked: 0, slight: 1, absent: 2 };
  return [
    ...(input.scope.length > 0 ? ['scope'] : []),
    ...(input.onset.length > 0 ? ['onset'] : []),
    ...(input.changed.length > 0 ? ['changed'] : []),
    ...Object.entries(input.observations)
      .sort(([, a], [, b]) => rank[a] - rank[b])
      .map(([id]) => `observations.${id}`),
    ...(input.measurements.endBreaks === undefined ? [] : ['measurements.end-breaks']),
    ...Object.keys(input.measurements.values).map((id) => `measurements.${id}`),
    ...Object.keys(input.findings).map((id) => `findings.${id}`),
    ...(Object.keys(input.partExchange).length > 0 ? ['findings.part-exchange'] : []),
    ...(input.tried ?? []).map(({ actions }) => `tried.${triedKey(actions)}`),
  ];
}

/** The case with only some of its items known. */
export function withItems(input: CaseInput, items: readonly ItemKey[]): CaseInput {
  const has = new Set(items);
  const keep = <T>(record: Readonly<Record<string, T>>, prefix: string): Record<string, T> =>
    Object.fromEntries(Object.entries(record).filter(([id]) => has.has(`${prefix}.${id}`)));
  const { tried, ...rest } = input;
  const known = tried?.filter(({ actions }) => has.has(`tried.${triedKey(actions)}`)) ?? [];
  return {
    ...rest,
    ...(known.length === 0 ? {} : { tried: known }),
    observations: keep(input.observations, 'observations'),
    scope: has.has('scope') ? input.scope : [],
    onset: has.has('onset') ? input.onset : [],
    changed: has.has('changed') ? input.changed : [],
    findings: keep(input.findings, 'findings'),
    partExchange: has.has('findings.part-exchange') ? input.partExchange : {},
    measurements: {
      ...(input.measurements.endBreaks !== undefined && has.has('measurements.end-breaks')
        ? { endBreaks: input.measurements.endBreaks }
        : {}),
      values: Object.fromEntries(
        Object.entries(input.measurements.values).filter(([id]) =>
          has.has(`measurements.${id as MeasuredProperty}`),
        ),
      ),
    },
  };
}

function firstStep(room: TrainingRoom, standing: Standing): ReplayStep {
  return {
    title: say('replay-step.beginning'),
    ranking: topCauses(room, standing, undefined),
    up: [],
    down: [],
    place: 'none',
    searchMinutes: standing.searchMinutes,
    words: say('replay-step.beginning-words'),
  };
}

function topCauses(room: TrainingRoom, standing: Standing, before: Standing | undefined): MovedCause[] {
  return standing
    .ranking()
    .slice(0, TOP)
    .map(({ cause, probability }) =>
      movedCause(room, cause, before?.probability(cause) ?? probability, probability),
    );
}

function movedCause(room: TrainingRoom, cause: string, before: number, after: number): MovedCause {
  const decibans = decibansBetween(before, after);
  return {
    cause,
    label: causeLabel(room.reasoner.knowledge.book, cause),
    before,
    after,
    decibans,
    words: sayWeight(decibans),
  };
}

/** The strongest chain from a cause to what the item was about. */
function chainFor(room: TrainingRoom, standing: Standing, cause: string, item: ItemKey): Chain | undefined {
  const { graph, knowledge } = room.reasoner;
  const chains = chainFinder(standing.inference, standing.prepared, graph, knowledge.book)(cause);
  const nodes = standing.inference.items
    .filter((one) => item.endsWith(`.${one.id}`))
    .flatMap((one) => one.nodes.map(([node]) => node));
  return chains.find((chain) => nodes.includes(chain.steps.at(-1)?.node ?? ''));
}

const PLACE_OF_PART: Readonly<Record<Part, Place>> = {
  nozzle: 'nozzle',
  insert: 'tube',
  tube: 'tube',
  rotor: 'rotor',
  'opening-roller': 'opening-roller',
  feed: 'feed',
  can: 'sliver',
  winding: 'winding',
};
const PLACE_OF_FAMILY: Readonly<Record<Family, Place>> = {
  nozzle: 'nozzle',
  'tube-and-insert': 'tube',
  'twist-and-speed': 'take-off',
  rotor: 'rotor',
  opening: 'opening-roller',
  'air-and-trash': 'channel',
  'feed-and-sliver': 'feed',
  'sliver-quality': 'sliver',
  fibre: 'sliver',
  winding: 'winding',
  'room-and-care': 'room',
  downstream: 'downstream',
  chance: 'none',
};

/** Where on the position a cause sits: at its part, else where its family is at home. */
export function placeOf(room: TrainingRoom, cause: string): Place {
  const entry = room.reasoner.knowledge.book.causes.get(cause);
  if (entry === undefined) return 'none';
  return entry.part === undefined ? PLACE_OF_FAMILY[entry.family] : PLACE_OF_PART[entry.part];
}

/** What was measured, by its id in the case file. */
const MEASURED: Readonly<Record<string, string>> = wordTable('replay-measured', [
  'end-breaks',
  ...(Object.keys(PROPERTIES) as MeasuredProperty[]),
]);

function titleOf(room: TrainingRoom, input: CaseInput, item: ItemKey): string {
  const { book } = room.reasoner.knowledge;
  const [head = '', id = ''] = item.split('.');
  switch (head) {
    case 'scope':
      return say('replay-step.where', { what: joinWords(input.scope.map((one) => SCOPE_WORDS[one])) });
    case 'onset':
      return say('replay-step.began', { what: joinWords(input.onset.map((one) => ONSET_WORDS[one])) });
    case 'changed':
      return say('replay-step.changed', { what: joinWords(input.changed.map((one) => CHANGE_WORDS[one])) });
    case 'observations': {
      const level = input.observations[id];
      return say('replay-step.seen', {
        sign: book.symptoms.get(id)?.label ?? id,
        level: level === undefined ? '' : LEVEL_WORDS[level],
      });
    }
    case 'measurements':
      return say('replay-step.measured', { what: MEASURED[id] ?? id.replace(/-/g, ' ') });
    case 'tried': {
      const trial = input.tried?.find(({ actions }) => triedKey(actions) === id);
      return say('replay-step.tried', { what: trial === undefined ? '' : sayTried(trial, book) });
    }
    default: {
      if (id === 'part-exchange')
        return say('replay-step.tried', {
          what: joinWords(
            Object.entries(input.partExchange).map(
              ([part, result]) =>
                `${PART_WORDS[part as Part]} ${result === undefined ? '' : PART_RESULT_WORDS[result]}`,
            ),
          ),
        });
      const check = book.checks.get(id);
      const outcomes = (input.findings[id] ?? []).map((one) => check?.outcomes[one]?.label ?? one);
      return say('replay-step.found', {
        check: check?.label ?? id,
        answers: allInSentence(joinWords(outcomes)),
      });
    }
  }
}

function sayStep(
  up: readonly MovedCause[],
  down: readonly MovedCause[],
  standing: Standing,
  before: Standing,
): string {
  const [raised, lowered] = [up[0], down[0]];
  const first = standing.ranking()[0];
  const was = before.ranking()[0];
  const parts: string[] = [];
  if (raised !== undefined)
    parts.push(
      say('replay-step.speaks', {
        cause: raised.label,
        before: sayPercent(raised.before),
        after: sayPercent(raised.after),
        decibans: sayTenth(raised.decibans),
      }),
    );
  if (lowered !== undefined)
    parts.push(
      say('replay-step.falls', {
        cause: lowered.label,
        before: sayPercent(lowered.before),
        after: sayPercent(lowered.after),
      }),
    );
  if (parts.length === 0) return say('replay-step.hardly');
  if (first !== undefined && was !== undefined && first.cause !== was.cause)
    parts.push(say('replay-step.lead-changes'));
  return sentenceCase(`${parts.join('; ')}.`);
}
