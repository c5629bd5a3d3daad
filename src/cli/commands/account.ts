import type { AccountRecord, Journal, Role } from '../../journal/index.js';
import { oneOf } from '../arguments.js';
import { type Command, type Given, JSON_OPTION, optionText, printJson } from '../command.js';
import { argumentError, EXIT } from '../errors.js';
import { ORIGIN_OPTION, originOf } from '../journal/origin.js';
import { COMMAND_LINE, DATA_OPTION, placeOf, withJournal, withPresentJournal } from '../journal/place.js';
import { layTable } from '../layout/table.js';
import type { Terminal } from '../terminal.js';

/** As in the journal, which is loaded only when it is opened; a test holds the two together. */
export const ROLE_WORDS = [
  'viewer',
  'supervisor',
  'quality',
  'trainer',
  'technologist',
  'administrator',
] as const satisfies readonly Role[];
const BY = { who: COMMAND_LINE } as const;
const NAME = { name: 'NAME', help: 'the name the person signs in with' } as const;
const ROLES_HELP = `with commas between: ${ROLE_WORDS.join(', ')}`;
const journals = () => import('../../journal/index.js');

/** `peelpoint account add NAME`. */
export const accountAdd: Command = {
  name: 'account add',
  summary: 'make an account; prints the one-time link that sets its password',
  about: [
    'Makes an account and prints a link with which the person sets a password. The link works once, for three days. From the first account on everybody has to sign in.',
    'This also works while the server runs, and is the way to make the first administrator of a server that others can reach.',
  ],
  arguments: [NAME],
  options: {
    shown: { value: 'NAME', help: 'the name as others see it; the name to sign in with when left out' },
    roles: { value: 'ROLES', help: ROLES_HELP },
    ...ORIGIN_OPTION,
    ...DATA_OPTION,
    ...JSON_OPTION,
  },
  examples: ['peelpoint account add ruth.berg --shown "Ruth Berg" --roles supervisor,quality'],
  run: async (given, terminal) => {
    const [name = ''] = given.arguments;
    const roles = readRoles(optionText(given, 'roles') ?? '', '--roles');
    const shown = optionText(given, 'shown');
    const { addAccount, makeLink } = await journals();
    const origin = originOf(given);
    const made = await withJournal(placeOf(given), async (journal) => {
      const account = await addAccount(
        journal,
        { name, roles, ...(shown === undefined ? {} : { shown }) },
        BY,
      );
      return makeLink(journal, account.id, BY);
    });
    tellLink(given, terminal, origin, made);
    return EXIT.done;
  },
};

/** `peelpoint account reset NAME`. */
export const accountReset: Command = {
  name: 'account reset',
  summary: 'print a new one-time link that sets the password of an account',
  about: [
    'For somebody who forgot the password, administrators too. Earlier links end; the old password holds until the new link is used.',
  ],
  arguments: [NAME],
  options: { ...ORIGIN_OPTION, ...DATA_OPTION, ...JSON_OPTION },
  examples: ['peelpoint account reset ruth.berg'],
  run: async (given, terminal) => {
    const [name = ''] = given.arguments;
    const { makeLink } = await journals();
    const origin = originOf(given);
    tellLink(
      given,
      terminal,
      origin,
      await withPresentJournal(placeOf(given), (journal) => makeLink(journal, name, BY)),
    );
    return EXIT.done;
  },
};

/** `peelpoint account list`. */
export const accountList: Command = {
  name: 'account list',
  summary: 'list the accounts with their roles',
  about: ['Lists who may sign in, with roles, state and when they last did.'],
  arguments: [],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: ['peelpoint account list'],
  run: async (given, terminal) => {
    const { listAccounts } = await journals();
    const accounts = await withJournal(placeOf(given), (journal) => listAccounts(journal));
    if (given.options.has('json')) printJson(terminal, { accounts });
    else if (accounts.length === 0)
      terminal.out(
        'There is no account. “peelpoint account add NAME --roles administrator” makes the first.\n',
      );
    else
      for (const line of layTable(
        ['Name', 'Shown as', 'Roles', 'State', 'Last signed in'].map((title) => ({ title })),
        accounts.map((one) => [
          one.name,
          one.shown,
          one.roles.join(', '),
          one.state === 'active' && !one.hasPassword && one.external === null ? 'no password yet' : one.state,
          one.signedInAt?.slice(0, 10) ?? '-',
        ]),
        terminal.width,
      ))
        terminal.out(`${line}\n`);
    return EXIT.done;
  },
};

