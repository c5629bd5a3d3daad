import { parseArgs } from 'node:util';
import { nearestWord } from '../rules/case/nearest-word.js';
import type { CaseProblem } from '../rules/case/types.js';
import { type Command, type Given, nameOf, type OptionSpec } from './command.js';
import { argumentError, InputError, shorten } from './errors.js';

/** Options every command has. */
export const COMMON_OPTIONS = { help: { help: 'show help for this command' } } as const;

/** Keeps `-40 C` from being taken for options: a negative number never is one. */
const SHIELD = '\u0000';
const shield = (word: string) => (/^-[\d.,]/.test(word) ? SHIELD + word : word);
const unshield = (word: string) => (word.startsWith(SHIELD) ? word.slice(1) : word);

/**
 * Reads the words behind a command's name.
 * @throws InputError naming every wrong word, what is allowed and the nearest
 */
export function readArguments(command: Command, words: readonly string[]): Given {
  const specs = new Map<string, OptionSpec>(Object.entries({ ...command.options, ...COMMON_OPTIONS }));
  const { tokens } = parseArgs({
    args: words.map(shield),
    options: {
      ...Object.fromEntries(
        [...specs].map(([name, spec]) => [
          name,
          {
            type: 'value' in spec ? ('string' as const) : ('boolean' as const),
            ...('short' in spec && spec.short !== undefined ? { short: spec.short } : {}),
          },
        ]),
      ),
      help: { type: 'boolean', short: 'h' },
    },
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const problems: CaseProblem[] = [];
  const say = (field: string, value: string, message: string, allowed: readonly string[]) =>
    problems.push({ field, value: shorten(value), message, allowed });
  const options = new Map<string, string | true>();
  const given: string[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') given.push(unshield(token.value));
    if (token.kind !== 'option') continue;
    const spec = specs.get(token.name);
    const name = token.rawName;
    if (spec === undefined) {
      const meant = nearestWord(token.name, specs.keys());
      const message = `is not an option of "${command.name}"`;
      say(
        name,
        '',
        meant === undefined ? message : `${message}; did you mean "--${meant}"?`,
        [...specs.keys()].map((key) => `--${key}`),
      );
    } else if (!('value' in spec)) {
      if (token.value === undefined) options.set(token.name, true);
      else say(name, token.value, 'is a switch and takes no value', [name]);
    } else if (token.value === undefined || (!token.inlineValue && /^-./.test(token.value))) {
      say(name, '', 'needs a value', [`${name} ${spec.value}`]);
    } else {
      const before = 'many' in spec && spec.many === true ? options.get(token.name) : undefined;
      const value = unshield(token.value);
      options.set(token.name, typeof before === 'string' ? `${before},${value}` : value);
    }
  }
  const fromEnvironment = takeEnvironment(specs, options, say);
  if (!options.has('help')) countArguments(command, given, say);
  if (problems.length > 0) {
    throw new InputError(
      'this command cannot be carried out',
      problems,
      `See "peelpoint help ${command.name}".`,
    );
  }
  return { arguments: given, options, fromEnvironment };
}

/** Fills in options that were left out and whose variable is set; what is typed goes before. */
function takeEnvironment(
  specs: ReadonlyMap<string, OptionSpec>,
  options: Map<string, string | true>,
  say: (field: string, value: string, message: string, allowed: readonly string[]) => void,
): ReadonlyMap<string, string> {
  const taken = new Map<string, string>();
  for (const [name, spec] of specs) {
    const value = spec.env === undefined ? '' : (process.env[spec.env] ?? '').trim();
    if (spec.env === undefined || value === '' || options.has(name)) continue;
    if (spec.value !== undefined) options.set(name, value);
    else if (value === '1') options.set(name, true);
    else if (value !== '0') say(spec.env, value, 'is a switch', ['1', '0']);
    taken.set(name, spec.env);
  }
  return taken;
}

function countArguments(
  command: Command,
  given: readonly string[],
  say: (field: string, value: string, message: string, allowed: readonly string[]) => void,
): void {
  command.arguments.forEach((spec, index) => {
    if (given[index] === undefined && spec.optional !== true) say(spec.name, '', 'is missing', [spec.help]);
  });
  const usage = [usageLine(command)];
  for (const extra of given.slice(command.arguments.length))
    say('argument', extra, `is one more than "${command.name}" takes`, usage);
}

/** `peelpoint diagnose FILE [options]`. */
export function usageLine(command: Command): string {
  const words = command.arguments.map((one) => (one.optional === true ? `[${one.name}]` : one.name));
  const options = Object.entries(command.options).map(([name, spec]) =>
    spec.value === undefined ? `[--${name}]` : `[--${name} ${spec.value}]`,
  );
  return ['peelpoint', command.name, ...words, ...options].join(' ');
}

/**
 * A whole number given as an option.
 * @throws InputError when it is none or outside the range (ends included)
 */
export function wholeNumber(
  given: Given,
  name: string,
  [least, most]: readonly [number, number],
): number | undefined {
  const text = given.options.get(name);
  if (text === undefined || text === true) return undefined;
  const value = /^\s*\d{1,9}\s*$/.test(text) ? Number(text) : Number.NaN;
  if (value >= least && value <= most) return value;
  throw argumentError(nameOf(given, name), text, 'is not allowed here', [
    `a whole number from ${least} to ${most}`,
  ]);
}

/**
 * One of a list of words given as an argument.
 * @throws InputError with the nearest of them when it is none
 */
export function oneOf<W extends string>(field: string, value: string, words: readonly W[], what: string): W {
  const found = words.find((word) => word === value.trim().toLowerCase());
  if (found !== undefined) return found;
  const meant = nearestWord(value, words);
  throw argumentError(
    field,
    value,
    `is not ${what}${meant === undefined ? '' : `; did you mean "${meant}"?`}`,
    words,
  );
}
