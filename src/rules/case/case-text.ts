import { isCollection, isMap, isPair, isScalar, type LineCounter, type Node } from 'yaml';
import { say } from '../../language/say.js';
import { composeYaml } from '../yaml/compose-yaml.js';
import type { Path } from './reading.js';
import type { CaseProblem } from './types.js';

/** Longest case text read, in characters: ten times what a full case needs, and read within a second whatever it holds. */
export const MOST_TEXT = 60_000;
/** Aliases (`*name`) may repeat what they name only so often, so that a small file cannot grow without bound. */
const MOST_ALIASES = 50;

export type TextResult =
  | {
      readonly ok: true;
      readonly data: unknown;
      /** Line of the value at a path, or of the nearest thing above it. */
      lineOf(path: Path): number;
    }
  | { readonly ok: false; readonly problems: readonly CaseProblem[] };

/**
 * Reads a text as YAML 1.2 (core schema), of which JSON is a part. Never throws: a text that cannot be read gives
 * the problems with their lines. Doubled keys and tags are refused.
 */
export function readCaseText(text: string): TextResult {
  if (text.length > MOST_TEXT) {
    return failure(say('case-file.characters', { n: text.length }), [
      say('case-file.most-characters', { n: MOST_TEXT }),
    ]);
  }
  try {
    const { document, lines, errors, warnings } = composeYaml(text);
    const faults = [...errors, ...warnings];
    if (faults.length > 0) {
      return {
        ok: false,
        problems: faults.slice(0, 20).map((fault) => ({
          field: '',
          value:
            text
              .slice(fault.at, fault.at + 60)
              .split('\n')[0]
              ?.trim() ?? '',
          message: say('case-file.unreadable', { reason: fault.message }),
          allowed: [say('case-file.yaml-form')],
          line: lines.linePos(fault.at).line,
        })),
      };
    }
    const data: unknown = document.toJS({ maxAliasCount: MOST_ALIASES });
    return { ok: true, data, lineOf: (path) => lineOfNode(document.contents, path, lines) };
  } catch (error) {
    // Too many aliases, or nested deeper than the stack: both come as exceptions from the parser.
    return failure(
      error instanceof ReferenceError && /alias/i.test(error.message)
        ? say('case-file.aliases')
        : say('case-file.nested'),
      [say('case-file.yaml-example')],
    );
  }
}

function failure(message: string, allowed: readonly string[]): TextResult {
  return { ok: false, problems: [{ field: '', value: '', message, allowed, line: 1 }] };
}

function lineOfNode(root: Node | null, path: Path, lines: LineCounter): number {
  let node: unknown = root;
  let offset = root?.range?.[0];
  for (const key of path) {
    if (!isCollection(node)) break;
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === key,
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
  return offset === undefined ? 1 : lines.linePos(offset).line;
}
