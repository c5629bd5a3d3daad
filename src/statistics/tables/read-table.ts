import { type CsvError, parse } from 'csv-parse';
import { say } from '../../language/say.js';
import { createAccumulator } from './accumulator.js';
import { kindOf } from './propose-mapping.js';
import { createRowReader, type RowFacts } from './row-reader.js';
import { createTranscoder } from './text-decoding.js';
import {
  type BadRow,
  COLUMN_ROLES,
  type TableMapping,
  type TableProgress,
  type TableReading,
} from './types.js';

/** How a table is read. */
export interface ReadOptions {
  /** Import what can be read and leave the bad rows out; without it a single bad row means that nothing is imported. */
  readonly leaveOutBadRows?: boolean;
  /** Rows with these reasons are no breaks (a doff, a cleaning stop) and are passed over. */
  readonly withoutReasons?: readonly string[];
  /** Called now and then, and at the end. */
  readonly onProgress?: (progress: TableProgress) => void;
  /** Bad rows listed with line and reason; all are counted. Default 1000. */
  readonly badRowsListed?: number;
}

/** A table as text or bytes, whole or in pieces as they come from a file or a request. */
export type TableSource = string | Uint8Array | AsyncIterable<Uint8Array | string>;

/** A row longer than this is a quote that was never closed. */
const LONGEST_ROW = 65_536;
const PIECE = 65_536;
const PROGRESS_BYTES = 1_048_576;

/** Why a mapping cannot be used, in sentences; empty when it can. */
export function checkMapping(mapping: TableMapping): string[] {
  const { columns, headers } = mapping;
  const problems: string[] = [];
  const used = new Map<number, string>();
  for (const role of COLUMN_ROLES) {
    const index = columns[role];
    if (index === undefined) continue;
    if (!Number.isInteger(index) || index < 0 || index >= headers.length)
      problems.push(say('table-reading.no-column', { role, n: index + 1, columns: headers.length }));
    else if (used.has(index))
      problems.push(say('table-reading.column-taken', { role, n: index + 1, other: used.get(index) ?? '' }));
    else used.set(index, role);
  }
  if (columns.time !== undefined && (columns.date !== undefined || columns.clock !== undefined))
    problems.push(say('table-reading.two-times'));
  if (columns.clock !== undefined && columns.date === undefined)
    problems.push(say('table-reading.clock-alone'));
  if (columns['rotor-hours'] !== undefined && columns['run-hours'] !== undefined)
    problems.push(say('table-reading.two-hours'));
  if (kindOf(columns) === undefined) problems.push(say('table-reading.no-measure'));
  return problems;
}

/**
 * Reads a table of breaks, adding up as it goes, so that memory grows with the positions and hours in it and not with its
 * rows. Nothing is imported if a single row is bad, unless the caller says that bad rows are to be left out.
 */
