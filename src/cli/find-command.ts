import { nearestWord } from '../rules/case/nearest-word.js';
import type { Command } from './command.js';
import { argumentError, type InputError } from './errors.js';

/**
 * The command that the words name, and the words behind it.
 * @throws InputError for a word that is no command, with the nearest that is
 */
export function findCommand(
  words: readonly string[],
  commands: readonly Command[],
): { readonly command: Command; readonly rest: readonly string[] } {
  for (const length of [2, 1]) {
    const name = words.slice(0, length).join(' ');
    const command = commands.find((one) => one.name === name);
    if (command !== undefined) return { command, rest: words.slice(length) };
  }
  throw unknownCommand(words, commands);
}

/** The commands of a group, `knowledge` for instance; none when the word names no group. */
export function commandsOfGroup(group: string, commands: readonly Command[]): readonly Command[] {
  return commands.filter((one) => one.name.startsWith(`${group} `));
}

function unknownCommand([first = '', second]: readonly string[], commands: readonly Command[]): InputError {
  const hint = 'See "peelpoint help".';
  const group = commandsOfGroup(first, commands);
  if (group.length > 0) {
    const names = group.map((one) => one.name.slice(first.length + 1));
    if (second === undefined) return argumentError(first, '', 'needs one word more', names, hint);
    return argumentError(first, second, `is not known here${suggest(second, names)}`, names, hint);
  }
  const names = [...new Set(commands.map((one) => one.name.split(' ')[0] ?? ''))];
  return argumentError('command', first, `is not a command${suggest(first, names)}`, names, hint);
}

function suggest(word: string, words: readonly string[]): string {
  const meant = nearestWord(word, words);
  return meant === undefined ? '' : `; did you mean "${meant}"?`;
}
