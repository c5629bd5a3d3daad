import { readOrigin } from '../../server/access/settings.js';
import { type Given, nameOf, type OptionSpec, optionText } from '../command.js';
import { argumentError } from '../errors.js';

/** Under which address browsers see the server. */
export const ORIGIN_OPTION: Readonly<Record<string, OptionSpec>> = {
  'public-origin': {
    value: 'URL',
    help: 'the address under which browsers see the server, where it is not the one it listens on',
    env: 'PEELPOINT_PUBLIC_ORIGIN',
  },
};

/** The public origin given; undefined when there is none. @throws InputError */
export function publicOrigin(given: Given): string | undefined {
  const text = optionText(given, 'public-origin');
  if (text === undefined) return undefined;
  const origin = readOrigin(text);
  if (origin !== undefined) return origin;
  throw argumentError(nameOf(given, 'public-origin'), text, 'is not the address of a server', [
    'https://name or http://name, with a port where it has one, and nothing behind it',
  ]);
}

/** Where links lead: the public origin, else where the server is when nothing is said. */
export const originOf = (given: Given): string => publicOrigin(given) ?? 'http://127.0.0.1:4680';
