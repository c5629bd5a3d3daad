import { describe, expect, it } from 'vitest';
import { writeCase } from '../../../src/rules/case/write-case.js';
import { caseOf, diagnostician, LOW_TWIST_SMOOTH, ONE_POSITION_AFTER_CLEANING, order } from './fixture.js';

const logOdds = (p: number) => 10 * Math.log10(p / (1 - p));

describe('a diagnosis', () => {
  it('names twist or nozzle first on a knitting frame with low twist and a smooth nozzle', async () => {
    const { causes } = await diagnostician().diagnose(caseOf(LOW_TWIST_SMOOTH));
    expect(['twist-too-low', 'nozzle-too-smooth']).toContain(causes[0]?.id);
    expect(order(causes).slice(0, 4)).toContain('nozzle-too-smooth');
  });

  it('names the insert for the same signs on one position right after a cleaning', async () => {
    const { causes } = await diagnostician().diagnose(caseOf(ONE_POSITION_AFTER_CLEANING));
    expect(causes[0]?.id).toBe('insert-missing-or-worn');
    const twist = causes.find((cause) => cause.id === 'twist-too-low');
    expect(twist?.probability).toBeLessThan(0.1);
  });

  it('has a ledger for every cause whose weights add up to the change of its log-odds', async () => {
    const { causes } = await diagnostician().rank(caseOf(LOW_TWIST_SMOOTH));
    let checked = 0;
    for (const cause of causes) {
      if (cause.ruledOut !== undefined) continue;
      const sum = cause.ledger.reduce((total, entry) => total + entry.decibans, 0);
      // Entries below a twentieth of a deciban are left out of the ledger.
      expect(Math.abs(sum - logOdds(cause.probability)), cause.id).toBeLessThan(0.3);
      expect(cause.ledger.at(-1)?.after).toBeCloseTo(cause.probability, 2);
      checked++;
    }
    expect(checked).toBeGreaterThan(50);
  });

  it('says the same twice', async () => {
    const strip = async () => {
      const { inference, ...rest } = await diagnostician().diagnose(caseOf(LOW_TWIST_SMOOTH));
      return { ...rest, width: inference.width };
    };
    expect(await strip()).toEqual(await strip());
  });

  it('does not change its mind with the order of the lines', async () => {
    const one = await diagnostician().rank(
      caseOf(
        'observations: {hairy: marked, fly-machine: marked, low-tenacity: slight}\nsetup: {fibre: cotton, count: 30 tex}\n',
      ),
    );
    const two = await diagnostician().rank(
      caseOf(
        'setup: {count: 30 tex, fibre: cotton}\nobservations: {low-tenacity: slight, fly-machine: marked, hairy: marked}\n',
      ),
    );
    one.causes.forEach((cause) => {
      expect(two.causes.find((other) => other.id === cause.id)?.probability).toBeCloseTo(
        cause.probability,
        9,
      );
    });
  });

  it('rules out what the setup excludes and says why', async () => {
    const { causes } = await diagnostician().rank(caseOf(LOW_TWIST_SMOOTH));
    const insert = causes.find((cause) => cause.id === 'insert-missing-or-worn');
    expect(insert?.probability).toBe(0);
    expect(insert?.ruledOut?.because).toMatch(/insert/);
  });

  it('weighs an absent sign against what would have brought it', async () => {
    const setup = 'setup: {fibre: cotton, count: 30 tex, end-use: weft}\nscope: frame\n';
    const seen = await diagnostician().rank(caseOf(`${setup}observations: {fly-machine: marked}\n`));
    const bald = await diagnostician().rank(
      caseOf(`${setup}observations: {fly-machine: marked, hairy: absent}\n`),
    );
    const of = (ranking: typeof seen) =>
      ranking.causes.find((cause) => cause.id === 'nozzle-too-rough')?.probability ?? 0;
    expect(of(bald)).toBeLessThan(of(seen));
  });

  it('draws chains from a cause to what was seen, each link with its reason and ground', async () => {
    const { causes } = await diagnostician().rank(caseOf(LOW_TWIST_SMOOTH));
    const chain = causes
      .find((cause) => cause.id === 'twist-too-low')
      ?.chains.find((one) => one.steps.at(-1)?.node === 'end-breaks');
    expect(chain).toBeDefined();
    expect(chain?.steps.map((step) => step.kind)).toEqual(
      expect.arrayContaining(['setting', 'cause', 'mechanism', 'symptom']),
    );
    for (const step of chain?.steps.slice(1) ?? []) {
      expect(step.link?.why.length ?? 0).toBeGreaterThan(5);
      expect(step.link?.ground.standing).toBeDefined();
    }
  });

  it('never shows a source that was not read', async () => {
    const { causes } = await diagnostician().rank(caseOf(LOW_TWIST_SMOOTH));
    const read = new Set(
      [...diagnostician().knowledge.book.sources.values()]
        .filter((one) => one.seen === 'read')
        .map((one) => one.cite),
    );
    const cited = JSON.stringify(causes).matchAll(/"cite":"((?:[^"\\]|\\.)*)"/g);
    let count = 0;
    for (const [, cite] of cited) {
      expect(read).toContain(JSON.parse(`"${cite}"`));
      count++;
    }
    expect(count).toBeGreaterThan(10);
  });

  it('answers a check and everything moves', async () => {
    const before = await diagnostician().diagnose(caseOf(ONE_POSITION_AFTER_CLEANING));
    expect(before.checks.map((check) => check.id)).toContain('insert-look');
    const after = await diagnostician().diagnose(
      caseOf(`${ONE_POSITION_AFTER_CLEANING}findings: {insert-look: missing}\n`),
    );
    expect(after.causes[0]?.id).toBe('insert-missing-or-worn');
    expect(after.causes[0]?.probability).toBeGreaterThan(0.85);
    expect(after.checks.map((check) => check.id)).not.toContain('insert-look');
    const clean = await diagnostician().diagnose(
      caseOf(`${ONE_POSITION_AFTER_CLEANING}findings: {insert-look: as-fitted}\n`),
    );
    expect(clean.causes.find((cause) => cause.id === 'insert-missing-or-worn')?.probability).toBeLessThan(
      0.15,
    );
  });

  it('gives each check answers whose chances sum to one, and ranks by minutes saved per minute', async () => {
    const { checks } = await diagnostician().diagnose(caseOf(LOW_TWIST_SMOOTH));
    expect(checks.length).toBeGreaterThan(10);
    for (const check of checks) {
      expect(
        check.outcomes.reduce((sum, outcome) => sum + outcome.probability, 0),
        check.id,
      ).toBeCloseTo(1, 6);
      expect(check.saves).toBeGreaterThanOrEqual(0);
    }
    const rates = checks.map((check) => check.savesPerMinute);
    expect([...rates].sort((a, b) => b - a)).toEqual(rates);
  });

  it('computes side effects with the right sign and ranks what is forbidden last', async () => {
    const { actions } = await diagnostician().diagnose(caseOf(LOW_TWIST_SMOOTH));
    const raise = actions.find((action) => action.id === 'raise-twist');
    const effect = (on: string) => raise?.sideEffects.find((one) => one.on === on);
    expect(effect('output')?.changePercent).toBeLessThan(-2);
    expect(effect('hand')?.direction).toBe('worse');
    expect(raise?.cautions.length).toBeGreaterThan(0);
    const forbidden = actions.map((action) => action.forbidden !== undefined);
    expect([...forbidden].sort()).toEqual(forbidden);
  });

  it('does not let an action break what the end use needs', async () => {
    const { actions } = await diagnostician().diagnose(
      caseOf(`
setup: {fibre: cotton, count: 20 Ne, twist: 4.25 alpha-e, end-use: knitting, nozzle: {surface: smooth}, tube: {insert: none}}
observations: {end-breaks: marked}
scope: frame
`),
    );
    expect(actions.find((action) => action.id === 'raise-twist')?.forbidden ?? '').not.toBe('');
  });

  it('holds counts that show nothing for chance, and counts that show much against it', async () => {
    const of = async (count: number) => {
      const { causes } = await diagnostician().rank(
        caseOf(`
setup: {fibre: cotton, count: 30 tex, end-use: weft}
scope: frame
measurements: {end-breaks: {count: ${count}, rotor-hours: 240, norm-per-1000: 90}}
`),
      );
      return causes.find((cause) => cause.id === 'no-assignable-cause')?.probability ?? 0;
    };
    const usual = await of(22);
    const high = await of(60);
    expect(usual).toBeGreaterThan(3 * high);
    expect(high).toBeLessThan(0.02);
  });

  it('answers with nothing seen, everything seen, and nothing given at all', async () => {
    const all = [...diagnostician().knowledge.book.symptoms.keys()];
    for (const level of ['absent', 'slight', 'marked']) {
      const text = `setup: {fibre: cotton, count: 30 tex}\nobservations: {${all.map((id) => `${id}: ${level}`).join(', ')}}\n`;
      const { causes, inference, warnings } = await diagnostician().rank(caseOf(text));
      for (const cause of causes) {
        expect(cause.probability).toBeGreaterThanOrEqual(0);
        expect(cause.probability).toBeLessThanOrEqual(1);
      }
      // Beyond the bound the answer is an estimate and says so; it is never silently one.
      expect(inference.exact).toBe(inference.method !== 'sampling');
      expect(warnings.some((one) => /standard error/.test(one.message))).toBe(!inference.exact);
    }
    expect((await diagnostician().diagnose(caseOf('scope: frame\n'))).causes.length).toBeGreaterThan(70);
  });
});

describe('counts that come bunched', () => {
  it('weigh less than the same counts without bunching, and survive a round trip through the file', async () => {
    const text = (extra: string) => `
setup: {fibre: cotton, count: 30 tex, end-use: weft}
scope: frame
measurements: {end-breaks: {count: 40, rotor-hours: 240, norm-per-1000: 90${extra}}}
`;
    const chance = async (extra: string) =>
      (await diagnostician().rank(caseOf(text(extra)))).causes.find(
        (cause) => cause.id === 'no-assignable-cause',
      )?.probability ?? 0;
    expect(await chance(', dispersion: 4')).toBeGreaterThan(1.5 * (await chance('')));
    expect(caseOf(writeCase(caseOf(text(', dispersion: 4')))).measurements.endBreaks?.dispersion).toBe(4);
    expect(() => caseOf(text(', dispersion: 0.5'))).toThrow(/dispersion/);
  });
});
