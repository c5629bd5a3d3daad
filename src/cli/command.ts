import type { Terminal } from './terminal.js';

/** An option of a command. */
export interface OptionSpec {
  /** Name of its value for the help; an option without one is a switch. */
  readonly value?: string;
  readonly help: string;
  /** One letter that stands for it: `-o`. */
  readonly short?: string;
  /** Environment variable that stands for it where it is left out; for a switch, `1` turns it on. */
  readonly env?: string;
  /** May be given several times; its values are joined by commas. */
  readonly many?: true;
}

/** An argument that has no name of its own. */
export interface ArgumentSpec {
  readonly name: string;
  readonly help: string;
  readonly optional?: true;
}

/** What was written behind a command's name, checked against its specification. */
export interface Given {
  /** Arguments in the order of the specification; left-out optional ones are missing at the end. */
  readonly arguments: readonly string[];
  /** Values of options by name; switches hold `true`. */
  readonly options: ReadonlyMap<string, string | true>;
  /** Options that came from the environment, with the variable's name. */
  readonly fromEnvironment?: ReadonlyMap<string, string>;
}

/** What an option is called in a message: `--port`, or the variable it came from. */
export const nameOf = (given: Given, option: string): string =>
  given.fromEnvironment?.get(option) ?? `--${option}`;

/** A command of the program: what it is called, what it takes and what it does. */
export interface Command {
  /** One word, or two (`knowledge check`). */
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** Paragraphs of its help page. */
  readonly about: readonly string[];
  readonly arguments: readonly ArgumentSpec[];
  readonly options: Readonly<Record<string, OptionSpec>>;
  /** Environment variables that have no option, since secrets are not typed on a command line; with their help. */
  readonly environment?: Readonly<Record<string, string>>;
  readonly examples: readonly string[];
  /** @returns the exit code; throws InputError for input that cannot be used */
  run(given: Given, terminal: Terminal): Promise<number>;
}

export const JSON_OPTION: Readonly<Record<string, OptionSpec>> = {
  json: { help: 'print JSON for programs instead of text' },
};

export const KNOWLEDGE_OPTION: Readonly<Record<string, OptionSpec>> = {
  knowledge: { value: 'DIR', help: 'use the knowledge base in this folder instead of the one supplied' },
};

/** Prints a value as JSON. */
export function printJson(terminal: Terminal, value: unknown): void {
  terminal.out(`${JSON.stringify(value, null, 2)}\n`);
}

/** The value of an option that has one. */
export function optionText(given: Given, name: string): string | undefined {
  const value = given.options.get(name);
  return value === true ? undefined : value;
}
