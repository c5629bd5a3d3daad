import { beforeAll, describe, expect, it } from 'vitest';
import { KnowledgeError } from '../../src/rules/knowledge/errors.js';
import { loadVignettes, type Vignette } from '../../src/rules/knowledge/load-vignettes.js';
import { VIGNETTE_KINDS, vignetteSchema } from '../../src/rules/knowledge/vignette-schema.js';
import { runVignettes, type VignetteResult } from '../../src/rules/workshop/run-vignettes.js';
import { diagnostician, folder, knowledge } from './engine.js';

const vignettes = loadVignettes(folder, knowledge.book, diagnostician.vocabulary);
const all = [...vignettes.values()];

/** Situations whose five leading causes are held. */
const GOLDEN = [
  'soft-knit-on-smooth-nozzle',
  'insert-left-out-after-cleaning',
  'fused-specks-in-polyester',
  'torn-ends-after-the-speed-step',
  'eight-notches-on-fine-knitting-yarn',
  'waste-yarn-on-narrow-grooves',
  'white-powder-in-a-blend',
  'bits-in-every-broken-end',
  'short-hairs-on-every-nozzle',
  'old-nozzles-and-a-dusty-lot',
  'less-twist-and-a-shorter-lot',
  'thin-tails-at-high-tension',
  'worst-of-the-hall',
  'first-word-of-a-bad-night',
  'blunt-teeth-and-a-dirty-lot',
  'fibre-blamed-for-a-large-radius',
];

describe('the collection of situations', () => {
  const least: Record<(typeof VIGNETTE_KINDS)[number], number> = {
    'one-fault': 15,
    'two-faults': 6,
    misleading: 7,
    conflicting: 5,
    chance: 5,
    'leave-the-nozzle': 6,
  };

  it.each(VIGNETTE_KINDS)('has enough of the kind %s', (kind) => {
    expect(all.filter((vignette) => vignette.kind === kind).length).toBeGreaterThanOrEqual(least[kind]);
  });

  it('spans all end uses, man-made fibres and blends', () => {
    expect(new Set(all.map((one) => one.setup['end-use']))).toEqual(new Set(knowledge.endUses.keys()));
    const fibres = all.map((one) => one.setup.fibre);
    expect(fibres).toEqual(expect.arrayContaining(['cotton', 'polyester', 'viscose', 'acrylic']));
    expect(fibres.filter((fibre) => typeof fibre === 'object').length).toBeGreaterThanOrEqual(3);
  });

  it('puts causes of every family in the first places', () => {
    const first = all.flatMap((one) =>
      one.expect.filter(({ is }) => is.startsWith('first')).map(({ cause }) => cause),
    );
    const families = new Set(first.map((id) => knowledge.book.causes.get(id)?.family));
    expect(families).toEqual(new Set([...knowledge.book.causes.values()].map((cause) => cause.family)));
  });

  it('holds enough that compare with before or carry measurements', () => {
    expect(all.filter((one) => one.before !== undefined).length).toBeGreaterThanOrEqual(10);
    expect(all.filter((one) => one.measurements !== undefined).length).toBeGreaterThanOrEqual(10);
  });

  it('names two faults where it says two', () => {
    for (const one of all.filter(({ kind }) => kind === 'two-faults'))
      expect(one.expect.filter(({ is }) => is.startsWith('first')).length, one.id).toBeGreaterThanOrEqual(2);
  });

  it('leaves the nozzle out wherever the nozzle is to be left alone', () => {
    for (const one of all.filter(({ kind }) => kind === 'leave-the-nozzle')) {
      const nozzle = one.expect.filter(({ cause, is }) => /^nozzle-/.test(cause) && is === 'below-2-percent');
      expect(nozzle.length, one.id).toBeGreaterThanOrEqual(1);
    }
  });

  it('refuses a story of one sentence, an unknown key and an unknown cause', () => {
    const [some] = all;
    if (some === undefined) throw new Error('no situations');
    const { case: _, ...file } = some;
    expect(vignetteSchema.safeParse(file).success).toBe(true);
    expect(vignetteSchema.safeParse({ ...file, story: 'It breaks.' }).success).toBe(false);
    expect(vignetteSchema.safeParse({ ...file, lesson: 'x' }).success).toBe(false);
    const none = { ...knowledge.book, causes: new Map() };
    expect(() => loadVignettes(folder, none, diagnostician.vocabulary)).toThrow(KnowledgeError);
  });
});

describe('situations through the engine', () => {
  let results: ReadonlyMap<string, VignetteResult>;
  beforeAll(async () => {
    results = new Map((await runVignettes(diagnostician, all)).map((result) => [result.id, result]));
  }, 120_000);

  it.each(all.map((one) => [one.kind, one.id]))('%s: %s', (_, id) => {
    const result = results.get(id);
    const seen = result?.leading.map((one) => `${one.id} ${one.probability.toFixed(3)}`).join(', ');
    expect(result?.failures, `leading: ${seen}`).toEqual([]);
    expect(result?.passed).toBe(true);
  });

  it.each(GOLDEN)('leading causes as held: %s', async (id) => {
    const leading = results.get(id)?.leading.map((one) => one.id);
    expect(leading).toHaveLength(5);
    await expect(`${JSON.stringify(leading, null, 2)}\n`).toMatchFileSnapshot(`../golden/${id}.json`);
  });

  it('says what failed when the knowledge does not bear an expectation out', async () => {
    const wrong: Vignette[] = all
      .filter(({ id }) => id === 'bars-every-ten-centimetres')
      .map((one) => ({
        ...one,
        expect: [{ cause: 'rotor-local-dirt', is: 'below-2-percent' as const }],
        action: { id: 'clean-rotor', is: 'forbidden' as const },
      }));
    const [result] = await runVignettes(diagnostician, wrong);
    expect(result?.passed).toBe(false);
    expect(result?.failures).toHaveLength(2);
    expect(result?.failures[0]).toMatch(/^rotor-local-dirt should be below-2-percent, is number 1 with 9/);
    expect(result?.failures[1]).toBe('the action clean-rotor should be forbidden, is open');
  });
});
