import { describe, expect, it } from 'vitest';
import { textureOf } from '../../../src/rules/case/ladders.js';
import { resolveSetup } from '../../../src/rules/case/resolve-setup.js';
import { makePlans, type PlanRequest } from '../../../src/rules/plans/make-plans.js';
import { loadPlanBook } from '../../../src/rules/plans/plan-book.js';
import { computeState } from '../../../src/spinning/model.js';
import { centralParameters } from '../../../src/spinning/parameters.js';
import type { SpinningSetup } from '../../../src/spinning/setup.js';
import { simulate } from '../../../src/spinning/simulation.js';
import { caseOf, KNIT_SETUP, knowledge, POLYESTER_SETUP, WARP_SETUP } from './cases.js';

/*
 * An independent search: every combination by plain nested loops, every one computed in full by the simulation, every
 * pair compared. It shares with the product the spinning model and the figures of the knowledge base, no code of the
 * search.
 */
type Way = {
  id: string;
  setting: string;
  part: string;
  minutes: number;
  cost: number;
  perFrame: boolean;
  go: (s: SpinningSetup) => SpinningSetup;
};

const plans = loadPlanBook();
const J = knowledge.judgements;
const POSITIONS = J['frame-positions'];
const minutesOf = (action: string) => knowledge.book.actions.get(action)?.minutes ?? Number.NaN;
const costOf = (action: string) => J[`cost-${knowledge.book.actions.get(action)?.cost ?? 'none'}`];

function way(
  setting: string,
  value: string,
  part: string,
  action: string,
  go: Way['go'],
  bought = true,
): Way {
  const perFrame = knowledge.book.actions.get(action)?.per === 'frame';
  return {
    id: `${setting}:${value}`,
    setting,
    part,
    minutes: minutesOf(action),
    cost: bought ? costOf(action) : 0,
    perFrame,
    go,
  };
}

const percentWay = (setting: 'twist' | 'rotor-speed', percent: number): Way => {
  const key = setting === 'twist' ? 'twistPerMetre' : 'rotorSpeedRpm';
  const action =
    setting === 'twist'
      ? percent > 0
        ? 'raise-twist'
        : 'lower-twist'
      : percent > 0
        ? 'raise-rotor-speed'
        : 'lower-rotor-speed';
  return way(
    setting,
    percent > 0 ? `+${percent}` : String(percent),
    setting,
    action,
    (s) => ({ ...s, [key]: s[key] * (1 + percent / 100) }),
    false,
  );
};