export async function readTable(
  source: TableSource,
  mapping: TableMapping,
  options: ReadOptions = {},
): Promise<TableReading> {
  const listed: BadRow[] = [];
  const most = options.badRowsListed ?? 1000;
  let badTotal = 0;
  let rows = 0;
  let bytes = 0;
  let totals = 0;
  let repeatedHeaders = 0;
  let idle = 0;
  let otherReasons = 0;
  const without = new Set(options.withoutReasons ?? []);
  let stop: string | undefined;
  const badRows = () => ({ total: badTotal, listed });
  const refuse = (problem: string): TableReading => ({ ok: false, problem, rows, badRows: badRows() });

  const [wrong] = checkMapping(mapping);
  const kind = kindOf(mapping.columns);
  if (wrong !== undefined || kind === undefined) return refuse(wrong ?? say('table-reading.no-columns'));

  const addBad = (line: number, reason: () => string, text: string) => {
    badTotal++;
    if (listed.length < most) listed.push({ line, reason: reason(), text: text.slice(0, 120) });
  };
  const facts: RowFacts = {
    frame: '',
    position: '',
    shift: '',
    reason: '',
    wall: Number.NaN,
    hasClock: false,
    count: 0,
    rotorHours: Number.NaN,
    runHours: Number.NaN,
  };
  const readRow = createRowReader(mapping, facts);
  const { columns, dialect } = mapping;
  const sums = createAccumulator(kind, {
    position: columns.position !== undefined,
    rotorHours: columns['rotor-hours'] !== undefined,
    runHours: columns['run-hours'] !== undefined,
  });
  let headerPassed = !dialect.hasHeader;
  const useRow = (row: string[], line: number) => {
    if (!headerPassed) {
      headerPassed = true;
      return;
    }
    const verdict = readRow(row);
    if (typeof verdict === 'object') {
      rows++;
      addBad(line, verdict.bad, row.join(dialect.separator));
    } else if (verdict === 'total') totals++;
    else if (verdict === 'header') repeatedHeaders++;
    else if (verdict === 'used') {
      rows++;
      if (without.size > 0 && without.has(facts.reason)) otherReasons++;
      else if (facts.rotorHours === 0 || facts.runHours === 0) idle++;
      else stop ??= sums.add(facts);
    }
  };

  const parser = parse({
    delimiter: dialect.separator,
    bom: true,
    from_line: dialect.firstLine,
    relax_column_count: true,
    relax_quotes: true,
    skip_empty_lines: true,
    skip_records_with_error: true,
    max_record_size: LONGEST_ROW,
    on_record: (row: string[], context) => {
      useRow(row, context.lines);
      return null;
    },
    on_skip: (error, raw) => {
      rows++;
      addBad(Number((error as { lines?: number } | undefined)?.lines ?? 0), () => sayFault(error), raw ?? '');
      return undefined;
    },
  });
  const failed = new Promise<CsvError | Error | undefined>((resolve) => {
    parser.once('error', resolve);
    parser.once('end', () => resolve(undefined));
  });
  parser.resume();

  const transcode = createTranscoder();
  let nextReport = PROGRESS_BYTES;
  const report = () => options.onProgress?.({ bytes, rows, badRows: badTotal });
  let broken: Error | undefined;
  failed.then((error) => {
    broken = error;
  });
  for await (const piece of piecesOf(source)) {
    bytes += typeof piece === 'string' ? Buffer.byteLength(piece) : piece.length;
    const more = parser.write(transcode(piece));
    if (!more && broken === undefined) await drained(parser);
    if (broken !== undefined || stop !== undefined) break;
    if (bytes >= nextReport) {
      nextReport = bytes + PROGRESS_BYTES;
      report();
      // Lets a server answer others in between.
      await new Promise((resolve) => setImmediate(resolve));
    }
  }
  if (stop !== undefined || broken !== undefined) parser.destroy();
  else parser.end();
  const error = stop === undefined ? (broken ?? (await failed)) : undefined;
  report();
  if (stop !== undefined) return refuse(say('table-reading.nothing', { why: stop }));
  if (error !== undefined) {
    const line = Number((error as { lines?: number }).lines ?? 0);
    return refuse(
      say('table-reading.breaks-off', {
        known: line > 0 ? 'yes' : 'no',
        line: String(line),
        why: sayFault(error),
      }),
    );
  }
  if (badTotal > 0 && options.leaveOutBadRows !== true) {
    return refuse(say('table-reading.bad-rows', { bad: String(badTotal), rows: String(rows) }));
  }
  if (rows === badTotal) {
    return refuse(
      badTotal === 0 ? say('table-reading.no-rows') : say('table-reading.none-read', { rows: String(rows) }),
    );
  }
  const notes = [
    ...(totals > 0 ? [say('table-reading.totals', { n: totals, rows: String(totals) })] : []),
    ...(repeatedHeaders > 0 ? [say('table-reading.headers', { n: String(repeatedHeaders) })] : []),
    ...(otherReasons > 0
      ? [say('table-reading.other-reasons', { n: otherReasons, rows: String(otherReasons) })]
      : []),
    ...(idle > 0 ? [say('table-reading.idle', { n: idle, rows: String(idle) })] : []),
    ...(badTotal > 0 ? [say('table-reading.left-out', { bad: String(badTotal), rows: String(rows) })] : []),
  ];
  return { ok: true, table: sums.finish(notes), leftOut: badRows() };
}

async function* piecesOf(source: TableSource): AsyncGenerator<Uint8Array | string> {
  if (typeof source !== 'string' && !(source instanceof Uint8Array)) {
    yield* source;
    return;
  }
  // As bytes, so that no character is cut in two.
  const whole = typeof source === 'string' ? Buffer.from(source) : source;
  for (let at = 0; at < whole.length; at += PIECE) yield whole.subarray(at, at + PIECE);
}

/** Resolves when the parser takes more, or is at its end for good or ill. */
function drained(parser: ReturnType<typeof parse>): Promise<void> {
  return new Promise((resolve) => {
    const done = () => {
      for (const name of ['drain', 'error', 'close', 'end']) parser.off(name, done);
      resolve();
    };
    for (const name of ['drain', 'error', 'close', 'end']) parser.once(name, done);
  });
}

function sayFault(error: unknown): string {
  switch ((error as { code?: string } | undefined)?.code) {
    case 'CSV_QUOTE_NOT_CLOSED':
    case 'CSV_MAX_RECORD_SIZE':
      return say('table-reading.quote-open');
    case 'CSV_INVALID_CLOSING_QUOTE':
    case 'INVALID_OPENING_QUOTE':
      return say('table-reading.quote-stray');
    default:
      return error instanceof Error ? error.message : say('table-reading.unreadable');
  }
}
