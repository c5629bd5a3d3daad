import { z } from 'zod';
import { say } from '../../language/say.js';
import { JournalInputError } from '../errors.js';
import { readInput } from '../input.js';

/** Which stretch of a list: how many, newest or oldest first, and the key that the page before gave as `next`. */
export const pageSchema = z.strictObject({
  size: z.number().int().min(1).max(200).default(50),
  order: z.enum(['newest', 'oldest']).default('newest'),
  after: z.string().max(400).optional(),
});
export type PageInput = z.input<typeof pageSchema>;

/** A stretch of a list. */
export interface Page<T> {
  readonly rows: readonly T[];
  /** Key of the next page; null at the end. */
  readonly next: string | null;
}

/** Where a page begins: behind this time and id. */
export interface PageKey {
  readonly at: string;
  readonly id: string;
}

/** Reads a page request. @throws JournalInputError */
export function readPage(page: PageInput): {
  readonly size: number;
  readonly order: 'newest' | 'oldest';
  readonly after: PageKey | undefined;
} {
  const { size, order, after } = readInput(pageSchema, page, 'page');
  return { size, order, after: after === undefined ? undefined : readKey(after) };
}

/** Makes the page from one row more than was wanted. */
export function toPage<T>(rows: readonly T[], size: number, keyOf: (row: T) => PageKey): Page<T> {
  const last = rows[size - 1];
  return {
    rows: rows.slice(0, size),
    next: rows.length > size && last !== undefined ? writeKey(keyOf(last)) : null,
  };
}

const writeKey = ({ at, id }: PageKey): string => Buffer.from(JSON.stringify([at, id])).toString('base64url');

function readKey(text: string): PageKey {
  try {
    const [at, id] = z
      .tuple([z.string(), z.string()])
      .parse(JSON.parse(Buffer.from(text, 'base64url').toString('utf8')));
    return { at, id };
  } catch {
    throw new JournalInputError([
      { field: 'page.after', value: text.slice(0, 60), allowed: say('input.page-key') },
    ]);
  }
}
