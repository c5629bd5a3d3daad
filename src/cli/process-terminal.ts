import { EXIT } from './errors.js';
import type { Terminal } from './terminal.js';

const USUAL_WIDTH = 80;
const NARROWEST = 40;
/** Longer lines are tiring to read, however wide the screen is. */
const WIDEST = 100;

/**
 * The terminal of this process. A reader that goes away (`peelpoint … | head`) ends the output without a word.
 */
export function processTerminal(): Terminal {
  const { stdout, stderr, env } = process;
  return {
    out: quietWriter(stdout),
    err: quietWriter(stderr),
    width: stdout.isTTY ? Math.min(WIDEST, Math.max(NARROWEST, stdout.columns || USUAL_WIDTH)) : USUAL_WIDTH,
    colour: stdout.isTTY === true && (env.NO_COLOR ?? '') === '' && env.TERM !== 'dumb',
    unicode: speaksUtf8(env, process.platform),
    readInput,
  };
}

function quietWriter(stream: NodeJS.WriteStream): (text: string) => void {
  let gone = false;
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (!gone && error.code !== 'EPIPE' && stream !== process.stderr) {
      process.stderr.write(`peelpoint: the output cannot be written (${error.code}).\n`);
      process.once('exit', () => {
        process.exitCode = EXIT.fault;
      });
    }
    gone = true;
  });
  return (text) => {
    if (!gone) stream.write(text);
  };
}

/** Whether the locale of an environment says UTF-8; on Windows the newer terminal does. */
export function speaksUtf8(env: Readonly<Record<string, string | undefined>>, platform: string): boolean {
  const locale = [env.LC_ALL, env.LC_CTYPE, env.LANG].find((value) => value !== undefined && value !== '');
  if (locale !== undefined) return /utf-?8/i.test(locale);
  return platform === 'win32' && env.WT_SESSION !== undefined;
}

async function readInput(most: number): Promise<Uint8Array> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of process.stdin as AsyncIterable<Buffer | string>) {
    const bytes = typeof chunk === 'string' ? Buffer.from(chunk) : chunk;
    chunks.push(bytes);
    size += bytes.length;
    if (size > most) break;
  }
  return Buffer.concat(chunks);
}
