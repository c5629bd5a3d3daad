import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startProgress } from '../../src/cli/progress.js';
import { fakeTerminal, run, unwrapped } from './fake-terminal.js';

let folder = '';
const file = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'counts-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Counts as chance spreads them about one and a half. */
const USUAL = [0, 1, 1, 2, 0, 1, 2, 3, 1, 2, 0, 1, 3, 1, 2, 4, 0, 2, 1, 1];

const positions = (bad: number) =>
  `frame;position;breaks;hours\n${Array.from({ length: 120 }, (_, i) => `3;${i + 1};${i === 76 ? bad : USUAL[(i * 7) % 20]};24`).join('\n')}\n`;

const log = () => {
  const rows: string[] = [];
  for (let hour = 0; hour < 24 * 16; hour++)
    for (let n = 0; n < (hour < 240 ? 4 : 9) + (hour % 3); n++) {
      const time = new Date(Date.UTC(2026, 10, 2, hour, (n * 7) % 60))
        .toISOString()
        .slice(0, 16)
        .replace('T', ' ');
      rows.push(`${time},7,${1 + ((hour * 37 + n * 53) % 120)},${n % 6 === 5 ? 'doff' : 'end break'}`);
    }
  return `time,frame,position,reason\n${rows.join('\n')}\n`;
};

describe('peelpoint counts rate and compare', () => {
  it('gives a rate with its range', async () => {
    const { code, out } = await run(['counts', 'rate', '--breaks', '12', '--hours', '100']);
    expect(code).toBe(0);
    // Garwood 1936: 12 counted, 6.20 to 20.96.
    expect(unwrapped(out)).toContain('120 breaks per 1000 rotor-hours');
    expect(unwrapped(out)).toContain('from 62 to 210');
  });

  it('holds it against a norm', async () => {
    const real = await run(['counts', 'rate', '--breaks', '30', '--hours', '100', '--norm', '90', '--json']);
    expect(JSON.parse(real.out)).toMatchObject({ verdict: 'above', rate: { per1000: 300 } });
    const open = await run(['counts', 'rate', '--breaks', '12', '--hours', '100', '--norm', '90']);
    expect(unwrapped(open.out)).toMatch(
      /Not shown to differ.*To notice a rise by half, count \d+ rotor-hours/,
    );
  });

  it('compares two and more', async () => {
    const two = await run(['counts', 'compare', '--breaks', '30,14', '--hours', '300,280', '--json']);
    const answer = JSON.parse(two.out);
    expect(answer.rates.map((one: { verdict: string }) => one.verdict)).toEqual(['above', 'below']);
    expect(answer.endBreaks).toEqual({
      kind: 'two-groups',
      a: { count: 30, rotorHours: 300 },
      b: { count: 14, rotorHours: 280 },
    });
    const same = await run(['counts', 'compare', '--breaks', '30,28', '--hours', '300,300']);
    expect(unwrapped(same.out)).toContain('does not mean that there is none');
    const three = await run([
      'counts',
      'compare',
      '--breaks',
      '30,90,25',
      '--hours',
      '300,300,300',
      '--names',
      'A,B,C',
    ]);
    expect(unwrapped(three.out)).toContain('Real: B breaks 3.3 times as often as the others');
  });

  it.each([
    [['counts', 'rate', '--hours', '100'], '--breaks'],
    [['counts', 'rate', '--breaks', '1.5', '--hours', '100'], '--breaks'],
    [['counts', 'rate', '--breaks', '3', '--hours', '0'], '--hours'],
    [['counts', 'rate', '--breaks', '3', '--hours', '10', '--norm', 'high'], '--norm'],
    [['counts', 'compare', '--breaks', '3', '--hours', '10'], '--breaks'],
    [['counts', 'compare', '--breaks', '3,4', '--hours', '10'], '--hours'],
    [['counts', 'compare', '--breaks', '3,4', '--hours', '10,20', '--names', 'a,a'], '--names'],
    [['trial', 'plan', '--from', '100'], '--to'],
    [['trial', 'plan', '--from', '100', '--to', '100'], '--to'],
    [['trial', 'plan', '--from', '100', '--to', '60', '--power', '2'], '--power'],
    [['trial', 'evaluate', '--control', '3/100'], '--treated'],
    [['trial', 'evaluate', '--treated', '3/100'], '--control'],
    [['trial', 'evaluate', '--treated', 'three', '--control', '3/100'], '--treated'],
    [['trial', 'evaluate', '--treated', '3/100,4/100', '--control', '3/100'], '--control'],
    [['trial', 'evaluate', '--treated', '3/100,4/100', '--control', '3/100,4/900'], '--control'],
    [['trial', 'evaluate', '--before', '3/100'], '--before'],
    [['trial', 'positions', '--frame', '20', '--trial', '30'], '--trial'],
    [['trial', 'positions', '--frame', '20', '--trial', '2', '--exclude', 'x'], '--exclude'],
  ])('%j is refused, naming %s', async (argv, field) => {
    const { code, err } = await run(argv);
    expect(code).toBe(2);
    expect(err).toContain(field);
    expect(err).toContain('Allowed:');
  });
});