function bruteForce(setupText: string, ways: readonly Way[], leastChance?: 'present') {
  const input = caseOf(setupText);
  const resolved = resolveSetup(input.given, {
    endUses: knowledge.endUses,
    fibres: knowledge.parameters.fibres,
  });
  const combos: Way[][] = [[]];
  for (const a of ways) {
    combos.push([a]);
    for (const b of ways) {
      if (ways.indexOf(b) <= ways.indexOf(a) || b.setting === a.setting) continue;
      combos.push([a, b]);
      for (const c of ways) {
        if (ways.indexOf(c) <= ways.indexOf(b) || c.setting === a.setting || c.setting === b.setting)
          continue;
        combos.push([a, b, c]);
      }
    }
  }
  const apply = (combo: readonly Way[]) => (s: SpinningSetup) => combo.reduce((now, one) => one.go(now), s);
  const name = (combo: readonly Way[]) => combo.map((one) => one.id).join('+') || 'as-it-is';
  const simulation = simulate(resolved.uncertain, knowledge.parameters, {
    draws: 256,
    variants: Object.fromEntries(combos.map((combo) => [name(combo), apply(combo)])),
  });
  const p = centralParameters(knowledge.parameters);
  const usual = computeState(resolved.usual, p);
  const now = computeState(resolved.uncertain.central, p);
  const limit = (on: string) => resolved.endUse.limits.find((one) => one.on === on);
  const QUALITIES = [
    ['hairiness', 'hairinessIndex', 'hairiness', -1],
    ['hand', 'softnessIndex', 'softness', 1],
    ['fly', 'flyIndex', 'fly', -1],
    ['tenacity', 'yarnTenacityCnPerTex', 'tenacity', 1],
    ['output', 'outputGPerRotorH', 'output', 1],
    ['nozzle-life', 'nozzleLifeH', '', 1],
  ] as const;
  const rows = combos.flatMap((combo) => {
    const columns = simulation.variants[name(combo)];
    if (columns === undefined) throw new Error('no such variant');
    const state = computeState(apply(combo)(resolved.uncertain.central), p);
    for (const [, field, on] of QUALITIES) {
      const bound = limit(on);
      if (bound === undefined) continue;
      const then = 100 * (state[field] / usual[field] - 1);
      const before = 100 * (now[field] / usual[field] - 1);
      if (bound.most !== undefined && then > Math.max(bound.most, before) + 1e-6) return [];
      if (bound.least !== undefined && then < Math.min(bound.least, before) - 1e-6) return [];
    }
    let good = 0;
    for (let i = 0; i < 256; i++) {
      const fine = (['twistMargin', 'tensionMargin', 'heatMargin', 'fibresMargin'] as const).every(
        (m) => (columns[m][i] ?? -1) >= 0,
      );
      if (fine) good++;
    }
    const chance = good / 256;
    const parts = [...new Set(combo.map((one) => one.part))].map((part) =>
      combo.filter((one) => one.part === part),
    );
    const opened = parts.filter((group) => group.some((one) => !one.perFrame));
    let perPosition = opened.reduce((sum, group) => sum + Math.max(...group.map((one) => one.minutes)), 0);
    if (opened.length > 1) perPosition -= (opened.length - 1) * plans.work['opening-minutes'].value;
    const perFrame = parts
      .filter((group) => !opened.includes(group))
      .reduce((sum, group) => sum + Math.max(...group.map((one) => one.minutes)), 0);
    const effort =
      perPosition * POSITIONS +
      perFrame +
      parts.length * J['proof-minutes'] +
      parts.reduce((sum, group) => sum + Math.max(...group.map((one) => one.cost)), 0) +
      combo.length * plans.work['each-change'].value;
    const grain = (on: keyof typeof plans.grains, value: number) =>
      Math.round(Number((value / plans.grains[on].value).toFixed(6))) + 0;
    const vector = [
      grain('chance', chance),
      ...QUALITIES.map(([on, field, , sign]) => grain(on, sign * 100 * (state[field] / now[field] - 1))),
      grain('effort', -effort),
    ];
    return [{ id: name(combo), vector, chance }];
  });
  const present = rows.find((row) => row.id === 'as-it-is')?.chance ?? 0;
  const base = grainOfChance(Math.min(present, plans.enough.value));
  const admitted = leastChance === undefined ? rows : rows.filter((row) => grainOfChance(row.chance) >= base);
  const beaten = (row: (typeof rows)[number]) =>
    admitted.some(
      (other) =>
        other.vector.every((v, i) => v >= (row.vector[i] ?? 0)) &&
        other.vector.some((v, i) => v > (row.vector[i] ?? 0)),
    );
  const efficient = admitted.filter((row) => !beaten(row));
  return {
    tried: combos.length,
    allowed: rows.length,
    efficient,
    rows: new Map(rows.map((row) => [row.id, row])),
  };
}

const grainOfChance = (chance: number) => Math.round(Number((chance / plans.grains.chance.value).toFixed(6)));

const textureWay = (
  word: 'smooth' | 'spiral' | '3-notches' | '4-notches' | '6-notches' | '8-notches',
  up: boolean,
): Way => {
  const { surface, notches } = textureOf(word);
  return way('texture', word, 'nozzle', up ? 'fit-rougher-nozzle' : 'fit-smoother-nozzle', (s) => ({
    ...s,
    nozzleSurface: surface,
    notches,
  }));
};
const radiusWay = (radius: number, now: number): Way =>
  way(
    'nozzle-radius',
    String(radius),
    'nozzle',
    radius > now ? 'fit-larger-radius-nozzle' : 'fit-smaller-radius-nozzle',
    (s) => ({ ...s, nozzleRadiusMm: radius }),
  );
const insertWay = (insert: SpinningSetup['insert']): Way =>
  way('insert', insert, 'insert', 'fit-insert', (s) => ({ ...s, insert }));
const bendWay = (bend: number): Way =>
  way('tube-bend', String(bend), 'tube', 'fit-gentler-tube', (s) => ({ ...s, tubeBendDeg: bend }));
