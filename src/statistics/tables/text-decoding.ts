/** Encodings told apart. Spreadsheets write UTF-8, UTF-16 ("Unicode text") or, where older, Windows-1252. */
export type TextEncoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';

/** Guesses the encoding of a text from its first bytes: byte-order mark, zero bytes, and whether they can be UTF-8 at all. */
export function detectEncoding(start: Uint8Array): TextEncoding {
  const [a, b] = start;
  if (a === 0xff && b === 0xfe) return 'utf-16le';
  if (a === 0xfe && b === 0xff) return 'utf-16be';
  if (start.length >= 4) {
    if (a !== 0 && b === 0 && start[3] === 0) return 'utf-16le';
    if (a === 0 && b !== 0 && start[2] === 0) return 'utf-16be';
  }
  try {
    // `stream`: a character cut off at the end of the piece is no error.
    new TextDecoder('utf-8', { fatal: true }).decode(start, { stream: true });
    return 'utf-8';
  } catch {
    return 'windows-1252';
  }
}

/** Decodes a piece of text as a whole; a byte-order mark is dropped, what cannot be decoded becomes U+FFFD. */
export function decodeText(bytes: Uint8Array, encoding: TextEncoding = detectEncoding(bytes)): string {
  return new TextDecoder(encoding).decode(bytes);
}

/** Turns pieces of bytes into pieces of UTF-8 bytes, in the encoding detected from the first piece. */
export function createTranscoder(): (piece: Uint8Array | string) => Uint8Array | string {
  let decoder: InstanceType<typeof TextDecoder> | 'none' | undefined;
  return (piece) => {
    if (typeof piece === 'string') return piece;
    if (decoder === undefined) {
      const encoding = detectEncoding(piece);
      decoder = encoding === 'utf-8' ? 'none' : new TextDecoder(encoding);
    }
    return decoder === 'none' ? piece : decoder.decode(piece, { stream: true });
  };
}
