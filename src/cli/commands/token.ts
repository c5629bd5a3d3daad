import type { TokenRight } from '../../journal/index.js';
import { oneOf } from '../arguments.js';
import { type Command, JSON_OPTION, optionText, printJson } from '../command.js';
import { EXIT } from '../errors.js';
import { DATA_OPTION, placeOf, withJournal, withPresentJournal } from '../journal/place.js';
import { layTable } from '../layout/table.js';

const clients = () => import('../../journal/index.js');

/** As in the journal, which is loaded only when it is opened; a test holds the two together. */
export const RIGHTS = [
  'read',
  'cases',
  'corrections',
  'setups',
  'machine-data',
  'complaints',
  'mill',
  'knowledge',
  'courses',
] as const satisfies readonly TokenRight[];

/** `peelpoint token add NAME`. */
export const tokenAdd: Command = {
  name: 'token add',
  summary: 'make a token for a client of the API; it is shown once',
  about: [
    'Makes a token with which a program may use the API (see /api/v1/openapi.json). It is printed once and kept nowhere: the journal keeps only what is needed to recognise it. What the client writes stands under its name.',
  ],
  arguments: [{ name: 'NAME', help: 'what the client is called, for example “frame panel 3”' }],
  options: {
    rights: {
      value: 'RIGHTS',
      help: `what it may do, with commas between: ${RIGHTS.join(', ')}; read when left out`,
    },
    ...DATA_OPTION,
    ...JSON_OPTION,
  },
  examples: [
    'peelpoint token add "frame panel 3" --rights read,machine-data',
    'peelpoint token add laboratory',
  ],
  run: async (given, terminal) => {
    const [name = ''] = given.arguments;
    const rights = readRights(optionText(given, 'rights'));
    const { addToken } = await clients();
    const { token, secret } = await withJournal(placeOf(given), (journal) => addToken(journal, name, rights));
    if (given.options.has('json')) printJson(terminal, { ...token, secret });
    else {
      terminal.out(`${secret}\n`);
      terminal.err(
        `This is the token of “${token.name}”, which may: ${token.rights.join(', ')}. It is not shown again.\n`,
      );
    }
    return EXIT.done;
  },
};

/** `peelpoint token list`. */
export const tokenList: Command = {
  name: 'token list',
  summary: 'list the clients of the API',
  about: [
    'Lists the tokens by name, with when they were made, last used and revoked. The tokens themselves are not kept.',
  ],
  arguments: [],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: ['peelpoint token list'],
  run: async (given, terminal) => {
    const { listTokens } = await clients();
    const tokens = await withPresentJournal(placeOf(given), (journal) => listTokens(journal));
    if (given.options.has('json')) {
      printJson(terminal, { tokens });
      return EXIT.done;
    }
    if (tokens.length === 0) terminal.out('There is no token. “peelpoint token add NAME” makes one.\n');
    else
      for (const line of layTable(
        ['Name', 'May', 'Made', 'Last used', 'Revoked'].map((title) => ({ title })),
        tokens.map((one) => [
          one.name,
          one.rights.join(' '),
          day(one.madeAt),
          day(one.usedAt),
          day(one.revokedAt),
        ]),
        terminal.width,
      ))
        terminal.out(`${line}\n`);
    return EXIT.done;
  },
};

/** `peelpoint token revoke NAME`. */
export const tokenRevoke: Command = {
  name: 'token revoke',
  summary: 'end a token',
  about: ['Ends a token at once; what its client has written stays.'],
  arguments: [{ name: 'NAME', help: 'the name of the client, or the id of the token' }],
  options: { ...DATA_OPTION },
  examples: ['peelpoint token revoke "frame panel 3"'],
  run: async (given, terminal) => {
    const [name = ''] = given.arguments;
    const { revokeToken } = await clients();
    const token = await withPresentJournal(placeOf(given), (journal) => revokeToken(journal, name));
    terminal.out(`The token of “${token.name}” is revoked.\n`);
    return EXIT.done;
  },
};

function readRights(text: string | undefined): TokenRight[] {
  const words = (text ?? 'read').split(/[\s,]+/).filter((word) => word !== '');
  return words.map((word) => oneOf('--rights', word, RIGHTS, 'a right of a token'));
}

const day = (instant: string | null): string => (instant === null ? '-' : instant.slice(0, 10));
