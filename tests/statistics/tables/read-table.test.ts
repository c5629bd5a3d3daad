import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type CountTable,
  checkMapping,
  inspectTable,
  readTable,
  type TableMapping,
  writeCsv,
} from '../../../src/statistics/tables/index.js';

const POSITIONS = 'Frame,Position,Breaks,Hours\n3,1,0,24\n3,2,4,24\n3,10,1,24\n';
const LOG =
  'Time;Frame;Spinning position;Stop reason\n24.11.2026 06:12;7;12;end break\n24.11.2026 06:20;7;12;end break\n24.11.2026 14:03;7;3;sliver out\n';

async function read(text: string | Uint8Array, change: Partial<TableMapping> = {}): Promise<CountTable> {
  const { mapping } = inspectTable(text).proposal;
  const reading = await readTable(text, { ...mapping, ...change });
  if (!reading.ok) throw new Error(`${reading.problem} ${reading.badRows.listed[0]?.reason ?? ''}`);
  return reading.table;
}

describe('inspectTable', () => {
  it('recognises counts per position', () => {
    const { proposal } = inspectTable(POSITIONS);
    expect(proposal.kind).toBe('positions');
    expect(proposal.mapping.columns).toEqual({ frame: 0, position: 1, count: 2, 'run-hours': 3 });
    expect(proposal.guesses.map((guess) => guess.confidence)).toEqual(['sure', 'sure', 'sure', 'sure']);
    expect(proposal.questions).toEqual([]);
  });

  it('recognises an event log with semicolons and day-first dates', () => {
    const { proposal } = inspectTable(LOG);
    expect(proposal.kind).toBe('events');
    expect(proposal.mapping.dialect).toEqual({ separator: ';', decimal: ',', firstLine: 1, hasHeader: true });
    expect(proposal.mapping.columns).toEqual({ time: 0, frame: 1, position: 2, reason: 3 });
  });

  it('recognises shift totals with tabs, a title above, minutes and a decimal comma', () => {
    const text =
      'Spinnerei Halle 2\n\nDatum\tSchicht\tMaschine\tFadenbrüche\tLaufzeit (min)\n23.11.2026\tA\t4\t12\t470,5\n23.11.2026\tB\t4\t9\t480\n';
    const { proposal } = inspectTable(text);
    expect(proposal.kind).toBe('totals');
    expect(proposal.mapping.dialect).toEqual({
      separator: '\t',
      decimal: ',',
      firstLine: 3,
      hasHeader: true,
    });
    expect(proposal.mapping.hoursUnit).toBe('min');
    expect(proposal.mapping.columns).toEqual({ date: 0, shift: 1, frame: 2, count: 3, 'run-hours': 4 });
  });

  it('asks for the order of day and month only when it cannot be seen', () => {
    const table = (dates: string[]) => `date,breaks\n${dates.map((date) => `${date},3`).join('\n')}\n`;
    expect(inspectTable(table(['03/04/2026', '04/04/2026'])).proposal.questions).toHaveLength(1);
    const seen = inspectTable(table(['11/24/2026', '11/03/2026'])).proposal;
    expect(seen.questions).toEqual([]);
    expect(seen.mapping.dateOrder).toBe('mdy');
    expect(inspectTable(table(['24/11/2026', '03/11/2026'])).proposal.mapping.dateOrder).toBe('dmy');
  });

  it('guesses by the cells when there is no header', () => {
    const rows = Array.from({ length: 30 }, (_, i) => `4,${i + 1},${i % 3}`).join('\n');
    const { proposal } = inspectTable(rows);
    expect(proposal.mapping.dialect.hasHeader).toBe(false);
    expect(proposal.mapping.columns).toEqual({ frame: 0, position: 1, count: 2 });
    expect(proposal.guesses.every((guess) => guess.confidence === 'guess')).toBe(true);
  });

  it('does not believe a header against its cells', () => {
    const { proposal } = inspectTable('Position,Breaks,Time\n1,4,good\n2,5,bad\n');
    expect(proposal.mapping.columns).toEqual({ position: 0, count: 1 });
    expect(inspectTable('Position,Breaks\n1,many\n2,few\n').proposal.mapping.columns.count).toBeUndefined();
    // Where every second cell fits a header that can mean nothing else, the others are bad rows.
    for (const rows of ['1,4\n2,abc\n', '1,4\n2,-3\n', '1,4\n2,3\n3,x\n4,y\n'])
      expect(inspectTable(`Position,Breaks\n${rows}`).proposal.kind, rows).toBe('positions');
    expect(inspectTable('Position,Count\n1,20\n2,x\n').proposal.mapping.columns.count).toBeUndefined();
  });

  it('separates date and time of day', () => {
    const { proposal } = inspectTable('Date,Time,Rotor\n24.11.2026,06:12,4\n24.11.2026,07:30,9\n');
    expect(proposal.mapping.columns).toEqual({ date: 0, clock: 1, position: 2 });
    expect(proposal.kind).toBe('events');
  });

  it('says what is missing', () => {
    const { proposal } = inspectTable('Colour,Weight\nred,heavy\n');
    expect(proposal.kind).toBeUndefined();
    expect(proposal.questions.join(' ')).toMatch(/which column/);
  });
});

