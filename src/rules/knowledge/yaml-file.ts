import { isCollection, isMap, isPair, isScalar, type LineCounter, type Node } from 'yaml';
import type { z } from 'zod';
import { composeYaml } from '../yaml/compose-yaml.js';
import type { KnowledgeProblem } from './errors.js';

/** A read file, or what is wrong with it. */
export type FileResult<T> = { ok: true; value: T } | { ok: false; problems: KnowledgeProblem[] };

/** A file with more problems than this is of another kind altogether; looking up the line of each takes time. */
const MOST_PROBLEMS = 100;

/**
 * Reads one YAML text against a schema. Problems carry the line of the nearest field that exists.
 * Aliases are refused (nothing in the knowledge base needs them, and they allow files that explode).
 */
export function readYaml<T>(file: string, text: string, schema: z.ZodType<T>): FileResult<T> {
  let composed: ReturnType<typeof composeYaml>;
  try {
    composed = composeYaml(text);
  } catch {
    return { ok: false, problems: [{ file, line: 1, field: '', message: 'is nested too deeply' }] };
  }
  const { document, lines, errors } = composed;
  if (errors.length > 0) {
    return {
      ok: false,
      problems: errors.map(({ at, message }) => ({ file, line: lines.linePos(at).line, field: '', message })),
    };
  }
  let data: unknown;
  try {
    data = document.toJS({ maxAliasCount: 0 });
  } catch {
    return {
      ok: false,
      problems: [{ file, line: 1, field: '', message: 'aliases (*name) are not allowed' }],
    };
  }
  const result = schema.safeParse(data, { reportInput: true });
  if (result.success) return { ok: true, value: result.data };
  const problems = result.error.issues
    .flatMap((issue) => flattenIssue(issue, []))
    .slice(0, MOST_PROBLEMS)
    .map(({ path, message }) => ({
      file,
      line: lineOf(document.contents, path, lines),
      field: path.join('.'),
      message,
    }));
  return { ok: false, problems };
}

interface PlacedMessage {
  path: PropertyKey[];
  message: string;
}

/** Turns zod issues into words; of a union, the branch that got furthest is reported. */
function flattenIssue(issue: z.core.$ZodIssue, prefix: PropertyKey[]): PlacedMessage[] {
  const path = [...prefix, ...issue.path];
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({ path: [...path, key], message: 'is not a known field here' }));
    case 'invalid_value':
      return [
        {
          path,
          message: `${show(issue.input)} is not allowed; one of: ${issue.values.map(String).join(', ')}`,
        },
      ];
    case 'invalid_type':
      return [
        {
          path,
          message:
            issue.input === undefined ? `is missing (${issue.expected})` : `must be a ${issue.expected}`,
        },
      ];
    case 'invalid_union': {
      const branches = issue.errors.map((branch) => branch.flatMap((inner) => flattenIssue(inner, path)));
      const deepest = branches.reduce<PlacedMessage[]>(
        (best, branch) => (depth(branch) > depth(best) ? branch : best),
        [],
      );
      return deepest.length > 0 && depth(deepest) > path.length
        ? deepest
        : [{ path, message: 'does not have any of the allowed forms' }];
    }
    case 'invalid_key':
      return [{ path, message: `${issue.issues.map((inner) => inner.message).join('; ')}` }];
    default:
      return [{ path, message: issue.message }];
  }
}

const depth = (messages: PlacedMessage[]) =>
  messages.every((m) => m.message.startsWith('is missing') || m.message === 'is not a known field here')
    ? 0
    : Math.max(0, ...messages.map((m) => m.path.length));

const show = (value: unknown) => (value === undefined ? 'this' : JSON.stringify(value));

/**
 * Tells where fields stand in a YAML text: given a path of keys and list positions, the line (from 1) of the deepest
 * part of it that exists; undefined for an empty text.
 */
export function lineFinder(text: string): (path: readonly PropertyKey[]) => number | undefined {
  const { document, lines } = composeYaml(text);
  return (path) => lineOf(document.contents, path, lines);
}

/** Line of the deepest existing node on the path. */
function lineOf(root: Node | null, path: readonly PropertyKey[], lines: LineCounter): number | undefined {
  let node: unknown = root;
  let offset = root?.range?.[0];
  for (const key of path) {
    if (!isCollection(node)) break;
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(key),
      );
      if (pair === undefined) break;
      offset = (pair.key as Node).range?.[0] ?? offset;
      node = pair.value;
    } else {
      const item = node.items[Number(key)] as Node | undefined;
      if (item === undefined) break;
      offset = item.range?.[0] ?? offset;
      node = item;
    }
  }
  return offset === undefined ? undefined : lines.linePos(offset).line;
}
