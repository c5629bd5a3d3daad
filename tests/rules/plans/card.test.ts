import { describe, expect, it } from 'vitest';
import { makeCard } from '../../../src/rules/plans/card.js';
import { makePlans } from '../../../src/rules/plans/make-plans.js';
import { loadPlanBook } from '../../../src/rules/plans/plan-book.js';
import { readStock } from '../../../src/rules/plans/read-stock.js';
import { caseOf, diagnostician, KNIT, knowledge } from './cases.js';

const input = caseOf(KNIT);
const report = makePlans(knowledge, input, {
  move: ['twist', 'insert'],
  ranking: await diagnostician.rank(input),
});

describe('the setup card', () => {
  it('of the present setup shows what is in force', () => {
    const card = makeCard(report, knowledge, { title: 'Frame 1', planned: false });
    expect(card.rows.find((row) => row.path === 'twist')?.value).toMatch(/αe 3.50/);
    expect(card.rows.every((row) => row.was === undefined)).toBe(true);
    expect(card.rows.find((row) => row.path === 'opening-roller.speed')?.assumed).toBe(true);
    expect(card.cautions.map((caution) => caution.id)).toEqual(
      expect.arrayContaining(['manual-first', 'rotor-coasts']),
    );
  });

  it('of a plan says what it was, why it changes and what to measure', () => {
    expect(report.recommended?.changes.length).toBeGreaterThan(0);
    const card = makeCard(report, knowledge, { title: 'Frame 1', planned: true });
    const moved = card.rows.filter((row) => row.was !== undefined);
    expect(moved).toHaveLength(report.recommended?.changes.length ?? 0);
    for (const row of moved) {
      expect(row.value).not.toBe(row.was);
      expect(row.why).toMatch(/\.$/);
      expect(row.watch.length).toBeGreaterThan(10);
    }
  });
});

describe('the numbers of plans', () => {
  it('name actions and signs that exist', () => {
    expect(() => loadPlanBook(undefined, knowledge.book)).not.toThrow();
    const without = { ...knowledge.book, actions: new Map(), symptoms: new Map() };
    expect(() => loadPlanBook(undefined, without)).toThrow(/there is no action "fit-rougher-nozzle"/);
  });
});

describe('stock', () => {
  it('is read with its units; what is left out is not there', () => {
    const reading = readStock(
      'nozzles: [{texture: 4-notches, radius: 0.4 cm}]\ninserts: []\ntubes: [30, 45 deg]\nwashers: 0.5',
    );
    expect(reading.ok).toBe(false);
    const fine = readStock(
      'nozzles: [{texture: 4-notches, radius: 0.4 cm}]\ninserts: []\ntubes: [30, 45 deg]',
    );
    expect(fine).toEqual({
      ok: true,
      stock: { nozzles: [{ texture: '4-notches', radiusMm: 4 }], inserts: [], tubesDeg: [30, 45] },
    });
    expect(readStock('')).toEqual({ ok: true, stock: {} });
  });

  it('is refused with line, field and what is allowed', () => {
    const reading = readStock('nozzles:\n  - {texture: rough}\ntubes:\n  - 400 deg\n');
    expect(reading.ok).toBe(false);
    if (reading.ok) return;
    expect(reading.problems.map((one) => [one.field, one.line])).toEqual([
      ['nozzles.0.texture', 2],
      ['tubes.0', 4],
    ]);
    expect(reading.problems[1]?.allowed).toEqual(['0 to 120 deg']);
  });
});
