import type { Terminal } from '../terminal.js';
import { toAscii } from '../terminal.js';
import { type Column, layTable } from './table.js';
import { type Indent, wrapText } from './wrap.js';

/** A text being laid out for one terminal; nothing is written before `print`. */
export interface Page {
  /** A section's heading with an empty line above. */
  heading(text: string): void;
  /** A line in bold, wrapped. */
  strong(text: string, indent?: string | Indent): void;
  /** A wrapped paragraph. */
  text(text: string, indent?: string | Indent): void;
  /** The same in faint type. */
  faint(text: string, indent?: string | Indent): void;
  /** Numbered steps. */
  steps(steps: readonly string[], indent: string): void;
  /** A line kept as it is. */
  line(text?: string): void;
  table(columns: readonly Column[], rows: readonly (readonly string[])[], indent?: string): void;
  print(): void;
}

const BOLD = ['\u001b[1m', '\u001b[22m'] as const;
const FAINT = ['\u001b[2m', '\u001b[22m'] as const;

/** A text from a file without what would move the cursor or turn the line round. */
function visible(text: string): string {
  return text.replace(/[\p{Cc}\u202a-\u202e\u2066-\u2069]+/gu, ' ');
}

/** Starts a page. */
export function startPage(terminal: Terminal, write: (text: string) => void = terminal.out): Page {
  const lines: string[] = [];
  const styled = (line: string, [on, off]: readonly [string, string]) =>
    terminal.colour && line !== '' ? on + line + off : line;
  const show = (text: string) => (terminal.unicode ? visible(text) : toAscii(text));
  const indentOf = (indent: string | Indent | undefined): Indent =>
    typeof indent === 'object' ? { ...indent, first: show(indent.first) } : { first: show(indent ?? '') };
  const put = (text: string, indent: string | Indent | undefined, style?: readonly [string, string]) => {
    const shown = show(text);
    const place = indentOf(indent);
    for (const line of wrapText(shown, terminal.width, place))
      lines.push(style === undefined ? line : styled(line, style));
  };
  return {
    heading: (text) => {
      if (lines.length > 0) lines.push('');
      put(text, '', BOLD);
    },
    strong: (text, indent) => put(text, indent, BOLD),
    text: (text, indent) => put(text, indent),
    faint: (text, indent) => put(text, indent, FAINT),
    steps: (steps, indent) => {
      for (const [index, step] of steps.entries()) put(step, `${indent}${index + 1}) `);
    },
    line: (text = '') => {
      lines.push(show(text));
    },
    table: (columns, rows, indent = '') => {
      const shown = rows.map((row) => row.map(show));
      const [head, ...body] = layTable(columns, shown, terminal.width - indent.length);
      const titled = columns.some((column) => column.title !== '');
      if (head !== undefined) lines.push(indent + (titled ? styled(head, FAINT) : head));
      for (const line of body) lines.push(indent + line);
    },
    print: () => {
      if (lines.length > 0) write(`${lines.join('\n')}\n`);
    },
  };
}
