/** Where a command writes and what the reader's screen can do; a test passes one of its own. */
export interface Terminal {
  /** Writes to standard output; the text brings its own line ends. */
  out(text: string): void;
  /** Writes to standard error. */
  err(text: string): void;
  /** Columns to lay text out in. */
  readonly width: number;
  /** Whether bold and faint type may be used. */
  readonly colour: boolean;
  /** Whether characters beyond ASCII arrive as they are. */
  readonly unicode: boolean;
  /** Everything on standard input, at most `most` bytes and one more. */
  readInput(most: number): Promise<Uint8Array>;
}

const ASCII_FOR: Readonly<Record<string, string>> = {
  '“': '"',
  '”': '"',
  '‘': "'",
  '’': "'",
  '–': '-',
  '—': '-',
  '−': '-',
  '→': '->',
  '↓': 'v',
  '·': '*',
  '×': 'x',
  '√': 'sqrt',
  '≤': '<=',
  '≥': '>=',
  '±': '+/-',
  '…': '...',
  '°': ' deg ',
  α: 'alpha',
  µ: 'u',
  μ: 'u',
  '\u00a0': ' ',
  '\u202f': ' ',
};

/** The text in ASCII alone, for screens that show nothing else; letters lose their accents, the rest becomes `?`. */
export function toAscii(text: string): string {
  return text.replace(/[^\n -~]/gu, (character) => {
    const known = ASCII_FOR[character];
    if (known !== undefined) return known;
    const bare = character.normalize('NFKD').replace(/[^ -~]/gu, '');
    return bare === '' ? '?' : bare;
  });
}
