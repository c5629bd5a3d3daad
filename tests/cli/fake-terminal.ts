import { main } from '../../src/cli/main.js';
import type { Terminal } from '../../src/cli/terminal.js';

export interface RunResult {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface FakeScreen {
  readonly width?: number;
  readonly colour?: boolean;
  readonly unicode?: boolean;
  /** What stands on standard input. */
  readonly input?: string | Uint8Array;
}

/** A terminal that keeps what is written. */
export function fakeTerminal(
  screen: FakeScreen = {},
): Terminal & { readonly written: { out: string; err: string } } {
  const written = { out: '', err: '' };
  const input = screen.input ?? '';
  return {
    written,
    out: (text) => {
      written.out += text;
    },
    err: (text) => {
      written.err += text;
    },
    width: screen.width ?? 80,
    colour: screen.colour ?? false,
    unicode: screen.unicode ?? true,
    readInput: async () => (typeof input === 'string' ? new TextEncoder().encode(input) : input),
  };
}

/** Runs the command line as a process would, without one. */
export async function run(argv: readonly string[], screen: FakeScreen = {}): Promise<RunResult> {
  const terminal = fakeTerminal(screen);
  const code = await main(argv, terminal);
  return { code, ...terminal.written };
}

/** A text with its line breaks taken out, for looking up sentences that were wrapped. */
export const unwrapped = (text: string) => text.replace(/\s+/g, ' ');
