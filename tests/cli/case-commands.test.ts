import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeDiagnosis } from '../../src/cli/commands/diagnose.js';
import { startPage } from '../../src/cli/layout/page.js';
import { columnsOf } from '../../src/cli/layout/wrap.js';
import { readCase } from '../../src/rules/case/case-file.js';
import { createDiagnostician } from '../../src/rules/diagnosis/diagnose.js';
import type { Diagnostician } from '../../src/rules/diagnostician.js';
import { loadKnowledge } from '../../src/rules/knowledge/load-knowledge.js';
import { fakeTerminal, run, unwrapped } from './fake-terminal.js';

const EXAMPLES = fileURLToPath(new URL('../../knowledge-base/cases/examples/', import.meta.url));
const example = (name: string) => join(EXAMPLES, `${name}.yaml`);
const examples = readdirSync(EXAMPLES).filter((name) => name.endsWith('.yaml'));

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'peelpoint-cli-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Writes a case file and gives its name. */
function caseFile(text: string | Uint8Array, name = 'case.yaml'): string {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
}

describe('peelpoint diagnose', () => {
  it('prints the ranked causes, next checks and first actions', async () => {
    const { code, out, err } = await run(['diagnose', example('one-bad-position')]);
    expect([code, err]).toEqual([0, '']);
    const text = unwrapped(out);
    expect(text).toContain('Position 117 breaks since the cleaning round');
    expect(text).toMatch(/ 1\. Twist-retention insert missing/);
    for (const heading of ['Causes', 'Cautions, before any work', 'Look at next', 'First actions', 'Assumed'])
      expect(out).toContain(heading);
    expect(out).not.toContain('\u001b');
    expect(out.indexOf('Cautions')).toBeLessThan(out.indexOf('Look at next'));
  });

  it('prints JSON of the documented shape, causes by falling probability', async () => {
    const { code, out } = await run(['diagnose', example('tapering-tails'), '--json']);
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    for (const key of ['causes', 'checks', 'actions', 'assumed', 'cautions', 'warnings'])
      expect(Array.isArray(answer[key])).toBe(true);
    expect(Object.keys(answer.computed).length).toBeGreaterThan(10);
    const [cause] = answer.causes;
    expect(cause).toMatchObject({
      id: expect.any(String),
      label: expect.any(String),
      family: expect.any(String),
    });
    expect(cause.ledger.length).toBeGreaterThan(1);
    expect(cause.chains.length).toBeGreaterThan(0);
    expect(answer.checks[0]).toMatchObject({ minutes: expect.any(Number), saves: expect.any(Number) });
    expect(answer.actions[0].sideEffects).toBeInstanceOf(Array);
    const probabilities = answer.causes.map((one: { probability: number }) => one.probability);
    expect(probabilities).toEqual([...probabilities].sort((a, b) => b - a));
  });

  it('reads standard input, JSON as well, and lists as many causes as asked for', async () => {
    const input = JSON.stringify({
      setup: { fibre: 'cotton', count: '20 Ne' },
      observations: { 'end-breaks': 'marked' },
    });
    const { code, out } = await run(['diagnose', '-', '--top', '2'], { input });
    expect(code).toBe(0);
    expect(out).toContain('\n 2. ');
    const causes = out.slice(out.indexOf('Causes'), out.indexOf('Figures behind'));
    expect(causes).not.toContain('\n 3. ');
    const json = await run(['diagnose', '-', '--top', '2', '--json'], { input });
    expect(JSON.parse(json.out).causes).toHaveLength(2);
  });

  it('weighs what was tried, and says what does not weigh', async () => {
    const setup = { fibre: 'cotton', count: '20 Ne' };
    const observations = { 'end-breaks': 'marked' };
    const ranked = async (tried: Record<string, string>) => {
      const input = JSON.stringify({ setup, observations, scope: 'position', tried });
      const { out } = await run(['diagnose', '-', '--json'], { input });
      const { causes, warnings } = JSON.parse(out) as {
        causes: { id: string; probability: number; ledger: { label: string }[] }[];
        warnings: { field: string }[];
      };
      return { dirt: causes.find(({ id }) => id === 'rotor-local-dirt'), warnings };
    };
    const before = await ranked({});
    const after = await ranked({ 'clean-rotor': 'no-change', 'raise-twist': 'undecided' });
    expect(after.dirt?.probability).toBeLessThan((before.dirt?.probability ?? 0) * 0.8);
    expect(after.dirt?.ledger.map(({ label }) => label).join()).toMatch(/Tried: .*rotor.*; nothing changed/);
    expect(after.warnings.map(({ field }) => field)).toContain('tried.raise-twist');
  });

  it('says what is wrong with a unit in one sentence, with what is allowed once', async () => {
    const input = 'setup: {fibre: cotton, count: 20 Nf}\nobservations: {hairy: marked}\n';
    const { code, err } = await run(['diagnose', '-'], { input });
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain(
      'line 1, setup.count: "Nf" in "20 Nf" is not a unit of this field. Allowed: 5 to 1000 tex, units: tex, Ne',
    );
    expect(err.match(/ktex/g)).toHaveLength(1);
  });

  it('names every problem of a bad case with field, value, what is allowed and line', async () => {
    const file = caseFile(
      [
        'setup:',
        '  fibre: cotton',
        '  count: 20 Nx',
        'observations:',
        '  end-brakes: marked',
        'scope: planet',
        '',
      ].join('\n'),
    );
    const { code, out, err } = await run(['diagnose', file]);
    expect([code, out]).toEqual([2, '']);
    const text = unwrapped(err);
    expect(text).toContain('for 3 reasons');
    expect(text).toMatch(/line 3, setup\.count: .*Nx/);
    expect(text).toMatch(/line 5, observations\.end-brakes, "marked": .*did you mean "end-breaks"/);
    expect(text).toMatch(/line 6, scope: .*planet.* Allowed: position, section/);

    const json = await run(['diagnose', file, '--json']);
    expect(json.code).toBe(2);
    const { problems } = JSON.parse(json.out);
    expect(problems.map((one: { line: number }) => one.line)).toEqual([3, 5, 6]);
    expect(problems[0]).toMatchObject({ field: 'setup.count', value: '20 Nx' });
    expect(problems[2].allowed).toContain('position');
  });

  it.each([
    ['a missing file', () => join(folder, 'nowhere.yaml'), 'does not exist'],
    ['a folder', () => folder, 'is a folder, not a file'],
    ['a file below a file', () => join(caseFile('x', 'plain'), 'case.yaml'), 'does not exist'],
    [
      'bytes that are no text',
      () => caseFile(new Uint8Array([0xff, 0xfe, 0x73, 0]), 'wide.yaml'),
      'is not a text in UTF-8',
    ],
    ['a file of millions of bytes', () => caseFile(new Uint8Array(2_000_001), 'large.yaml'), 'is too large'],
    ['text that is no YAML', () => caseFile('setup: {fibre: cotton', 'torn.yaml'), 'cannot be read'],
    ['an empty file', () => caseFile('', 'empty.yaml'), 'is missing; a case needs at least fibre and count'],
  ])('refuses %s in a plain sentence', async (_, file, message) => {
    const { code, out, err } = await run(['diagnose', file()]);
    expect([code, out]).toEqual([2, '']);
    expect(unwrapped(err)).toContain(message);
    expect(err).not.toContain('    at ');
  });

  it('refuses a number of causes that is none', async () => {
    const { code, err } = await run(['diagnose', example('bad-shift'), '--top', 'all']);
    expect(code).toBe(2);
    expect(err).toContain('a whole number from 1 to 999');
  });

  it('says plainly when the program itself is at fault', async () => {
    const terminal = fakeTerminal();
    const { main } = await import('../../src/cli/main.js');
    const broken = {
      ...terminal,
      out: () => {
        throw new TypeError('x is not a function');
      },
    };
    expect(await main(['--version'], broken)).toBe(70);
    expect(terminal.written.err).toContain('x is not a function');
    expect(terminal.written.err).toContain('PEELPOINT_DEBUG');
    expect(terminal.written.err).not.toContain('    at ');
  });
});