describe('peelpoint counts with a file', () => {
  it('finds the position, and writes what a case file takes', async () => {
    const { code, out } = await run(['counts', 'positions', file('p.csv', positions(14))]);
    expect(code).toBe(0);
    const text = unwrapped(out);
    expect(text).toMatch(/Real or chance\? Real, not chance/);
    expect(text).toContain('Position 77 (14 breaks');
    expect(text).toMatch(
      /scope: position measurements: end-breaks: \{count: 14, rotor-hours: 24, norm-per-1000: [\d.]+, picked-from: 120\}/,
    );
    expect(text).toContain('Read: frame from "frame", position from "position"');
  });

  it('follows a log in time, leaves out other reasons', async () => {
    const path = file('l.csv', log());
    const { out } = await run([
      'counts',
      'log',
      path,
      '--positions',
      '120',
      '--norm',
      '40',
      '--without',
      'doff',
      '--json',
    ]);
    const answer = JSON.parse(out);
    expect(answer.implies).toMatchObject({ scope: 'frame', onset: 'sudden' });
    expect(answer.time.periods[answer.time.step.after].label).toBe('12 Nov');
    expect(answer.notes.join(' ')).toMatch(/rows with other reasons passed over/);
  });

  it('prints tables as CSV', async () => {
    const { out } = await run(['counts', 'positions', file('p2.csv', positions(14)), '--csv', 'positions']);
    const lines = out.trim().split('\r\n');
    expect(lines[0]).toMatch(/frame,position,breaks/);
    expect(lines).toHaveLength(121);
    const again = await run(['counts', 'positions', '-'], { input: out });
    expect(unwrapped(again.out)).toContain('Position 77 (14 breaks');
  });

  it('prints figures when asked', async () => {
    const { out } = await run(['counts', 'positions', file('p3.csv', positions(14)), '--figures']);
    expect(unwrapped(out)).toContain('Position 77 of frame 3');
  });

  it('imports nothing with a bad row, and says which', async () => {
    const path = file(
      'bad.csv',
      'position,breaks\n1,2\n2,x\n3,1\n4,y\n5,0\n6,1\n7,2\n8,1\n9,1\n10,1\n11,1\n12,1\n',
    );
    const { code, out, err } = await run(['counts', 'positions', path]);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(unwrapped(err)).toMatch(
      /Nothing was imported: 2 of 12 rows.*line 3.*"x" is no whole number.*line 5.*--leave-out-bad-rows/,
    );
    const json = await run(['counts', 'positions', path, '--json']);
    expect(JSON.parse(json.out).problems.map((one: { line: number }) => one.line)).toEqual([3, 5]);
    const partly = await run(['counts', 'positions', path, '--leave-out-bad-rows']);
    expect(partly.code).toBe(0);
    expect(unwrapped(partly.out)).toContain('2 of 12 rows could not be read and were left out');
  });

  it('tells the bad row of a table of two, and does not take the table for a log', async () => {
    for (const bad of ['2,abc,64', '2,3,long']) {
      const path = file('two.csv', `position,breaks,rotor-hours\n1,4,64\n${bad}\n`);
      const { code, err } = await run(['counts', 'positions', path]);
      expect(code).toBe(2);
      expect(unwrapped(err)).toMatch(
        /1 of 2 rows cannot be read.*line 3: (breaks|rotor-hours): "(abc|long)" is no/,
      );
    }
  });

  it('takes columns and the order of dates from the command line', async () => {
    const strange = file(
      's.csv',
      `kein,Wort\n${Array.from({ length: 30 }, (_, i) => `${i + 1},${i % 3}`).join('\n')}\n`,
    );
    const refused = await run(['counts', 'positions', strange]);
    expect(refused.code).toBe(2);
    expect(unwrapped(refused.err)).toMatch(/not sure.*--columns "position=1,count=2"/);
    const told = await run(['counts', 'positions', strange, '--columns', 'position=1,count=Wort']);
    expect(told.code).toBe(0);
    expect((await run(['counts', 'positions', strange, '--columns', 'place=1'])).err).toContain('place');
    expect((await run(['counts', 'positions', strange, '--columns', 'position=7'])).err).toContain(
      'no column',
    );

    const dates = file('d.csv', 'date,breaks\n03/04/2026,5\n04/04/2026,6\n05/04/2026,4\n');
    expect((await run(['counts', 'totals', dates])).err).toContain('--date-order');
    expect((await run(['counts', 'totals', dates, '--date-order', 'dmy'])).code).toBe(0);
  });

  it('points to the right command, and to what is wrong with the file', async () => {
    const { code, err } = await run(['counts', 'log', file('p4.csv', positions(3))]);
    expect(code).toBe(2);
    expect(unwrapped(err)).toContain('peelpoint counts positions');
    expect(unwrapped((await run(['counts', 'log', join(folder, 'none.csv')])).err)).toContain(
      'does not exist',
    );
    expect(unwrapped((await run(['counts', 'log', folder])).err)).toContain('is a folder');
    const empty = await run(['counts', 'positions', file('e.csv', '')]);
    expect(empty.code).toBe(2);
  });

  it('shows how far it is, on a screen only', () => {
    const terminal = fakeTerminal();
    const line = startProgress(terminal, 200, true);
    line.update(100, '50 rows');
    expect(terminal.written.err).toContain('50 %  50 rows');
    line.clear();
    expect(terminal.written.err.endsWith('\r')).toBe(true);
    const silent = fakeTerminal();
    startProgress(silent, 200, false).update(100, '50 rows');
    expect(silent.written.err).toBe('');
  });
});

