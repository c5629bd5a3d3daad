import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { columnsOf } from '../../src/cli/layout/wrap.js';
import { run, unwrapped } from './fake-terminal.js';

const CASE = `
title: Frame 3 slips
setup:
  fibre: cotton
  count: 20 Ne
  twist: 3.5 alpha-e
  end-use: knitting
  rotor: {diameter: 33 mm, speed: 100000 rpm}
  nozzle: {surface: smooth, material: ceramic, radius: 4 mm, protrusion: 0.5 mm}
  tube: {bend: 40 deg, insert: none}
observations: {end-breaks: marked}
findings: {broken-tail: tapering}
`;

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-plan-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function file(text: string, name: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

describe('peelpoint plan', () => {
  it('prints the plan with its steps, cautions before them', async () => {
    const { code, out, err } = await run(['plan', file(CASE, 'case.yaml')]);
    expect([code, err]).toEqual([0, '']);
    for (const heading of [
      'Cautions, before any work',
      'Steps, one at a time',
      'What it brings and costs',
      'How it was found',
    ])
      expect(out).toContain(heading);
    expect(out.indexOf('Cautions')).toBeLessThan(out.indexOf('Steps, one at a time'));
    expect(unwrapped(out)).toMatch(/Recommended: .* Chance of a stable run \d+ % → \d+ %/);
    expect(out).toMatch(/Go back: /);
    for (const line of out.split('\n')) expect(columnsOf(line), line).toBeLessThanOrEqual(80);
  });

  it('prints JSON with what was tried', async () => {
    const { code, out } = await run([
      'plan',
      file(CASE, 'case.yaml'),
      '--json',
      '--changes',
      '2',
      '--positions',
      '96',
    ]);
    expect(code).toBe(0);
    const report = JSON.parse(out);
    expect(report.tried).toBeGreaterThan(300);
    expect(report.recommended.changes.length).toBeLessThanOrEqual(2);
    expect(report.present.cost.positions).toBe(96);
    expect(report.efficient.length).toBeGreaterThan(1);
  });

  it('keeps every limit given, also several', async () => {
    const path = file(CASE, 'case.yaml');
    const { out } = await run([
      'plan',
      path,
      '--json',
      '--limit',
      'this-yarn-only',
      '--limit',
      'dont-lose-output',
    ]);
    const report = JSON.parse(out);
    expect(report.limits).toEqual(['this-yarn-only', 'dont-lose-output']);
    for (const plan of report.efficient) {
      expect(
        plan.changes.every((change: { setting: string }) =>
          ['twist', 'rotor-speed'].includes(change.setting),
        ),
      ).toBe(true);
      expect(plan.effects.output.value).toBeGreaterThanOrEqual(-1e-6);
    }
  });

  it('uses only the parts on the shelf', async () => {
    const shelf = file('nozzles: []\ninserts: [2-groove]\ntubes: []\nwashers: []\n', 'shelf.yaml');
    const { code, out } = await run(['plan', file(CASE, 'case.yaml'), '--json', '--stock', shelf]);
    expect(code).toBe(0);
    const settings = new Set<string>();
    for (const plan of JSON.parse(out).efficient)
      for (const change of plan.changes) settings.add(change.setting);
    expect([...settings].sort()).toEqual(['insert', 'rotor-speed', 'twist']);
  });

  it('refuses a wrong limit, stock or case with exit 2, naming what is allowed', async () => {
    const path = file(CASE, 'case.yaml');
    const limit = await run(['plan', path, '--limit', 'dont-loose-output']);
    expect(limit.code).toBe(2);
    expect(unwrapped(limit.err)).toContain('did you mean "dont-lose-output"?');
    const stock = await run([
      'plan',
      path,
      '--stock',
      file('nozzles: [{texture: rough, radius: 90 mm}]\nwashers: 0.5\nscrews: [M3]', 'bad.yaml'),
    ]);
    expect(stock.code).toBe(2);
    const said = unwrapped(stock.err);
    expect(said).toContain('nozzles.0.texture');
    expect(said).toContain('nozzles.0.radius');
    expect(said).toContain('washers');
    expect(said).toContain('screws');
    const none = await run(['plan', join(folder, 'none.yaml')]);
    expect([none.code, none.out]).toEqual([2, '']);
    const json = await run(['plan', file('setup: {fibre: stone}', 'stone.yaml'), '--json']);
    expect(json.code).toBe(2);
    expect(JSON.parse(json.out).problems.length).toBeGreaterThan(0);
  });

  it('proposes a setup for a new yarn', async () => {
    const { code, out } = await run([
      'plan',
      file('setup: {fibre: polyester, count: 30 Ne, end-use: knitting}', 'new.yaml'),
    ]);
    expect(code).toBe(0);
    expect(out).toContain('The setup proposed');
  });
});

describe('peelpoint compare', () => {
  const other = CASE.replace('Frame 3 slips', 'Frame 4 runs').replace(
    'surface: smooth',
    'surface: notched, notches: 4',
  );

  it('prints what differs, in words and every quantity', async () => {
    const { code, out, err } = await run(['compare', file(CASE, 'a.yaml'), file(other, 'b.yaml')]);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('Frame 4 runs against Frame 3 slips');
    expect(unwrapped(out)).toMatch(/Hairiness is .* higher in “Frame 4 runs”, by the nozzle texture/);
    expect(out).toContain('nozzle texture: smooth → 4 notches');
    expect(out).toContain('Draw-off tension');
  });

  it('takes three, gives JSON, and needs two', async () => {
    const three = await run([
      'compare',
      file(CASE, 'a.yaml'),
      file(other, 'b.yaml'),
      file(CASE, 'c.yaml'),
      '--json',
    ]);
    expect(three.code).toBe(0);
    expect(JSON.parse(three.out).names).toEqual(['A: Frame 3 slips', 'Frame 4 runs', 'C: Frame 3 slips']);
    expect((await run(['compare', file(CASE, 'a.yaml')])).code).toBe(2);
    expect((await run(['compare', '-', '-'], { input: CASE })).code).toBe(2);
  });
});

describe('peelpoint draw', () => {
  it('writes a drawing that stands by itself', async () => {
    const out = join(folder, 'position.svg');
    const { code, err } = await run(['draw', file(CASE, 'case.yaml'), '-o', out]);
    expect(code).toBe(0);
    expect(err).toContain('rotor is 33.0 mm across');
    expect(existsSync(out)).toBe(true);
    const svg = readFileSync(out, 'utf8');
    expect(svg).toMatch(/^<\?xml/);
    expect(svg).toContain('Frame 3 slips');
    expect(svg).not.toContain('(was');
  });

  it('draws what was before dashed, the planned setup and the places of causes', async () => {
    const before = await run(['draw', file(`${CASE}before: {nozzle: {radius: 3 mm}}\n`, 'before.yaml')]);
    expect(before.out).toContain('4 mm (was 3)');
    const planned = await run(['draw', file(CASE, 'case.yaml'), '--planned', '--causes', '--tall']);
    expect(planned.code).toBe(0);
    expect(planned.out).toContain('(was');
    expect(planned.out).toContain('dw-mark');
    expect(planned.out).toContain('drawing-tall');
  });

  it('says why a file cannot be written', async () => {
    const { code, err } = await run([
      'draw',
      file(CASE, 'case.yaml'),
      '-o',
      join(folder, 'no', 'such', 'folder.svg'),
    ]);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('cannot be written');
  });
});
