import { say } from '../../language/say.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import { applyChanges } from '../case/setup-change.js';
import type { GivenSetup } from '../case/types.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Action, SetupChange } from '../knowledge/schema.js';
import type { PosteriorSamples } from '../network/network.js';
import { EFFECT_WORDS, inSentence, joinWords, STOP_WORDS, withoutStop } from '../words.js';
import { cureEstimator } from './cure-chance.js';
import { sayProbability } from './decibans.js';
import { groundOf } from './ground.js';
import type { Inference } from './infer.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { statedCures, type TriedAction } from './tried-actions.js';
import type { ActionResult, SideEffect } from './types.js';

/** Causes below this probability do not bring their actions in. */
const LEAST_LIKELY = 0.005;

/** Actions of the causes that are not out of the question. */
export function wantedActions(book: RuleBook, inference: Inference): ReadonlySet<string> {
  const wanted = new Set<string>();
  for (const cause of book.causes.values())
    if ((inference.posterior.marginals.get(cause.id) ?? 0) > LEAST_LIKELY)
      for (const action of cause.actions) wanted.add(action.do);
  return wanted;
}

/** Actions whose chance of a cure is below this are left out. */
const LEAST_CURE = 0.01;

/**
 * Ranks the corrective actions by the chance that they cure the complaint, per hour of effort: working minutes of a
 * first try, standing machines, parts, side effects and, if it fails, the work of going back. What the setup or the
 * end use forbids is shown, last, with the reason; what the case says was tried in vain stands before that.
 *
 * @param tried what the model says of the wanted ones that change the setup
 */
export function rankActions(
  reasoner: Reasoner,
  prepared: PreparedCase,
  inference: Inference,
  samples: PosteriorSamples,
  tried: ReadonlyMap<string, TriedAction>,
  notForEndUse: ReadonlyMap<string, string> = new Map(),
): ActionResult[] {
  const { book } = reasoner.knowledge;
  const cureOf = cureEstimator(reasoner, prepared, inference, samples);
  const results: ActionResult[] = [];
  for (const action of book.actions.values()) {
    const own = tried.get(action.id);
    const shares = own?.cures ?? statedCures(book, action.id);
    const cures = shares.size === 0 ? 0 : cureOf(shares);
    if (cures < LEAST_CURE) continue;
    results.push(
      describeAction(
        action,
        shares,
        cures,
        own?.effects ?? [],
        reasoner,
        prepared,
        inference,
        notForEndUse.get(action.id),
      ),
    );
  }
  return results.sort(
    (a, b) =>
      Number(a.forbidden !== undefined) - Number(b.forbidden !== undefined) ||
      Number(a.tried === 'no-change') - Number(b.tried === 'no-change') ||
      b.score - a.score ||
      a.id.localeCompare(b.id),
  );
}

