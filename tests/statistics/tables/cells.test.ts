import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCellHours, readCellNumber } from '../../../src/statistics/tables/cell-number.js';
import { readCellClock, readCellTime } from '../../../src/statistics/tables/cell-time.js';
import { headerUnit, plainHeader, roleOfHeader } from '../../../src/statistics/tables/header-words.js';

const utc = (...parts: [number, number, number, number?, number?, number?]) =>
  Date.UTC(parts[0], parts[1] - 1, parts[2], parts[3] ?? 0, parts[4] ?? 0, parts[5] ?? 0);

describe('readCellNumber', () => {
  it.each([
    ['12', '.', 12],
    ['1,234', '.', 1234],
    ['1,234.5', '.', 1234.5],
    ['1 234', '.', 1234],
    ["1'234'567", '.', 1_234_567],
    ['.5', '.', 0.5],
    ['7.', '.', 7],
    ['1.234,5', ',', 1234.5],
    ['1\u00a0234,5', ',', 1234.5],
    ['0,25', ',', 0.25],
    ['−3', '.', -3],
  ] as const)('%s with decimal %s is %d', (text, decimal, value) => {
    expect(readCellNumber(text, decimal)).toBe(value);
  });

  it.each([
    ['1,5', '.'],
    ['1.5', ','],
    ['12 34', '.'],
    ['1e5', '.'],
    ['0x10', '.'],
    ['', '.'],
    ['n/a', '.'],
    ['1,23,456', '.'],
    ['--3', '.'],
    ['Infinity', '.'],
  ] as const)('%s with decimal %s is none', (text, decimal) => {
    expect(readCellNumber(text, decimal)).toBeUndefined();
  });

  it('reads back what is written either way', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
        const text = value.toFixed(3);
        expect(readCellNumber(text, '.')).toBeCloseTo(Number(text), 9);
        expect(readCellNumber(text.replace('.', ','), ',')).toBeCloseTo(Number(text), 9);
      }),
    );
  });
});

describe('readCellHours', () => {
  it('takes the unit of the column, of the cell, or a span', () => {
    expect(readCellHours('480', '.', 'min')).toBe(8);
    expect(readCellHours('7,5', ',', 'h')).toBe(7.5);
    expect(readCellHours('7:30', '.', 'h')).toBe(7.5);
    expect(readCellHours('8 h', '.', 'min')).toBe(8);
    expect(readCellHours('450 min', '.', 'h')).toBe(7.5);
    expect(readCellHours('7:75', '.', 'h')).toBeUndefined();
    expect(readCellHours('soon', '.', 'h')).toBeUndefined();
  });
});