const materialWay = (material: SpinningSetup['nozzleMaterial']): Way =>
  way('nozzle-material', material, 'nozzle', 'fit-heat-conducting-nozzle', (s) => ({
    ...s,
    nozzleMaterial: material,
  }));

interface Grid {
  readonly name: string;
  readonly setup: string;
  readonly request: PlanRequest;
  readonly ways: readonly Way[];
}

const NONE = {
  texture: [],
  'nozzle-radius': [],
  'nozzle-material': [],
  'nozzle-protrusion': [],
  'tube-bend': [],
  insert: [],
  twist: [],
  'rotor-speed': [],
} as const;

const GRIDS: readonly Grid[] = [
  {
    name: 'soft knitting yarn: texture, insert, twist, speed',
    setup: `${KNIT_SETUP}\nobservations: {end-breaks: slight}`,
    request: {
      options: {
        ...NONE,
        texture: ['smooth', 'spiral', '3-notches', '6-notches'],
        insert: ['none', 'smooth', '2-groove'],
        twist: [2, 4, 8],
        'rotor-speed': [-5, 5],
      },
    },
    ways: [
      textureWay('spiral', true),
      textureWay('3-notches', true),
      textureWay('6-notches', true),
      insertWay('smooth'),
      insertWay('2-groove'),
      percentWay('twist', 2),
      percentWay('twist', 4),
      percentWay('twist', 8),
      percentWay('rotor-speed', -5),
      percentWay('rotor-speed', 5),
    ],
  },
  {
    name: 'warp yarn: texture, radius, bend, twist',
    setup: `${WARP_SETUP}\nobservations: {end-breaks: slight}`,
    request: {
      options: {
        ...NONE,
        texture: ['smooth', '4-notches', '8-notches'],
        'nozzle-radius': [2.5, 5],
        'tube-bend': [15, 60],
        twist: [-6, -2, 6],
      },
    },
    ways: [
      textureWay('smooth', false),
      textureWay('4-notches', false),
      radiusWay(2.5, 4),
      radiusWay(5, 4),
      bendWay(15),
      bendWay(60),
      percentWay('twist', -6),
      percentWay('twist', -2),
      percentWay('twist', 6),
    ],
  },
  {
    name: 'hot polyester: radius, material, twist, speed',
    setup: `${POLYESTER_SETUP}\nobservations: {end-breaks: slight}`,
    request: {
      options: {
        ...NONE,
        'nozzle-radius': [2, 3],
        'nozzle-material': ['ceramic', 'steel', 'ceramic-head'],
        twist: [-6, 4],
        'rotor-speed': [-10, -5],
      },
    },
    ways: [
      radiusWay(2, 4),
      radiusWay(3, 4),
      materialWay('steel'),
      materialWay('ceramic-head'),
      percentWay('twist', -6),
      percentWay('twist', 4),
      percentWay('rotor-speed', -10),
      percentWay('rotor-speed', -5),
    ],
  },
];

describe('search for plans against brute force on small grids', () => {
  for (const grid of GRIDS)
    it(grid.name, () => {
      const expected = bruteForce(grid.setup, grid.ways, 'present');
      const report = makePlans(knowledge, caseOf(grid.setup), { ...grid.request, faster: true });
      expect(report.leftOut).toEqual([]);
      expect(report.tried).toBe(expected.tried);
      expect(report.allowed).toBe(expected.allowed);
      const vectors = (ids: readonly string[]) =>
        [...new Set(ids.map((id) => expected.rows.get(id)?.vector.join() ?? `unknown ${id}`))].sort();
      expect(vectors(report.efficient.map((plan) => plan.id))).toEqual(
        vectors(expected.efficient.map((row) => row.id)),
      );
      for (const plan of report.efficient)
        expect(plan.effects.chance).toBeCloseTo(expected.rows.get(plan.id)?.chance ?? -1, 10);
      expect(report.efficient.length).toBeGreaterThan(3);
    });

  it('names fewer combinations in full than there are', () => {
    const report = makePlans(knowledge, caseOf(`${WARP_SETUP}\nobservations: {end-breaks: slight}`));
    expect(report.tried).toBeGreaterThan(5000);
    expect(report.computedInFull).toBeLessThan(report.tried / 4);
  });
});