function describeAction(
  action: Action,
  shares: ReadonlyMap<string, number>,
  cures: number,
  computed: readonly SideEffect[],
  reasoner: Reasoner,
  prepared: PreparedCase,
  inference: Inference,
  notForEndUse: string | undefined,
): ActionResult {
  const { book, judgements } = reasoner.knowledge;
  const { resolved, holds, input } = prepared;
  const change =
    action.change === undefined
      ? undefined
      : applyChanges(resolved.uncertain.central, resolved.usual, action.change);
  const stated = (action['side-effects'] ?? [])
    .filter((effect) => !computed.some((one) => one.on === effect.on))
    .map(
      (effect): SideEffect => ({
        on: effect.on,
        label: EFFECT_WORDS[effect.on],
        direction: effect.direction,
        words: effect.why,
        ground: groundOf(book, action.basis),
      }),
    );
  const sideEffects = [...computed, ...stated];
  const refused = action['not-when']?.find((_, n) => holds.has(`action:${action.id}:${n}`))?.because;
  const broken = computed.find((effect) => effect.beyondLimit !== undefined)?.beyondLimit;
  // What only the assumed setup makes impossible may well be possible on the frame.
  const impossible =
    action.change?.every((one) => isGiven(one.set, input.given)) === true ? change?.impossible : undefined;
  const forbidden = refused ?? impossible ?? notForEndUse ?? broken;

  const { first, covers, all } = extent(action, input.scope, judgements);
  const stop = action.stops === 'none' || action.stops === 'lab' ? 0 : judgements[`stop-${action.stops}`];
  const worse = computed.reduce(
    (sum, e) => sum + (e.direction === 'worse' ? Math.abs(e.changePercent ?? 0) : 0),
    0,
  );
  // What a repair brings back to normal is no price paid for it; what a change of setting or material worsens is.
  const paid = action.kind === 'setting' || action.kind === 'part' || action.kind === 'material';
  const statedWorse = paid ? stated.filter((effect) => effect.direction === 'worse').length * 2 : 0;
  const effort =
    first +
    judgements['proof-minutes'] +
    stop +
    judgements[`cost-${action.cost}`] +
    judgements['side-effect-minute'] * (worse + statedWorse) +
    (1 - cures) * first;
  const causes = [...shares]
    .map(([id, share]) => ({
      id,
      label: book.causes.get(id)?.label ?? id,
      cures: share,
      weight: share * (inference.posterior.marginals.get(id) ?? 0),
    }))
    .filter((cause) => cause.weight > 0.002)
    .sort((a, b) => b.weight - a.weight);
  const score = cures / (effort / 60);
  const tried = input.tried?.find(({ actions }) => actions.length === 1 && actions[0] === action.id)?.result;
  return {
    id: action.id,
    label: action.label,
    kind: action.kind,
    steps: action.steps,
    causes: causes.map(({ id, label, cures: share }) => ({ id, label, cures: share })),
    cures,
    minutes: first,
    covers,
    ...(all > first ? { rollOutMinutes: all } : {}),
    stops: action.stops,
    who: action.who,
    ...(action.parts === undefined ? {} : { parts: action.parts }),
    cost: action.cost,
    sideEffects,
    ...(forbidden === undefined ? {} : { forbidden }),
    ...(tried === undefined ? {} : { tried }),
    score,
    reason: reasonFor(
      action,
      cures,
      first,
      covers,
      sideEffects,
      causes.map((cause) => cause.label),
    ),
    ...(change === undefined ? {} : { change: change.done }),
    proof: action.proof,
    goBack: action['go-back'],
    cautions: action.cautions,
    ground: groundOf(book, action.basis),
  };
}

/** Settings of the case that each change moves. */
const MOVES: Readonly<Record<SetupChange['set'], keyof SpinningSetup>> = {
  twist: 'twistPerMetre',
  'rotor-speed': 'rotorSpeedRpm',
  'opening-roller': 'openingRollerRpm',
  'nozzle-radius': 'nozzleRadiusMm',
  'nozzle-protrusion': 'nozzleProtrusionMm',
  'tube-bend': 'tubeBendDeg',
  'rotor-diameter': 'rotorDiameterMm',
  humidity: 'humidityPct',
  'winding-tension-draft': 'windingTensionDraft',
  texture: 'nozzleSurface',
  insert: 'insert',
  groove: 'groove',
  'nozzle-material': 'nozzleMaterial',
};

const isGiven = (setting: SetupChange['set'], given: GivenSetup) =>
  given.values[MOVES[setting]] !== undefined;

/** Minutes of the first try and of carrying it through. */
function extent(action: Action, scope: readonly string[], judged: Reasoner['knowledge']['judgements']) {
  if (action.per !== 'position')
    return { first: action.minutes, covers: say(`reasoning.one-${action.per}`), all: action.minutes };
  if (scope.length > 0 && scope.every((place) => place === 'position' || place === 'can'))
    return { first: action.minutes, covers: say('reasoning.one-position'), all: action.minutes };
  const trial = judged['trial-positions'];
  const everywhere = scope.includes('section') ? judged['section-positions'] : judged['frame-positions'];
  return {
    first: action.minutes * trial,
    covers: say('reasoning.trial-on', { n: trial }),
    all: action.minutes * everywhere,
  };
}

function reasonFor(
  action: Action,
  cures: number,
  minutes: number,
  covers: string,
  effects: readonly SideEffect[],
  causes: readonly string[],
): string {
  const costs = effects
    .filter((effect) => effect.direction === 'worse')
    .map((effect) => inSentence(withoutStop(effect.words)));
  const parts = [
    say('reasoning.cure', {
      chance: sayProbability(cures),
      percent: `${Math.round(100 * cures)} %`,
      causes: joinWords(causes.slice(0, 2).map((label) => say('reasoning.quoted', { text: label }))),
    }),
    say('reasoning.work', { minutes: Math.round(minutes), covers, stops: STOP_WORDS[action.stops] }),
    costs.length === 0
      ? say('reasoning.no-side-effect')
      : say('reasoning.costs', { what: withoutStop(joinWords(costs.slice(0, 3))) }),
  ];
  return `${parts.join('. ')}.`;
}
