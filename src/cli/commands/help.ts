import { readFileSync } from 'node:fs';
import { COMMON_OPTIONS, usageLine } from '../arguments.js';
import type { Command } from '../command.js';
import { EXIT } from '../errors.js';
import { commandsOfGroup, findCommand } from '../find-command.js';
import { startPage } from '../layout/page.js';
import type { Terminal } from '../terminal.js';

/** The command that shows help; `commands` are all the others. */
export function helpCommand(commands: readonly Command[]): Command {
  const help: Command = {
    name: 'help',
    summary: 'show the commands, or help for one of them',
    about: ['Shows what the commands do and what they take.'],
    arguments: [
      { name: 'COMMAND', help: 'the command to show, for example diagnose', optional: true },
      { name: 'WORD', help: 'its second word, for example check', optional: true },
    ],
    options: {},
    examples: ['peelpoint help diagnose', 'peelpoint help knowledge check'],
    run: async (given, terminal) => {
      const all = [...commands, help];
      const words = given.arguments;
      const [first] = words;
      const group = first === undefined || words.length > 1 ? [] : commandsOfGroup(first, all);
      if (first === undefined) overview(terminal, all);
      else if (group.length > 0) overview(terminal, group);
      else commandHelp(terminal, findCommand(words, all).command);
      return EXIT.done;
    },
  };
  return help;
}

/** Lists commands with one line each. */
export function overview(terminal: Terminal, commands: readonly Command[]): void {
  const page = startPage(terminal);
  page.text(
    'peelpoint – finds out why a rotor-spinning frame runs badly, what to look at next and what to change first.',
  );
  page.heading('Commands');
  page.table(
    [{ title: '' }, { title: '', wraps: true }],
    commands.map((command) => [
      [
        command.name,
        ...command.arguments.map((one) => (one.optional === true ? `[${one.name}]` : one.name)),
      ].join(' '),
      command.summary,
    ]),
    '  ',
  );
  page.line();
  page.text('"peelpoint help COMMAND" says more about each. A file name of - means standard input.');
  page.text(
    'Exit codes: 0 done, 1 a check or test failed, 2 the input cannot be used, 70 a fault in the program.',
  );
  page.print();
}

/** The help page of one command. */
export function commandHelp(terminal: Terminal, command: Command): void {
  const page = startPage(terminal);
  page.strong(usageLine(command), { first: '', rest: '    ' });
  page.line();
  for (const paragraph of command.about) page.text(paragraph);
  if (command.arguments.length > 0) {
    page.heading('Arguments');
    page.table(
      [{ title: '' }, { title: '', wraps: true }],
      command.arguments.map((one) => [one.name, one.help]),
      '  ',
    );
  }
  page.heading('Options');
  page.table(
    [{ title: '' }, { title: '', wraps: true }],
    Object.entries({ ...command.options, ...COMMON_OPTIONS }).map(([name, spec]) => [
      'value' in spec ? `--${name} ${spec.value}` : `--${name}`,
      'env' in spec ? `${spec.help} (or ${spec.env} in the environment)` : spec.help,
    ]),
    '  ',
  );
  if (command.environment !== undefined) {
    page.heading('Environment');
    page.table(
      [{ title: '' }, { title: '', wraps: true }],
      Object.entries(command.environment).map(([name, help]) => [name, help]),
      '  ',
    );
  }
  page.heading(command.examples.length === 1 ? 'Example' : 'Examples');
  for (const example of command.examples) page.line(`  ${example}`);
  page.print();
}

/** `peelpoint 0.1.0`. */
export function versionLine(): string {
  // Two folders up from here in the sources, and in the build as well.
  const file = new URL('../../../package.json', import.meta.url);
  const { version } = JSON.parse(readFileSync(file, 'utf8')) as { version: string };
  return `peelpoint ${version}`;
}
