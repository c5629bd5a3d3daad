/**
 * What a table of breaks is read into. Times are wall-clock times as written, in milliseconds as if they were UTC: a mill
 * thinks in its own clock, and shifts and hours of the day follow it.
 */

/** What a column holds. */
export const COLUMN_ROLES = [
  'time',
  'date',
  'clock',
  'shift',
  'frame',
  'side',
  'position',
  'count',
  'rotor-hours',
  'run-hours',
  'reason',
] as const;
export type ColumnRole = (typeof COLUMN_ROLES)[number];

/**
 * What a row stands for: `positions`: the breaks of one position; `events`: one break; `totals`: the breaks of a shift, a day
 * or a frame.
 */
export type TableKind = 'positions' | 'events' | 'totals';

/** Order of day, month and year in dates written with slashes or dashes. */
export type DateOrder = 'dmy' | 'mdy';
/** Unit of a column of hours. */
export type HoursUnit = 'h' | 'min' | 's';

/** How the text is written. */
export interface Dialect {
  readonly separator: ',' | ';' | '\t' | '|';
  readonly decimal: '.' | ',';
  /** Line of the header, or of the first data row when there is none; counted from 1. */
  readonly firstLine: number;
  readonly hasHeader: boolean;
}

/** Which column is what, as the user confirms it. Columns are counted from 0. */
export interface TableMapping {
  readonly columns: Readonly<Partial<Record<ColumnRole, number>>>;
  readonly dialect: Dialect;
  /** Headers, or "column 1" and so on where the table has none; as many as the table has columns. */
  readonly headers: readonly string[];
  /** Needed only for dates that can be read both ways. */
  readonly dateOrder?: DateOrder;
  readonly hoursUnit?: HoursUnit;
}

/** A row that cannot be used. */
export interface BadRow {
  /** Line of the file, counted from 1 (its last line if a quoted cell runs over several). */
  readonly line: number;
  readonly reason: string;
  /** The row as it stands, shortened. */
  readonly text: string;
}

/** Bad rows: all counted, the first ones listed. */
export interface BadRows {
  readonly total: number;
  readonly listed: readonly BadRow[];
}

/** Breaks of one position over the whole table. */
export interface PositionTotal {
  readonly frame: string;
  readonly position: string;
  readonly count: number;
  /** Hours it ran; undefined when the table does not say. */
  readonly hours: number | undefined;
}

/** Breaks of one stretch of time on one frame (or on all, when the table names none). */
export interface PeriodTotal {
  readonly frame: string;
  readonly shift: string;
  /** Start, wall clock; undefined when only the shift is known. */
  readonly start: number | undefined;
  readonly count: number;
  readonly rotorHours: number | undefined;
  /** Hours the frame ran, where the table gives those instead of rotor-hours. */
  readonly runHours: number | undefined;
}

/** Breaks of one clock hour on one frame; hours without any are left out. */
export interface HourCount {
  readonly frame: string;
  /** Hours since 1970-01-01 00:00 of the wall clock. */
  readonly hour: number;
  readonly count: number;
}

/** Breaks of one position in one block of time; blocks without any are left out. */
export interface PositionTime {
  readonly frame: string;
  readonly position: string;
  /** Start of the block in hours since 1970-01-01 00:00 of the wall clock. */
  readonly hour: number;
  readonly count: number;
}

/** A table of breaks, added up. */
export interface CountTable {
  readonly kind: TableKind;
  /** In natural order of frame and position; empty when the table names no positions. */
  readonly positions: readonly PositionTotal[];
  /** In order of time; empty for events and for tables without dates or shifts. */
  readonly periods: readonly PeriodTotal[];
  /** For events with a time. */
  readonly hours: readonly HourCount[];
  /** Breaks of positions in time; undefined when there is no time or it would take too much memory. */
  readonly positionTimes:
    | { readonly blockHours: 1 | 8 | 24; readonly cells: readonly PositionTime[] }
    | undefined;
  readonly reasons: readonly { readonly reason: string; readonly count: number }[];
  /** First and last time seen, wall clock. */
  readonly from: number | undefined;
  readonly to: number | undefined;
  /** Whether the times have a time of day or are bare dates. */
  readonly timeOfDay: boolean;
  /** Events within 30 minutes of another at the same position; undefined when not told or not in order. */
  readonly repeats: number | undefined;
  readonly rows: number;
  readonly breaks: number;
  /** What was passed over on purpose, in sentences. */
  readonly notes: readonly string[];
}

/** How far a reading has come. */
export interface TableProgress {
  readonly bytes: number;
  readonly rows: number;
  readonly badRows: number;
}

/** The result of reading a table: all of it, all of it but the bad rows by request, or nothing. */
export type TableReading =
  | { readonly ok: true; readonly table: CountTable; readonly leftOut: BadRows }
  | {
      readonly ok: false;
      /** Why nothing was imported, in one sentence. */
      readonly problem: string;
      /** Rows read until then. */
      readonly rows: number;
      readonly badRows: BadRows;
    };