describe('readTable', () => {
  it('adds up positions in natural order', async () => {
    const table = await read(`${POSITIONS}3,002,2,8\nTotal,,7,80\n`);
    expect(table.positions).toEqual([
      { frame: '3', position: '1', count: 0, hours: 24 },
      { frame: '3', position: '2', count: 6, hours: 32 },
      { frame: '3', position: '10', count: 1, hours: 24 },
    ]);
    expect(table.breaks).toBe(7);
    expect(table.notes).toEqual(['One row of totals passed over.']);
  });

  it('adds up events by position, hour and reason', async () => {
    const table = await read(LOG);
    expect(table.positions.map(({ position, count }) => [position, count])).toEqual([
      ['3', 1],
      ['12', 2],
    ]);
    const hour = Date.UTC(2026, 10, 24, 6) / 3_600_000;
    expect(table.hours).toEqual([
      { frame: '7', hour, count: 2 },
      { frame: '7', hour: hour + 8, count: 1 },
    ]);
    expect(table.reasons).toEqual([
      { reason: 'end break', count: 2 },
      { reason: 'sliver out', count: 1 },
    ]);
    expect(table.repeats).toBe(1);
    expect(table.positionTimes).toMatchObject({ blockHours: 1 });
    expect(table.from).toBe(Date.UTC(2026, 10, 24, 6, 12));
  });

  it('leaves out reasons that are no breaks, when asked', async () => {
    const { mapping } = inspectTable(LOG).proposal;
    const reading = await readTable(LOG, mapping, { withoutReasons: ['sliver out'] });
    expect(reading.ok && reading.table.breaks).toBe(2);
    expect(reading.ok && reading.table.notes).toEqual(['One row with other reasons passed over, as asked.']);
  });

  it('adds up shift totals', async () => {
    const table = await read(
      'date,shift,breaks,rotor-hours\n2026-11-23,A,12,1900\n2026-11-23,B,9,1920\n2026-11-24,A,30,"1,910"\n',
    );
    expect(table.kind).toBe('totals');
    expect(table.periods.map(({ shift, count, rotorHours }) => [shift, count, rotorHours])).toEqual([
      ['A', 12, 1900],
      ['B', 9, 1920],
      ['A', 30, 1910],
    ]);
  });

  it.each([
    ['UTF-8 with mark', (text: string) => Buffer.from(`\ufeff${text}`, 'utf8')],
    ['UTF-16', (text: string) => Buffer.from(`\ufeff${text}`, 'utf16le')],
    ['Windows-1252', (text: string) => Buffer.from(text, 'latin1')],
    ['old Macintosh line ends', (text: string) => Buffer.from(text.replace(/\n/g, '\r'), 'utf8')],
    ['Windows line ends', (text: string) => Buffer.from(text.replace(/\n/g, '\r\n'), 'utf8')],
  ])('reads %s', async (_, encode) => {
    const table = await read(encode('Máquina;Posición;Roturas\nHalle Süd;1;3\nHalle Süd;2;0\n'));
    expect(table.positions).toEqual([
      { frame: 'Halle Süd', position: '1', count: 3, hours: undefined },
      { frame: 'Halle Süd', position: '2', count: 0, hours: undefined },
    ]);
  });

  it('reads quoted cells over lines, repeated headers and blank lines, and says what it passed over', async () => {
    const table = await read(
      'position,breaks,reason\n1,2,"dust, in\nthe groove"\n\n,,\nposition,breaks,reason\n2,1,"said ""bang"""\n',
    );
    expect(table.reasons.map((one) => one.reason)).toEqual(['dust, in\nthe groove', 'said "bang"']);
    expect(table.notes).toEqual(['The header stood 1 more times in the table; passed over.']);
  });

  it('takes an Excel separator line', async () => {
    const table = await read('sep=;\nposition;breaks\n1;2\n2;0\n');
    expect(table.positions.map((one) => one.count)).toEqual([2, 0]);
  });

  it('imports nothing when a row is bad, and lists line and reason', async () => {
    const text =
      'position,breaks,hours\n1,2,24\n2,two,24\n3,1,24,9\n4,1.5,24\n5,-1,24\n,3,24\n7,2,0\n8,0,0\n9,3\n';
    const good = inspectTable('position,breaks,hours\n1,2,24\n').proposal.mapping;
    const reading = await readTable(text, good);
    expect(reading.ok).toBe(false);
    if (reading.ok) return;
    expect(reading.problem).toMatch(/^Nothing was imported: 7 of 9 rows/);
    expect(reading.badRows.listed.map((row) => row.line)).toEqual([3, 4, 5, 6, 7, 8, 10]);
    expect(reading.badRows.listed.map((row) => row.reason).join('\n')).toMatchInlineSnapshot(`
      "breaks: "two" is no whole number from 0 to 10000000
      has 4 cells where the table has 3 columns
      breaks: "1.5" is no whole number from 0 to 10000000
      breaks: "-1" is no whole number from 0 to 10000000
      position: "" is empty
      hours: "0" but 2 breaks: no hours run
      has 2 cells where the table has 3 columns"
    `);

    const partly = await readTable(text, good, { leaveOutBadRows: true });
    expect(partly.ok).toBe(true);
    if (!partly.ok) return;
    expect(partly.leftOut.total).toBe(7);
    expect(partly.table.breaks).toBe(2);
    expect(partly.table.notes).toContain('7 of 9 rows could not be read and were left out, as asked.');
    expect(partly.table.notes).toContain('One row without running hours passed over.');
  });

  it('does not let an unquoted decimal comma shift the columns', async () => {
    const { mapping } = inspectTable('position,breaks,hours\n1,2,24\n').proposal;
    const reading = await readTable('position,breaks,hours\n1,2,23,5\n', mapping);
    expect(reading.ok).toBe(false);
  });

  it('lists at most the number asked for but counts all', async () => {
    const rows = Array.from({ length: 2500 }, (_, i) => `${i + 1},x`).join('\n');
    const { mapping } = inspectTable('position,breaks\n1,2\n').proposal;
    const reading = await readTable(`position,breaks\n${rows}\n`, mapping);
    expect(reading.ok).toBe(false);
    if (reading.ok) return;
    expect(reading.badRows.total).toBe(2500);
    expect(reading.badRows.listed).toHaveLength(1000);
  });

  it('reports a quotation mark that is never closed', async () => {
    const { mapping } = inspectTable('position,breaks\n1,2\n').proposal;
    const reading = await readTable(`position,breaks\n1,2\n"3,4\n${'5,6\n'.repeat(40_000)}`, mapping);
    expect(reading.ok).toBe(false);
    if (!reading.ok)
      expect(`${reading.problem} ${reading.badRows.listed[0]?.reason}`).toMatch(/quotation mark/);
  });

  it('refuses an empty table and a table of headers', async () => {
    const { mapping } = inspectTable('position,breaks\n1,2\n').proposal;
    for (const text of ['', 'position,breaks\n', '\n\n']) {
      const reading = await readTable(text, mapping);
      expect(reading.ok).toBe(false);
    }
  });

  it('stops when the position column holds something else', async () => {
    const { mapping } = inspectTable('position,breaks\n1,2\n').proposal;
    const rows = Array.from({ length: 100_002 }, (_, i) => `${i},1`).join('\n');
    const reading = await readTable(`position,breaks\n${rows}\n`, mapping);
    expect(reading.ok ? '' : reading.problem).toMatch(/really the column of the position/);
  });

  it('makes time blocks coarser rather than growing without end', async () => {
    const rows: string[] = [];
    const start = Date.UTC(2026, 0, 1);
    for (let i = 0; i < 250_000; i++)
      rows.push(
        `${new Date(start + (i % 1000) * 3_600_000).toISOString().slice(0, 16)},${Math.floor(i / 1000)}`,
      );
    const table = await read(`time,position\n${rows.join('\n')}\n`);
    expect(table.positionTimes?.blockHours).toBe(8);
    expect(table.positionTimes?.cells.reduce((sum, cell) => sum + cell.count, 0)).toBe(250_000);
    expect(table.breaks).toBe(250_000);
  });

  it('tells how far it is', async () => {
    const text = `position,breaks\n${'1,2\n'.repeat(600_000)}`;
    const { mapping } = inspectTable(text).proposal;
    const seen: number[] = [];
    const reading = await readTable(text, mapping, { onProgress: ({ rows }) => seen.push(rows) });
    expect(reading.ok).toBe(true);
    expect(seen.length).toBeGreaterThan(2);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
    expect(seen.at(-1)).toBe(600_000);
  });

  it('gives the same whatever the pieces', async () => {
    const bytes = Buffer.from('Máquina;Posición;Roturas\r\nHalle Süd;1;3\r\n"Halle ""Süd""";2;0\r\n');
    const { mapping } = inspectTable(bytes).proposal;
    const whole = await readTable(bytes, mapping);
    expect(whole.ok).toBe(true);
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 40 }), async (size) => {
        async function* pieces() {
          for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
        }
        expect(await readTable(pieces(), mapping)).toEqual(whole);
      }),
      { numRuns: 40 },
    );
  });

  it('checks the mapping', () => {
    const { mapping } = inspectTable(POSITIONS).proposal;
    expect(checkMapping(mapping)).toEqual([]);
    expect(checkMapping({ ...mapping, columns: { count: 9 } })[0]).toMatch(/no column 10/);
    expect(checkMapping({ ...mapping, columns: { count: 1, position: 1 } })[0]).toMatch(/already taken/);
    expect(checkMapping({ ...mapping, columns: { reason: 1 } })[0]).toMatch(/say which one/);
    expect(checkMapping({ ...mapping, columns: { clock: 1, position: 0 } })[0]).toMatch(
      /needs a column with the date/,
    );
  });

  it('never throws, whatever the text', async () => {
    const cell = fc.oneof(
      fc.constantFrom(
        '1',
        '12',
        '2026-11-24 06:00',
        '24.11.2026',
        '03/04/2026',
        '"',
        '""',
        '=1+1',
        '',
        ' ',
        '1,5',
        'Total',
        '\u0000',
        '\ufeff',
      ),
      fc.string({ maxLength: 8 }),
    );
    const text = fc
      .tuple(
        fc.constantFrom(',', ';', '\t', '|'),
        fc.constantFrom('\n', '\r\n', '\r'),
        fc.array(fc.array(cell, { maxLength: 6 }), { maxLength: 12 }),
        fc.constantFrom('', 'time,frame,position\n', 'Position;Breaks\n', 'date\tshift\tbreaks\thours\n'),
      )
      .map(([separator, end, rows, head]) => head + rows.map((row) => row.join(separator)).join(end));
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(text, fc.string({ maxLength: 200 }), fc.uint8Array({ maxLength: 200 })),
        async (source) => {
          const { proposal } = inspectTable(source);
          const reading = await readTable(source, proposal.mapping, { leaveOutBadRows: true });
          if (reading.ok) {
            const byPosition = reading.table.positions.reduce((sum, one) => sum + one.count, 0);
            if (proposal.mapping.columns.position !== undefined)
              expect(byPosition).toBe(reading.table.breaks);
          } else expect(reading.problem).toMatch(/\w/);
        },
      ),
      { numRuns: 400 },
    );
  });
});

describe('writeCsv', () => {
  it('writes what is read back', async () => {
    const csv = writeCsv(
      ['Position', 'Breaks', 'Note'],
      [
        ['A1', 3, 'said "no", twice'],
        ['A2', 0, undefined],
      ],
    );
    expect(csv).toBe('\ufeffPosition,Breaks,Note\r\nA1,3,"said ""no"", twice"\r\nA2,0,\r\n');
    expect((await read(csv)).breaks).toBe(3);
  });

  it('lets no text start like a formula', () => {
    for (const text of ['=1+1', '+1', '-1', '@x', '\t=1', ' =1', '＝1'])
      expect(writeCsv(['a'], [[text]]).split('\r\n')[1]).toMatch(/^"'/);
    expect(writeCsv(['a'], [[-3]]).split('\r\n')[1]).toBe('-3');
    expect(writeCsv(['a'], [[Number.NaN], [Number.POSITIVE_INFINITY]])).toBe('\ufeffa\r\n\r\n\r\n');
  });
});
