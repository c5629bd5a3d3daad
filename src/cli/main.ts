import { readArguments } from './arguments.js';
import { printJson } from './command.js';
import { commandHelp, overview, versionLine } from './commands/help.js';
import { COMMANDS } from './commands.js';
import { EXIT, InputError } from './errors.js';
import { findCommand } from './find-command.js';
import { printProblems } from './problem-page.js';
import { processTerminal } from './process-terminal.js';
import type { Terminal } from './terminal.js';

/**
 * Runs the command line.
 *
 * @param argv the words behind `peelpoint`
 * @returns the exit code: 0 done, 1 a check or test failed, 2 bad input, 70 a fault of the program; never throws
 */
export async function main(argv: readonly string[], terminal: Terminal = processTerminal()): Promise<number> {
  try {
    return await run(argv, terminal);
  } catch (error) {
    if (error instanceof InputError) {
      if (wantsJson(argv)) printJson(terminal, { problems: error.problems });
      printProblems(terminal, error);
      return EXIT.badInput;
    }
    const message = error instanceof Error ? error.message : String(error);
    terminal.err(`peelpoint: a fault in the program, sorry: ${message.split('\n')[0]}\n`);
    if ((process.env.PEELPOINT_DEBUG ?? '') !== '') {
      terminal.err(`${error instanceof Error ? error.stack : String(error)}\n`);
    } else terminal.err('With PEELPOINT_DEBUG=1 in the environment it says where.\n');
    return EXIT.fault;
  }
}

async function run(argv: readonly string[], terminal: Terminal): Promise<number> {
  const [first] = argv;
  if (first === undefined) {
    overview({ ...terminal, out: terminal.err, colour: false }, COMMANDS);
    return EXIT.badInput;
  }
  if (first === '--help' || first === '-h') {
    overview(terminal, COMMANDS);
    return EXIT.done;
  }
  if (first === '--version' || first === '-V') {
    terminal.out(`${versionLine()}\n`);
    return EXIT.done;
  }
  const { command, rest } = findCommand(argv, COMMANDS);
  const given = readArguments(command, rest);
  if (given.options.has('help')) {
    commandHelp(terminal, command);
    return EXIT.done;
  }
  return command.run(given, terminal);
}

const wantsJson = (argv: readonly string[]) => {
  const end = argv.indexOf('--');
  return (end < 0 ? argv : argv.slice(0, end)).includes('--json');
};