/** A command that changes one account and says what became of it. */
const changing = (
  command: Pick<Command, 'name' | 'summary' | 'about' | 'examples'> & {
    readonly more?: Command['arguments'];
  },
  change: (given: Given) => (journal: Journal, account: AccountRecord) => Promise<AccountRecord>,
): Command => ({
  name: command.name,
  summary: command.summary,
  about: command.about,
  arguments: [NAME, ...(command.more ?? [])],
  options: { ...DATA_OPTION, ...JSON_OPTION },
  examples: command.examples,
  run: async (given, terminal) => {
    const [name = ''] = given.arguments;
    const work = change(given);
    const { findAccount } = await journals();
    const account = await withPresentJournal(placeOf(given), async (journal) =>
      work(journal, await findAccount(journal, name)),
    );
    if (given.options.has('json')) printJson(terminal, account);
    else
      terminal.out(
        `${account.name} is ${account.state === 'blocked' ? 'blocked' : 'active'}, as ${account.roles.join(', ')}.\n`,
      );
    return EXIT.done;
  },
});

/** `peelpoint account block NAME`. */
export const accountBlock = changing(
  {
    name: 'account block',
    summary: 'block an account and sign it out everywhere',
    about: ['Holds at once. What the person did stays; accounts are not deleted.'],
    examples: ['peelpoint account block ruth.berg'],
  },
  () => async (journal, account) =>
    (await journals()).changeAccount(journal, account.id, { state: 'blocked' }, BY),
);

/** `peelpoint account unblock NAME`. */
export const accountUnblock = changing(
  {
    name: 'account unblock',
    summary: 'let a blocked account sign in again',
    about: ['The old password holds again; “account reset” makes a link for a new one.'],
    examples: ['peelpoint account unblock ruth.berg'],
  },
  () => async (journal, account) =>
    (await journals()).changeAccount(journal, account.id, { state: 'active' }, BY),
);

/** `peelpoint account roles NAME ROLES`. */
export const accountRoles = changing(
  {
    name: 'account roles',
    summary: 'give an account other roles',
    about: [
      'The roles named take the place of those it had; its sessions end, so that they hold at once. What each role may do stands in docs/security.md.',
    ],
    more: [{ name: 'ROLES', help: ROLES_HELP }],
    examples: ['peelpoint account roles ruth.berg supervisor,quality'],
  },
  (given) => {
    const roles = readRoles(given.arguments[1] ?? '', 'ROLES');
    return async (journal, account) => (await journals()).changeAccount(journal, account.id, { roles }, BY);
  },
);

export const ACCOUNT_COMMANDS: readonly Command[] = [
  accountAdd,
  accountList,
  accountRoles,
  accountBlock,
  accountUnblock,
  accountReset,
];

function readRoles(text: string, field: string): Role[] {
  const words = text.split(/[\s,]+/).filter((word) => word !== '');
  if (words.length === 0) throw argumentError(field, '', 'is missing', ROLE_WORDS);
  return words.map((word) => oneOf(field, word, ROLE_WORDS, 'a role'));
}

function tellLink(
  given: Given,
  terminal: Terminal,
  origin: string,
  made: { readonly account: AccountRecord; readonly secret: string; readonly endsAt: string },
): void {
  const link = `${origin}/set-password?link=${made.secret}`;
  if (given.options.has('json')) {
    printJson(terminal, { account: made.account, link, until: made.endsAt });
    return;
  }
  terminal.out(`${link}\n`);
  terminal.err(
    `With this link ${made.account.shown} sets the password. It works once, until ${made.endsAt.slice(0, 16).replace('T', ' ')} UTC, and is not shown again. If the server is reached under another address, put that in front.\n`,
  );
}
