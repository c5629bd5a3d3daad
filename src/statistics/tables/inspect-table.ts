import { parse } from 'csv-parse/sync';
import { detectDialect } from './dialect.js';
import { type MappingProposal, proposeMapping } from './propose-mapping.js';
import { decodeText } from './text-decoding.js';
import type { Dialect } from './types.js';

/** Bytes of a file that are enough to propose a mapping. */
export const SAMPLE_BYTES = 65_536;
const SAMPLE_ROWS = 200;

/** The beginning of a table, cut into cells, with the proposal. */
export interface TableInspection {
  readonly proposal: MappingProposal;
  /** The first rows below the header. */
  readonly rows: readonly (readonly string[])[];
}

/**
 * Looks at the beginning of a table (all of it, or its first {@link SAMPLE_BYTES}) and proposes which column is what. Never
 * throws for what the text holds: an unreadable text gives a proposal without columns and a question.
 */
export function inspectTable(start: Uint8Array | string): TableInspection {
  const whole = start.length <= SAMPLE_BYTES;
  const text = (
    typeof start === 'string' ? start.slice(0, SAMPLE_BYTES) : decodeText(start.slice(0, SAMPLE_BYTES))
  ).replace(/^\ufeff/, '');
  const lineEnd = Math.max(text.lastIndexOf('\n'), text.lastIndexOf('\r'));
  // The last line of a cut-off sample may be half a row.
  const sample = whole || lineEnd < 0 ? text : text.slice(0, lineEnd);
  const dialect = detectDialect(sample);
  const rows = cutSample(sample, dialect);
  const head = dialect.hasHeader ? (rows[0] ?? []) : [];
  const body = dialect.hasHeader ? rows.slice(1) : rows;
  const width = dialect.hasHeader ? head.length : (body[0]?.length ?? 0);
  const headers = Array.from({ length: width }, (_, index) => head[index]?.trim() || `column ${index + 1}`);
  return { proposal: proposeMapping(headers, body, dialect), rows: body };
}

function cutSample(sample: string, dialect: Dialect): string[][] {
  try {
    return parse(sample, {
      delimiter: dialect.separator,
      from_line: dialect.firstLine,
      to: SAMPLE_ROWS,
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      skip_records_with_error: true,
      trim: true,
    });
  } catch {
    return [];
  }
}