describe('the example cases', () => {
  let diagnostician: Diagnostician;
  beforeAll(() => {
    diagnostician = createDiagnostician(loadKnowledge());
  });

  /** What each situation was made up to show. */
  const MEANT: Readonly<Record<string, string>> = {
    'tapering-tails.yaml': 'twist-too-low',
    'one-bad-position.yaml': 'insert-missing-or-worn',
    'harsh-hand.yaml': 'nozzle-too-rough',
    'sticky-lot.yaml': 'honeydew-sticky',
    'hot-nozzle.yaml': 'nozzle-material-unsuitable',
    'bad-shift.yaml': 'no-assignable-cause',
  };

  it('are all told apart here', () => {
    expect(examples.sort()).toEqual(Object.keys(MEANT).sort());
  });

  it.each(examples)('%s: found, and laid out within 80 and 60 columns', async (name) => {
    const reading = readCase(readFileSync(join(EXAMPLES, name), 'utf8'), diagnostician.vocabulary);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problems));
    expect(reading.case.warnings).toEqual([]);
    const diagnosis = await diagnostician.diagnose(reading.case);
    expect(diagnosis.causes.slice(0, 3).map((cause) => cause.id)).toContain(MEANT[name]);
    for (const screen of [{ width: 80 }, { width: 60 }, { width: 80, unicode: false }]) {
      const terminal = fakeTerminal(screen);
      const page = startPage(terminal);
      writeDiagnosis(page, terminal, diagnosis, diagnostician.knowledge, 8);
      page.print();
      for (const line of terminal.written.out.split('\n'))
        expect(columnsOf(line), line).toBeLessThanOrEqual(terminal.width);
      if (!terminal.unicode) expect(terminal.written.out).toMatch(/^[\n -~]*$/);
      expect(terminal.written.out).not.toMatch(/undefined|NaN|\[object/);
    }
  });
});