describe('readCellTime', () => {
  it.each([
    ['2026-11-24T06:12:30', utc(2026, 11, 24, 6, 12, 30)],
    ['2026-11-24 06:12', utc(2026, 11, 24, 6, 12)],
    ['2026/11/24 6:12', utc(2026, 11, 24, 6, 12)],
    ['2026-11-24T06:12:30.250Z', utc(2026, 11, 24, 6, 12, 30)],
    ['2026-11-24T06:12:30+01:00', utc(2026, 11, 24, 6, 12, 30)],
    ['24.11.2026 06:12', utc(2026, 11, 24, 6, 12)],
    ['24.11.26 6:12', utc(2026, 11, 24, 6, 12)],
    ['4.3.2026', utc(2026, 3, 4)],
    ['24/11/2026 06:12', utc(2026, 11, 24, 6, 12)],
    ['11/24/2026 6:12 PM', utc(2026, 11, 24, 18, 12)],
    ['12/24/2026 12:05 am', utc(2026, 12, 24, 0, 5)],
    ['03/03/2026', utc(2026, 3, 3)],
    ['20261124 0612', utc(2026, 11, 24, 6, 12)],
    ['24 Nov 2026 06:12', utc(2026, 11, 24, 6, 12)],
    ['24-Nov-26', utc(2026, 11, 24)],
    ['2026-11-24 24:00', utc(2026, 11, 25)],
  ])('%s', (text, wall) => {
    expect(readCellTime(text)).toMatchObject({ ok: true, wall });
  });

  it('asks when day and month can be exchanged, and takes the stated order', () => {
    expect(readCellTime('03/04/2026')).toMatchObject({ ok: false });
    expect(readCellTime('03/04/2026', 'dmy')).toMatchObject({ ok: true, wall: utc(2026, 4, 3) });
    expect(readCellTime('03/04/2026', 'mdy')).toMatchObject({ ok: true, wall: utc(2026, 3, 4) });
    expect(readCellTime('25/04/2026', 'mdy')).toMatchObject({ ok: false });
    // Points always mean day first.
    expect(readCellTime('03.04.2026', 'mdy')).toMatchObject({ ok: true, wall: utc(2026, 4, 3) });
  });

  it.each([
    '2026-02-30',
    '2026-13-01',
    '31.04.2026',
    '24.11.0206',
    '06:12',
    'yesterday',
    '',
    '24.11.2026 25:00',
  ])('%s is refused with a reason', (text) => {
    const reading = readCellTime(text);
    expect(reading.ok).toBe(false);
    expect(reading.ok ? '' : reading.why()).toMatch(/\w/);
  });

  it('never throws, and days read back as written', () => {
    fc.assert(fc.property(fc.string({ maxLength: 50 }), (text) => void readCellTime(text)));
    fc.assert(
      fc.property(fc.integer({ min: utc(1980, 1, 1), max: utc(2099, 12, 31) }), (wall) => {
        const iso = new Date(wall).toISOString();
        const second = Math.floor(wall / 1000) * 1000;
        expect(readCellTime(iso.slice(0, 19))).toEqual({ ok: true, wall: second, hasClock: true });
        const german = `${iso.slice(8, 10)}.${iso.slice(5, 7)}.${iso.slice(0, 4)} ${iso.slice(11, 19)}`;
        expect(readCellTime(german)).toEqual({ ok: true, wall: second, hasClock: true });
      }),
    );
  });
});

describe('readCellClock', () => {
  it('reads times of day', () => {
    expect(readCellClock('06:12')).toBe((6 * 60 + 12) * 60_000);
    expect(readCellClock('6:12 pm')).toBe((18 * 60 + 12) * 60_000);
    expect(readCellClock('13')).toBe(13 * 3_600_000);
    expect(readCellClock('25')).toBeUndefined();
    expect(readCellClock('06:61')).toBeUndefined();
    expect(readCellClock('morning')).toBeUndefined();
  });
});

describe('headers', () => {
  it.each([
    ['End breaks', 'count'],
    ['Fadenbrüche', 'count'],
    ['Kopuş sayısı', 'count'],
    ['Roturas', 'count'],
    ['Pos. No.', 'position'],
    ['Spinnstelle', 'position'],
    ['Posición', 'position'],
    ['Machine No', 'frame'],
    ['Maschinen-Nr.', 'frame'],
    ['Máquina', 'frame'],
    ['Makine', 'frame'],
    ['Rotor hours', 'rotor-hours'],
    ['Run time (min)', 'run-hours'],
    ['Schicht', 'shift'],
    ['Vardiya', 'shift'],
    ['Stop reason', 'reason'],
    ['Datum', 'date'],
    ['Zeit', 'moment'],
  ])('%s means %s', (header, role) => {
    expect(roleOfHeader(header)?.role).toBe(role);
  });

  it('does not take parts of words, and knows nothing of other headers', () => {
    expect(roleOfHeader('Composition')).toBeUndefined();
    expect(roleOfHeader('Yarn lot')).toBeUndefined();
    expect(roleOfHeader('')).toBeUndefined();
    expect(plainHeader('  Kopuş-Sayısı [adet] ')).toBe('kopus sayisi');
  });

  it('finds units', () => {
    expect(headerUnit('Run time (min)')).toBe('min');
    expect(headerUnit('Laufzeit [h]')).toBe('h');
    expect(headerUnit('run hours')).toBe('h');
    expect(headerUnit('run time')).toBeUndefined();
  });
});
