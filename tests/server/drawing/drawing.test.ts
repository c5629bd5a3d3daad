import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadKnowledge } from '../../../src/rules/knowledge/load-knowledge.js';
import { PLACES } from '../../../src/rules/knowledge/place-schema.js';
import { drawPosition } from '../../../src/server/pictures/drawing/draw-position.js';
import { standaloneDrawing } from '../../../src/server/pictures/drawing/standalone.js';
import { computeState } from '../../../src/spinning/model.js';
import { centralParameters } from '../../../src/spinning/parameters.js';
import type { SpinningSetup } from '../../../src/spinning/setup.js';

const parameters = centralParameters(loadKnowledge().parameters);

const SETUP: SpinningSetup = {
  fibres: [{ fibre: 'cotton', share: 1 }],
  recycledShare: 0,
  delustrant: 'bright',
  stapleMm: 28,
  finenessMtex: 165,
  countTex: 29.5,
  twistPerMetre: 650,
  rotorDiameterMm: 33,
  rotorSpeedRpm: 100000,
  groove: 'medium',
  nozzleSurface: 'notched',
  notches: 4,
  nozzleMaterial: 'ceramic',
  nozzleRadiusMm: 4,
  nozzleProtrusionMm: 0.5,
  nozzleHours: 5000,
  tubeBendDeg: 40,
  insert: '2-groove',
  tubeHours: 5000,
  openingRollerRpm: 7500,
  temperatureC: 25,
  humidityPct: 58,
  sliverKtex: 4.5,
  sliverTrashPct: 0.1,
  windingTensionDraft: 0.98,
};

const draw = (setup: SpinningSetup, layout: 'wide' | 'tall' = 'wide') => {
  const state = computeState(setup, parameters);
  return { state, ...drawPosition(setup, state, { layout }) };
};

/** Attribute `d` of the only element with that part name. */
function pathOf(svg: string, part: string): string {
  const found = [...svg.matchAll(/<path ([^>]*)>/g)]
    .map((match) => match[1] ?? '')
    .filter((attributes) => attributes.includes(`data-part="${part}"`));
  expect(found, part).toHaveLength(1);
  return /(?:^| )d="([^"]*)"/.exec(found[0] ?? '')?.[1] ?? '';
}

const numbers = (text: string) => (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);

/** Length of a path of one straight stroke. */
function lineLength(d: string): number {
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = numbers(d);
  return Math.hypot(x2 - x1, y2 - y1);
}

/** Radius, angle in degrees and length of a path of one arc: from its ends and the chord, not from what was asked for. */
function arcOf(d: string): { radius: number; angle: number; length: number } {
  const [x1 = 0, y1 = 0, radius = 0, , , large = 0, , x2 = 0, y2 = 0] = numbers(d);
  const small = (2 * Math.asin(Math.min(1, Math.hypot(x2 - x1, y2 - y1) / (2 * radius))) * 180) / Math.PI;
  const angle = large === 1 ? 360 - small : small;
  return { radius, angle, length: (angle * Math.PI * radius) / 180 };
}

/** Units of the sheet in a millimetre, measured on the scale bar of a view (0: into the rotor, 1: cut, 2: entry, 3: twist). */
function scaleOf(svg: string, view: number): number {
  const bars = [...svg.matchAll(/data-mm="(\d+)"><path [^>]*d="([^"]*)"/g)];
  const bar = bars[view];
  return lineLength(bar?.[2] ?? '') / Number(bar?.[1]);
}

const setups = fc.record({
  rotorDiameterMm: fc.constantFrom(28, 31, 33, 36, 40, 46, 56),
  nozzleRadiusMm: fc.double({ min: 1.5, max: 6, noNaN: true }),
  nozzleProtrusionMm: fc.double({ min: -1.5, max: 4, noNaN: true }),
  tubeBendDeg: fc.integer({ min: 5, max: 90 }),
  twistPerMetre: fc.integer({ min: 350, max: 1200 }),
  notches: fc.integer({ min: 1, max: 8 }),
  layout: fc.constantFrom('wide' as const, 'tall' as const),
});

