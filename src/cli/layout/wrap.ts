const ESC = String.fromCharCode(27);
const STYLE = new RegExp(`${ESC}\\[[0-9;]*m`, 'g');

/** Columns a text takes on the screen, type styles not counted. */
export function columnsOf(text: string): number {
  return [...text.replace(STYLE, '')].length;
}

/** How a block of text is set in. */
export interface Indent {
  /** Before the first line. */
  readonly first: string;
  /** Before the others; as many blanks as `first` has columns when left out. */
  readonly rest?: string;
}

/**
 * Breaks a text into lines of at most `width` columns, between words only: a word longer than that stands on a line
 * of its own. A figure stays with its percent sign.
 */
export function wrapText(text: string, width: number, indent: Indent = { first: '' }): string[] {
  const rest = indent.rest ?? ' '.repeat(columnsOf(indent.first));
  const words = text
    .trim()
    .split(/\s+/)
    .reduce<string[]>((list, word) => {
      const last = list.at(-1);
      if (last !== undefined && /^%[^\w]*$/.test(word) && /\d$/.test(last))
        list[list.length - 1] = `${last} ${word}`;
      else list.push(word);
      return list;
    }, []);
  const lines: string[] = [];
  let line = indent.first;
  let empty = true;
  for (const word of words) {
    if (!empty && columnsOf(line) + 1 + columnsOf(word) > width) {
      lines.push(line);
      line = rest;
      empty = true;
    }
    line += empty ? word : ` ${word}`;
    empty = false;
  }
  return [...lines, line.trimEnd()];
}
