import { z } from 'zod';
import type { STANDINGS } from '../knowledge/vocabulary.js';

const text = z.string().trim().min(1);

/**
 * One published statement: a setting was moved from one level to another and a response moved in a direction. Further
 * fields (levels in numbers, notes) are allowed and not used.
 */
export const publishedRecordSchema = z.looseObject({
  id: text,
  source: text,
  address: z.url().nullish(),
  /** `read`: the publication was seen; `memory`: it was not, and must not be shown as a citation. */
  provenance: z.enum(['read', 'memory']),
  /** Words such as `cotton`, `50/50 polyester/cotton`, `various`. */
  fibre: text,
  count_tex: z.number().positive().nullish(),
  setting: text,
  from: text,
  to: text,
  response: text,
  direction: z.enum(['up', 'down', 'none', 'optimum']),
});
export type PublishedRecord = z.infer<typeof publishedRecordSchema>;

/** A line that is no record. */
export interface RecordProblem {
  readonly line: number;
  readonly message: string;
}

/**
 * Reads records from JSON lines, or from one JSON array.
 *
 * @returns the records, and what is wrong with lines that are none
 */
export function readRecords(source: string): {
  readonly records: readonly PublishedRecord[];
  readonly problems: readonly RecordProblem[];
} {
  const records: PublishedRecord[] = [];
  const problems: RecordProblem[] = [];
  const ids = new Set<string>();
  for (const { line, value, broken } of jsonValues(source)) {
    const result = publishedRecordSchema.safeParse(value);
    if (broken !== undefined) problems.push({ line, message: broken });
    else if (!result.success)
      for (const issue of result.error.issues)
        problems.push({ line, message: `${issue.path.join('.') || 'the record'}: ${issue.message}` });
    else if (ids.has(result.data.id)) problems.push({ line, message: `id "${result.data.id}" stands twice` });
    else {
      ids.add(result.data.id);
      records.push(result.data);
    }
  }
  return { records, problems };
}

interface JsonValue {
  readonly line: number;
  readonly value?: unknown;
  readonly broken?: string;
}

function jsonValues(source: string): JsonValue[] {
  if (source.trimStart().startsWith('[')) {
    try {
      return (JSON.parse(source) as unknown[]).map((value, i) => ({ line: i + 1, value }));
    } catch (error) {
      return [{ line: 1, broken: `not JSON: ${(error as Error).message}` }];
    }
  }
  return source.split('\n').flatMap((text, i): JsonValue[] => {
    if (text.trim() === '') return [];
    try {
      return [{ line: i + 1, value: JSON.parse(text) as unknown }];
    } catch {
      return [{ line: i + 1, broken: 'not a line of JSON' }];
    }
  });
}

/** Standing under which a record may be shown: only what was read is a publication. */
export function recordStanding(record: PublishedRecord): (typeof STANDINGS)[number] {
  return record.provenance === 'read' ? 'published' : 'memory';
}