describe('peelpoint setup', () => {
  it('prints margins, computed quantities with intervals and standing, and what was assumed', async () => {
    const { code, out } = await run(['setup', example('hot-nozzle')]);
    expect(code).toBe(0);
    for (const part of [
      'Margins',
      'Heat margin',
      '90 % interval',
      'Rests on',
      'physics',
      'judgement',
      'Assumed',
    ])
      expect(out).toContain(part);
    expect(out).toMatch(/Delivery +\d+ +\d+ – \d+ +m\/min +physics/);
  });

  it('gives the same in JSON', async () => {
    const { code, out } = await run(['setup', example('hot-nozzle'), '--json']);
    expect(code).toBe(0);
    const report = JSON.parse(out);
    expect(report.margins.map((one: { id: string }) => one.id)).toContain('twist');
    for (const one of Object.values(report.computed) as { low: number; value: number; high: number }[])
      expect(one.low <= one.value && one.value <= one.high).toBe(true);
    expect(report.assumed.length).toBeGreaterThan(0);
  });

  it('refuses a bad setup', async () => {
    const { code, err } = await run(['setup', '-'], { input: 'setup: {fibre: wood, count: 20 Ne}' });
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('line 1, setup.fibre');
  });
});

describe('peelpoint explain', () => {
  it('prints ledger, chains with reasons and sources, look-alikes, checks and actions', async () => {
    const { code, out } = await run(['explain', 'nozzle-too-rough', example('harsh-hand')]);
    expect(code).toBe(0);
    for (const part of [
      'Ledger',
      'Decibans',
      'From cause to sign',
      'Looks alike',
      'Checks that',
      'Actions',
      'Sources',
    ])
      expect(out).toContain(part);
    expect(unwrapped(out)).toContain('Changed: nozzle texture');
    expect(out).toContain('(published [1])');
    expect(out).toMatch(/\n {2}\[1\] /);
  });

  it('gives JSON whose ledger leads from the base rate to the probability', async () => {
    const { out } = await run(['explain', 'nozzle-too-rough', example('harsh-hand'), '--json']);
    const { cause, rank, lookAlikes, cautions } = JSON.parse(out);
    expect(cause.id).toBe('nozzle-too-rough');
    expect(rank).toBe(1);
    const odds = cause.ledger.reduce((sum: number, entry: { decibans: number }) => sum + entry.decibans, 0);
    const logOdds = 10 * Math.log10(cause.probability / (1 - cause.probability));
    // Entries under 0.05 decibans are left out of the ledger, so a little may be missing.
    expect(Math.abs(odds - logOdds)).toBeLessThan(1);
    expect(lookAlikes.length).toBeGreaterThan(0);
    expect(cautions.map((one: { id: string }) => one.id)).toContain('rotor-coasts');
  });

  it('refuses a cause that is none, with the nearest', async () => {
    const { code, err } = await run(['explain', 'nozzle-too-ruff', example('harsh-hand')]);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('did you mean "nozzle-too-rough"?');
    expect(err).toContain('insert-missing-or-worn');
  });
});