describe('the drawing, measured on the sheet', () => {
  it('keeps lengths and angles of the position', () => {
    fc.assert(
      fc.property(setups, ({ layout, ...change }) => {
        const setup = { ...SETUP, rotorSpeedRpm: 3_300_000 / change.rotorDiameterMm, ...change };
        const { svg, state } = draw(setup, layout);
        const into = scaleOf(svg, 0);
        expect(scaleOf(svg, 1)).toBeCloseTo(into, 3);
        expect(lineLength(pathOf(svg, 'rotor-diameter')) / into).toBeCloseTo(setup.rotorDiameterMm, 1);
        expect(arcOf(pathOf(svg, 'binding-in')).length / into).toBeCloseTo(state.bindingLengthMm, 1);
        expect(arcOf(pathOf(svg, 'binding-in')).radius / into).toBeCloseTo(setup.rotorDiameterMm / 2, 2);
        expect(lineLength(pathOf(svg, 'arm')) / into).toBeCloseTo(
          setup.rotorDiameterMm / 2 - state.contactRadiusMm,
          1,
        );

        const wrap = arcOf(pathOf(svg, 'section-wrap'));
        expect(wrap.radius / into).toBeCloseTo(setup.nozzleRadiusMm, 2);
        expect(wrap.angle).toBeCloseTo(state.nozzleWrapDeg, 0);
        expect(arcOf(pathOf(svg, 'bend-angle')).angle).toBeCloseTo(setup.tubeBendDeg, 0);

        const enlarged = scaleOf(svg, 2);
        expect(lineLength(pathOf(svg, 'lip-radius')) / enlarged).toBeCloseTo(setup.nozzleRadiusMm, 1);
        expect(arcOf(pathOf(svg, 'wrap-angle')).angle).toBeCloseTo(state.nozzleWrapDeg, 0);
        if (Math.abs(setup.nozzleProtrusionMm) > 0.1)
          expect(lineLength(pathOf(svg, 'protrusion')) / enlarged).toBeCloseTo(
            Math.abs(setup.nozzleProtrusionMm),
            1,
          );
      }),
      { numRuns: 60 },
    );
  });

  it('leads the yarn straight on from entry to groove: hardly a kink where it leaves the arc', () => {
    fc.assert(
      fc.property(setups, ({ layout, ...change }) => {
        fc.pre(change.nozzleProtrusionMm <= 2);
        const setup = { ...SETUP, ...change };
        const { svg } = draw(setup, layout);
        const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = numbers(pathOf(svg, 'section-arm'));
        const [, , , , , , , ex = 0, ey = 0] = numbers(pathOf(svg, 'section-wrap'));
        // The middle of the arc lies straight above its end, by its radius.
        const radius = setup.nozzleRadiusMm * scaleOf(svg, 1);
        const centre = { x: ex, y: ey - radius };
        const toCentre = Math.atan2(centre.y - y2, centre.x - x2);
        const along = Math.atan2(y2 - y1, x2 - x1);
        const between = (Math.abs(toCentre - along) * 180) / Math.PI;
        // The model's wrap angle starts from the contact circle, not from the tangent point. Up to 2 mm of protrusion
        // the kink that leaves is hardly seen; beyond, on the smallest rotor, it grows to a few degrees.
        expect(Math.abs((between % 180) - 90)).toBeLessThan(3);
      }),
      { numRuns: 40 },
    );
  });

  it('draws every turn and every notch', () => {
    fc.assert(
      fc.property(setups, ({ layout, ...change }) => {
        const setup = { ...SETUP, ...change };
        const { svg, state } = draw(setup, layout);
        const count = (part: string) => svg.split(`data-part="${part}"`).length - 1;
        expect(count('notch')).toBe(setup.notches);
        expect(count('insert-groove')).toBe(2);
        expect(Math.abs(count('turn-set') - setup.twistPerMetre / 100)).toBeLessThanOrEqual(0.5001);
        expect(Math.abs(count('turn-arm') - state.armTwistPerM / 100)).toBeLessThanOrEqual(0.5001);
        const arm = setup.rotorDiameterMm / 2 - state.contactRadiusMm;
        expect(Math.abs(count('arm-turn') - (arm * state.armTwistPerM) / 1000)).toBeLessThanOrEqual(0.5001);
      }),
      { numRuns: 40 },
    );
  });

  it('leaves out what is not there', () => {
    const { svg } = draw({ ...SETUP, nozzleSurface: 'smooth', notches: 0, insert: 'none', tubeBendDeg: 0 });
    expect(svg).not.toContain('data-part="notch"');
    expect(svg).not.toContain('data-part="insert"');
    expect(svg).toContain('no insert');
  });

  it('shows what was before', () => {
    const state = computeState(SETUP, parameters);
    const before = { ...SETUP, nozzleRadiusMm: 3, twistPerMetre: 600, insert: 'none' as const };
    const drawing = drawPosition(SETUP, state, {
      before: { setup: before, state: computeState(before, parameters) },
    });
    expect(drawing.svg).toContain('4 mm (was 3)');
    expect(drawing.svg).toContain('(was none)');
    const moved = drawing.measures
      .filter((measure) => measure.before !== undefined)
      .map((measure) => measure.id);
    expect(moved).toEqual(
      expect.arrayContaining(['nozzle-radius', 'twist-set', 'insert-grooves', 'binding-in']),
    );
    expect(moved).not.toContain('rotor-diameter');
    expect(drawing.description).toMatch(/Dashed lines/);
  });

  it('marks every place a cause can act at, in both layouts', () => {
    const state = computeState(SETUP, parameters);
    for (const layout of ['wide', 'tall'] as const)
      for (const place of PLACES) {
        const drawing = drawPosition(SETUP, state, {
          layout,
          marks: [{ place, placeLabel: place, label: 'Something' }],
        });
        expect(drawing.svg.split(`data-part="mark-${place}"`).length, place).toBe(2);
        const mark = new RegExp(
          `translate\\(([-\\d.]+) ([-\\d.]+)\\)"(?:(?!translate).)*data-part="mark-${place}"><circle cx="([-\\d.]+)" cy="([-\\d.]+)"`,
        ).exec(drawing.svg);
        const [tx = Number.NaN, ty = Number.NaN, cx = Number.NaN, cy = Number.NaN] = (mark ?? [])
          .slice(1)
          .map(Number);
        expect(tx + cx).toBeGreaterThan(0);
        expect(tx + cx).toBeLessThan(drawing.width);
        expect(ty + cy).toBeGreaterThan(0);
        expect(ty + cy).toBeLessThan(drawing.height);
      }
    expect(() =>
      drawPosition(SETUP, state, { marks: [{ place: 'moon', placeLabel: 'moon', label: 'x' }] }),
    ).toThrow(/place: "moon"/);
  });

  it('is described in words and keeps to the content-security policy', () => {
    const { svg, description, measures } = draw(SETUP);
    expect(svg).toMatch(/<title[^>]*>.+<\/title><desc[^>]*>.+<\/desc>/);
    expect(description).toContain('rotor is 33.0 mm across');
    for (const measure of measures) expect(Number.isFinite(measure.value), measure.id).toBe(true);
    expect(svg).not.toMatch(/ style=|<style|<script| on[a-z]+=/);
  });

  it('escapes what comes from outside', () => {
    const state = computeState(SETUP, parameters);
    const { svg } = drawPosition(SETUP, state, {
      title: '<b>&"',
      marks: [{ place: 'groove', placeLabel: 'groove', label: '<script>' }],
    });
    expect(svg).not.toContain('<script>');
    expect(svg).toContain('&lt;b&gt;&amp;&quot;');
  });

  it('as a file of its own carries its style and a size for paper', () => {
    const file = standaloneDrawing(draw(SETUP));
    expect(file).toMatch(/^<\?xml version="1\.0"[^>]*>\n<svg [^>]*width="270mm" height="\d+mm"/);
    expect(file).toContain('<style>');
    expect(file).toContain('.dw-yarn');
  });
});
