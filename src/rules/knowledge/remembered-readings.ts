import type { z } from 'zod';

/**
 * Characters of text whose readings are kept: some four times the knowledge base supplied, so that its versions before
 * and after a change, and those tried on closed cases, are all there.
 */
const MOST_CHARACTERS = 8_000_000;

interface Reading {
  readonly text: string;
  readonly value: unknown;
}

const bySchema = new WeakMap<z.ZodType, Map<string, Reading>>();
/** In the order they were last used. */
const inUse = new Map<Reading, () => void>();
let characters = 0;

/**
 * The value of a text that was read against this schema before. Reading a whole knowledge base takes most of a second,
 * and after a change nearly all of its files are what they were.
 * The value is frozen through and through: all who ask share it.
 */
export function rememberedReading<T>(schema: z.ZodType<T>, text: string): { readonly value: T } | undefined {
  const reading = bySchema.get(schema)?.get(text);
  if (reading === undefined) return undefined;
  const forget = inUse.get(reading);
  if (forget !== undefined) {
    inUse.delete(reading);
    inUse.set(reading, forget);
  }
  return { value: reading.value as T };
}

/**
 * Keeps what a text was found to say; the longest unused give way when the texts grow too long.
 * @returns the value, now frozen
 */
export function rememberReading<T>(schema: z.ZodType<T>, text: string, value: T): T {
  const readings = bySchema.get(schema) ?? new Map<string, Reading>();
  bySchema.set(schema, readings);
  const reading: Reading = { text, value: freeze(value) };
  readings.set(text, reading);
  inUse.set(reading, () => readings.delete(text));
  characters += text.length;
  for (const [oldest, forget] of inUse) {
    if (characters <= MOST_CHARACTERS) break;
    inUse.delete(oldest);
    forget();
    characters -= oldest.text.length;
  }
  return value;
}

function freeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null || Object.isFrozen(value)) return value;
  for (const inner of Object.values(value)) freeze(inner);
  return Object.freeze(value);
}
