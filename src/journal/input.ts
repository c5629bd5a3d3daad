import { z } from 'zod';
import { localDecimal } from '../language/numbers.js';
import { say } from '../language/say.js';
import { type InputProblem, JournalInputError } from './errors.js';
import { instantSchema } from './time.js';

/** An id: letters, figures and `- _ .`, starting with a letter or figure, at most 80. */
export const idSchema = z
  .string()
  .regex(/^[a-zA-Z0-9][a-zA-Z0-9._-]{0,79}$/)
  .describe('1 to 80 letters, figures, - _ or ., starting with a letter or figure');

/** Text of at most so many characters, spaces around it dropped. PostgreSQL cannot keep the character 0. */
export const plainText = (most: number) =>
  z
    .string()
    .trim()
    .max(most)
    .refine((text) => !text.includes('\0'), { error: () => say('input.no-character-0') });

/** A short line of text. */
export const lineSchema = plainText(200).min(1);

/** A longer text; may be empty. */
export const textSchema = plainText(10_000);

/** A number of a position on a frame, counted from 1. */
export const positionSchema = z.number().int().min(1).max(5000);

/** An amount that cannot be negative. */
export const amountSchema = z.number().min(0).max(1e9);

/** Who writes, when it happened, and a key that makes a repeated post harmless. */
export const bySchema = z.strictObject({
  who: lineSchema,
  /** When it happened; left out: now. */
  at: instantSchema.optional(),
  /** The same key with the same content is carried out once; a repeat gets the first answer. */
  key: plainText(200).min(8).optional(),
});
export type By = z.input<typeof bySchema>;

/** Reads a time handed in as an argument. @throws JournalInputError naming the argument */
export const readInstant = (field: string, value: string): string => readInput(instantSchema, value, field);

/** Reads input with a schema. @throws JournalInputError naming every field that cannot be used */
export function readInput<S extends z.ZodType>(schema: S, value: unknown, field = ''): z.output<S> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  throw new JournalInputError(schemaProblems(result.error, value, field));
}

/**
 * What a schema found, field by field, in words.
 * @param value what was read
 * @param field name of the argument it was given as; empty: none
 */
export const schemaProblems = (error: z.ZodError, value: unknown, field = ''): InputProblem[] =>
  error.issues.flatMap((issue) => problemsOf(issue, value, field));

function problemsOf(issue: z.core.$ZodIssue, value: unknown, field: string): InputProblem[] {
  const path = [...(field === '' ? [] : [field]), ...issue.path.map(String)];
  const given = issue.path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
        ? Reflect.get(inner, key)
        : undefined,
    value,
  );
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({
      field: [...path, key === '' ? '""' : key.slice(0, 60)].join('.'),
      value: say('input.this-field'),
      allowed: say('input.no-such-field'),
    }));
  return [
    { field: path.join('.') || say('input.whole'), value: showValue(given), allowed: allowedBy(issue) },
  ];
}

/** What would be accepted, from the data of the issue. */
function allowedBy(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_small':
      return say(
        issue.origin === 'array'
          ? 'input.least-entries'
          : issue.origin === 'string'
            ? 'input.least-characters'
            : issue.inclusive === false
              ? 'input.more-than'
              : 'input.least',
        { n: localDecimal(String(issue.minimum)) },
      );
    case 'too_big':
      return say(
        issue.origin === 'array'
          ? 'input.most-entries'
          : issue.origin === 'string'
            ? 'input.most-characters'
            : issue.inclusive === false
              ? 'input.less-than'
              : 'input.most',
        { n: localDecimal(String(issue.maximum)) },
      );
    case 'invalid_value':
      return issue.values.map(String).join(', ');
    case 'invalid_type':
      return issue.expected === 'int'
        ? say('input.whole-number')
        : say('input.type', { type: issue.expected });
    case 'invalid_format':
      return issue.format === 'datetime'
        ? say('input.time')
        : say('input.form', { pattern: issue.pattern ?? issue.format });
    default:
      return issue.message;
  }
}

/** A value for a message: never longer than 60 characters. */
export function showValue(value: unknown): string {
  if (value === undefined) return say('input.nothing');
  const text = typeof value === 'string' ? `"${value}"` : (JSON.stringify(value) ?? String(value));
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}
