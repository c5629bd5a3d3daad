import { type Document, isMap, isPair, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';

/** Something that the text itself has wrong: what, and where it begins. */
export interface YamlFault {
  readonly message: string;
  /** Characters before it. */
  readonly at: number;
}

/** A text taken apart. */
export interface ComposedYaml {
  readonly document: Document.Parsed;
  readonly lines: LineCounter;
  readonly errors: readonly YamlFault[];
  readonly warnings: readonly YamlFault[];
}

const MOST_MESSAGE = 160;

/**
 * Takes a text apart as YAML 1.2 (core schema). Doubled keys are errors. They are looked for here: the parser's own
 * search compares every key with every other, so that a text of some ten thousand keys would hold a server up for a minute.
 * @throws RangeError for nesting deeper than the stack
 */
export function composeYaml(text: string): ComposedYaml {
  const lines = new LineCounter();
  const document = parseDocument(text, {
    lineCounter: lines,
    uniqueKeys: false,
    schema: 'core',
    prettyErrors: false,
    logLevel: 'silent',
  });
  const fault = ({ message, pos }: { message: string; pos: readonly [number, number] }): YamlFault => ({
    message: shorten(message.split('\n')[0] ?? ''),
    at: pos[0],
  });
  return {
    document,
    lines,
    errors: [...document.errors.map(fault), ...doubledKeys(document.contents)],
    warnings: document.warnings.map(fault),
  };
}

/** Keys that stand twice in one mapping, by their values: `1` and `"1"` become the same field. */
function doubledKeys(root: Node | null): YamlFault[] {
  const faults: YamlFault[] = [];
  // Not by recursion: the nesting is the text's to choose.
  const waiting: unknown[] = [root];
  while (waiting.length > 0) {
    const node = waiting.pop();
    if (isSeq(node)) waiting.push(...node.items);
    if (!isMap(node)) continue;
    const seen = new Set<string>();
    for (const pair of node.items) {
      if (!isPair(pair)) continue;
      waiting.push(pair.key, pair.value);
      if (!isScalar(pair.key)) continue;
      const key = String(pair.key.value);
      if (seen.has(key))
        faults.push({
          message: `Map keys must be unique: "${shorten(key)}" stands twice`,
          at: pair.key.range?.[0] ?? 0,
        });
      seen.add(key);
    }
  }
  return faults.sort((a, b) => a.at - b.at);
}

const shorten = (text: string): string =>
  text.length > MOST_MESSAGE ? `${text.slice(0, MOST_MESSAGE - 1)}…` : text;
