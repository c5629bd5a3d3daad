import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawBar } from '../../src/cli/layout/bar.js';
import { decibans, exact, finePercent, minutes, number, percent } from '../../src/cli/layout/figures.js';
import { startPage } from '../../src/cli/layout/page.js';
import { layTable } from '../../src/cli/layout/table.js';
import { columnsOf, wrapText } from '../../src/cli/layout/wrap.js';
import { speaksUtf8 } from '../../src/cli/process-terminal.js';
import { toAscii } from '../../src/cli/terminal.js';
import { fakeTerminal } from './fake-terminal.js';

const words = fc.array(fc.stringMatching(/^[a-zA-Zäöü“”.,–-]{1,24}$/), { minLength: 1, maxLength: 60 });

describe('wrapping', () => {
  it('keeps every word whole and in order', () => {
    fc.assert(
      fc.property(words, fc.integer({ min: 10, max: 90 }), (list, width) => {
        const lines = wrapText(list.join(' '), width, { first: '  · ', rest: '    ' });
        expect(lines.join(' ').replace('·', '').trim().split(/\s+/)).toEqual(list);
      }),
    );
  });

  it('never exceeds the width but for a single long word', () => {
    fc.assert(
      fc.property(words, fc.integer({ min: 10, max: 90 }), (list, width) => {
        for (const line of wrapText(list.join(' '), width, { first: '  ' }))
          expect(columnsOf(line) <= width || line.trim().split(' ').length === 1).toBe(true);
      }),
    );
  });

  it('keeps a figure with its percent sign', () => {
    const lines = wrapText('a cure is likely (49 %), for twist', 22);
    expect(lines.every((line) => !line.startsWith('%'))).toBe(true);
    expect(lines.join('\n')).toContain('49 %');
  });

  it('does not count type styles', () => {
    expect(columnsOf('\u001b[1mtwist\u001b[22m')).toBe(5);
  });
});

describe('tables', () => {
  const columns = [
    { title: 'Name' },
    { title: 'Figure', align: 'right' },
    { title: 'Words', wraps: true },
  ] as const;

  it('starts each column at the same place and fits the width', () => {
    const rows = [
      ['twist', '634', 'turns that the frame puts into a metre of yarn as it leaves the rotor'],
      ['draw-off tension', '2.1', 'short'],
    ];
    const lines = layTable(columns, rows, 50);
    const [head = ''] = lines;
    expect(lines.every((line) => columnsOf(line) <= 50)).toBe(true);
    const second = lines.find((line) => line.startsWith('draw-off')) ?? '';
    expect(second.indexOf('short')).toBe(head.indexOf('Words'));
    expect(second.indexOf('2.1') + 3).toBe(head.indexOf('Figure') + 'Figure'.length);
  });

  it('leaves the titles out when there are none', () => {
    expect(layTable([{ title: '' }, { title: '' }], [['a', 'b']], 40)).toEqual(['a  b']);
  });
});

describe('bars', () => {
  it('grow with the share and never vanish above 0', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1, noNaN: true }), fc.boolean(), (share, unicode) => {
        const bar = drawBar(share, 12, unicode);
        expect([...bar].length).toBeGreaterThan(0);
        expect([...bar].length).toBeLessThanOrEqual(12);
        expect([...drawBar(Math.min(1, share * 2), 12, unicode)].length).toBeGreaterThanOrEqual(
          [...bar].length,
        );
      }),
    );
    expect(drawBar(0, 12, true)).toBe('');
    expect(drawBar(1, 4, true)).toBe('████');
  });

  it('use ASCII alone where the screen shows nothing else', () => {
    expect(drawBar(0.5, 12, false)).toBe('######');
  });
});

describe('figures', () => {
  it('never call a chance none or certain that is neither', () => {
    expect([0, 0.0001, 0.5, 0.9999, 1].map(percent)).toEqual(['0 %', '<1 %', '50 %', '>99 %', '100 %']);
    expect([0.0001, 0.004, 0.052, 0.5].map(finePercent)).toEqual(['<0.1 %', '0.4 %', '5.2 %', '50 %']);
  });

  it('carry signs and units', () => {
    expect([decibans(13.01), decibans(-2.84), decibans(0.01)]).toEqual(['+13.0', '−2.8', '0.0']);
    expect([minutes(0.2), minutes(45), minutes(480), minutes(150)]).toEqual([
      '1 min',
      '45 min',
      '8 h',
      '2 h 30 min',
    ]);
    expect([number(105000), number(-0.1234), number(0), exact(1 / 3, 4)]).toEqual([
      '105 000',
      '−0.123',
      '0',
      '0.3333',
    ]);
  });
});

describe('screens', () => {
  it('know UTF-8 from the locale', () => {
    expect(speaksUtf8({ LANG: 'en_GB.UTF-8' }, 'linux')).toBe(true);
    expect(speaksUtf8({ LANG: 'en_GB.UTF-8', LC_ALL: 'C' }, 'linux')).toBe(false);
    expect(speaksUtf8({}, 'linux')).toBe(false);
    expect(speaksUtf8({ WT_SESSION: 'x' }, 'win32')).toBe(true);
  });

  it('get plain characters where they show no others', () => {
    expect(toAscii('“a” → b, −3 × 4 °C, é, 綿')).toBe('"a" -> b, -3 x 4  deg C, e, ?');
  });

  it('get no control characters from a text', () => {
    const terminal = fakeTerminal();
    const page = startPage(terminal);
    page.text('before\u001b[2Jafter \u202eturned');
    page.print();
    expect(terminal.written.out).toBe('before [2Jafter turned\n');
  });

  it('get bold headings only where colour is on', () => {
    for (const colour of [true, false]) {
      const terminal = fakeTerminal({ colour });
      const page = startPage(terminal);
      page.heading('Causes');
      page.print();
      expect(terminal.written.out.includes('\u001b[1m')).toBe(colour);
    }
  });
});
