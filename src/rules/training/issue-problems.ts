import type { z } from 'zod';
import { isLeftOut, showValue } from '../case/reading.js';
import type { CaseProblem } from '../case/types.js';

/** What a schema refused, field by field, in words. */
export interface IssueReader {
  /** What is allowed at a place, where the schema itself does not say. */
  allowedAt(path: readonly string[]): readonly string[];
  /** Which of the forms of a union was meant; undefined when none can be told. */
  formOf?(value: unknown, path: readonly string[]): number | undefined;
  /** What a union asks for where none of its forms can be told. */
  unionAt(path: readonly string[]): string;
}

/** Problems of data that a schema refused: each names the field, what stands there and what is allowed. */
export function issueProblems(error: z.ZodError, data: unknown, reader: IssueReader): CaseProblem[] {
  return error.issues.flatMap((issue) => problemsOf(issue, [], data, reader));
}

function problemsOf(
  issue: z.core.$ZodIssue,
  prefix: readonly PropertyKey[],
  data: unknown,
  reader: IssueReader,
): CaseProblem[] {
  const at = [...prefix, ...issue.path];
  const path = at.map(String);
  const given = valueAt(data, at);
  const problem = (message: string, allowed = reader.allowedAt(path)): CaseProblem[] => [
    { field: path.join('.'), value: given === undefined ? '' : showValue(given), message, allowed },
  ];
  if (isLeftOut(given)) return problem('is missing');
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        field: [...path, key.slice(0, 60)].join('.'),
        value: showValue(valueAt(given, [key])),
        message: `there is no field "${key.slice(0, 60)}" here`,
        allowed: reader.allowedAt(path),
      }));
    case 'invalid_union': {
      const form = reader.formOf?.(given, path);
      const inner = form === undefined ? undefined : issue.errors[form];
      return inner === undefined
        ? problem(reader.unionAt(path))
        : inner.flatMap((one) => problemsOf(one, at, data, reader));
    }
    case 'invalid_value':
      return problem('is not one of the allowed words', issue.values.map(String));
    case 'invalid_type':
      return problem(`must be ${TYPES[issue.expected] ?? issue.expected}`);
    case 'invalid_key':
      return problem(`names "${path.at(-1)?.slice(0, 60)}", which ${ruleOf(issue.issues)}`);
    case 'too_big':
      return problem(issue.origin === 'array' ? 'has too many entries' : 'is too long', [
        `at most ${issue.maximum} ${issue.origin === 'array' ? 'entries' : 'characters'}`,
      ]);
    case 'too_small':
      return problem('must not be empty');
    default:
      return problem(issue.message);
  }
}

const ruleOf = (issues: readonly z.core.$ZodIssue[]) => issues.map((one) => one.message).join('; ');

const TYPES: Readonly<Record<string, string>> = {
  array: 'a list',
  object: 'a group of fields',
  record: 'a group of fields',
  string: 'a text',
  number: 'a number',
  boolean: 'true or false',
};

function valueAt(data: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>(
    (inner, key) =>
      typeof inner === 'object' && inner !== null && Object.hasOwn(inner, key)
        ? Reflect.get(inner, key)
        : undefined,
    data,
  );
}
