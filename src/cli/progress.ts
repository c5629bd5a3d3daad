import { drawBar } from './layout/bar.js';
import type { Terminal } from './terminal.js';

const CELLS = 24;

/** A line that tells how far a long reading is, and wipes itself out at the end. */
export interface ProgressLine {
  update(done: number, words: string): void;
  clear(): void;
}

/**
 * Starts a progress line on standard error; nothing is written where that is no screen.
 * @param total what `done` will reach at the end, 0 when not known
 */
export function startProgress(
  terminal: Terminal,
  total: number,
  isScreen: boolean = process.stderr.isTTY === true,
): ProgressLine {
  let shown = 0;
  return {
    update: (done, words) => {
      if (!isScreen) return;
      const share = total > 0 ? Math.min(1, done / total) : 0;
      const bar = drawBar(share, CELLS, terminal.unicode).padEnd(CELLS);
      const line = total > 0 ? `[${bar}] ${String(Math.round(100 * share)).padStart(3)} %  ${words}` : words;
      const text = line.slice(0, terminal.width - 1);
      terminal.err(`\r${text.padEnd(shown)}`);
      shown = text.length;
    },
    clear: () => {
      if (shown > 0) terminal.err(`\r${' '.repeat(shown)}\r`);
      shown = 0;
    },
  };
}