describe('peelpoint trial', () => {
  it('plans', async () => {
    const { code, out } = await run([
      'trial',
      'plan',
      '--from',
      '100',
      '--to',
      '60',
      '--power',
      '0.8',
      '--positions',
      '8',
      '--json',
    ]);
    expect(code).toBe(0);
    const answer = JSON.parse(out);
    expect(answer.method).toBe('exact');
    expect(answer.power).toBeGreaterThanOrEqual(0.8);
    expect(answer.hoursPerPosition).toBeCloseTo(answer.rotorHoursPerSide / 8, 9);
    const more = await run(['trial', 'plan', '--from', '100', '--to', '60', '--dispersion', '2', '--json']);
    expect(JSON.parse(more.out).rotorHoursPerSide).toBeCloseTo(2 * answer.rotorHoursPerSide, 6);
  });

  it('judges with controls, with a norm, and before against after', async () => {
    const good = await run([
      'trial',
      'evaluate',
      '--treated',
      '20/600,15/600',
      '--control',
      '50/600,48/600',
      '--json',
    ]);
    expect(JSON.parse(good.out)).toMatchObject({ verdict: 'better' });
    expect(JSON.parse(good.out).steps).toHaveLength(2);
    const open = await run(['trial', 'evaluate', '--treated', '12/300', '--control', '15/310']);
    expect(unwrapped(open.out)).toMatch(/^(Not yet known|No worse)/);
    const norm = await run(['trial', 'evaluate', '--treated', '12/300', '--norm', '90']);
    expect(unwrapped(norm.out)).toContain('Without positions beside');
    const blocks = await run([
      'trial',
      'evaluate',
      '--before',
      '40/300',
      '--after',
      '18/300',
      '--picked',
      '--json',
    ]);
    expect(JSON.parse(blocks.out).verdict).toBe('confounded');
    expect(blocks.out).toContain('part of that was bad luck');
  });

  it('chooses positions', async () => {
    const { out } = await run([
      'trial',
      'positions',
      '--frame',
      '240',
      '--trial',
      '8',
      '--exclude',
      '31,32',
      '--json',
    ]);
    const layout = JSON.parse(out);
    expect(layout.pairs).toHaveLength(8);
    expect(
      layout.pairs.flatMap((pair: { changed: number; control: number }) => [pair.changed, pair.control]),
    ).not.toContain(31);
    const page = await run(['trial', 'positions', '--frame', '240', '--trial', '4']);
    expect(unwrapped(page.out)).toContain('Quarters of the hours');
  });
});
