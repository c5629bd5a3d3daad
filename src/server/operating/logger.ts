import { destination, type Logger as PinoLogger, pino, stdTimeFunctions } from 'pino';

/** How much is logged, from nothing to everything. */
export const LOG_LEVELS = ['silent', 'error', 'warn', 'info', 'debug'] as const;
export type LogLevel = (typeof LOG_LEVELS)[number];

/** Writes one JSON object a line. */
export type Logger = Pick<PinoLogger, 'error' | 'warn' | 'info' | 'debug'>;

/**
 * A log of JSON lines with a time in UTC, a level in words and the process's number, on standard error unless another
 * place is given. Each line is written before the call returns, so that a crash takes none with it.
 */
export function createLogger(level: LogLevel, to?: { write(line: string): void }): Logger {
  return pino(
    {
      level,
      base: { pid: process.pid },
      timestamp: stdTimeFunctions.isoTime,
      formatters: { level: (label) => ({ level: label }) },
    },
    to ?? destination({ dest: 2, sync: true }),
  );
}
