import { type Context, Hono } from 'hono';
import {
  type AccountRecord,
  addAccount,
  changeAccount,
  findAccount,
  type Journal,
  JournalError,
  listAccounts,
  makeLink,
  ROLES,
  type Role,
} from '../../../journal/index.js';
import { signedIn } from '../../access/requester.js';
import type { AccessSettings } from '../../access/settings.js';
import { errorPage } from '../../errors.js';
import { pathPart, readSent, writeSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { ROLE_WORDS } from '../../views/access/words.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { atAccounts } from './sign-in.js';

const SHELL = { title: 'Accounts', section: 'account' } as const;
const NONE: Sent = { typed: new Map(), problems: [] };

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
}

const ROLE_LIST = ROLES.map((role) => ({ name: ROLE_WORDS[role].name, about: ROLE_WORDS[role].about }));
const stateWords = (account: AccountRecord) =>
  account.state === 'blocked'
    ? 'blocked'
    : account.hasPassword || account.external !== null
      ? 'active'
      : 'waits for the password to be set';

/** Where a browser reaches this server. */
export const originOf = (c: Context, { publicOrigin }: AccessSettings): string =>
  publicOrigin ?? new URL(c.req.url).origin;

/** The administrator's pages: accounts made, changed, blocked, and the links that set passwords. */
export function accountPages(site: Site, settings: AccessSettings): Hono {
  const by = () => ({ who: signedIn()?.shown ?? 'administrator' });

  const fields = (sent: Sent, old: AccountRecord | undefined) => {
    const make = startFields(sent.typed, sent.problems);
    return [
      ...(old === undefined
        ? [
            make.text('name', 'Name to sign in with', {
              hint: 'Letters a–z, figures and . _ @ -, for example ruth.berg. Not changed later.',
            }),
          ]
        : []),
      make.text('shown', 'Name as others see it', {
        value: old?.shown ?? '',
        hint: 'What this person does stands under this name.',
      }),
      make.checkboxes(
        'roles',
        'Roles',
        ROLES.map((role): [string, string] => [role, ROLE_WORDS[role].name]),
        { chosen: old?.roles ?? ['supervisor'] },
      ),
    ];
  };

  const showSecret = (c: Context, account: AccountRecord, secret: string, endsAt: string): Response =>
    c.html(
      site.page('secret', SHELL, {
        tabs: accessLinks(),
        heading: `One-time link for ${account.shown}`,
        lead: `With this link ${account.shown} sets the password and is signed in. It works once, until ${sayMoment(endsAt)}, and is not shown again.`,
        secret: `${originOf(c, settings)}/set-password?link=${secret}`,
        notes: ['Hand it over yourself; whoever has it can sign in as this person.'],
        backHref: '/accounts',
        backText: 'All accounts',
      }),
    );

  const showNew = (c: Context, sent: Sent = NONE): Response => {
    const form = viewForm('/accounts/new', 'Make the account', fields(sent, undefined), sent.problems);
    return c.html(
      site.page('account', SHELL, {
        tabs: accessLinks(),
        heading: 'Make an account',
        lead: 'You then get a one-time link with which the person sets a password.',
        facts: [],
        form,
        roles: ROLE_LIST,
        buttons: [],
        errors: form.errors,
      }),
      sent.problems.length > 0 ? 422 : 200,
    );
  };

  const showOne = (c: Context, account: AccountRecord, sent: Sent = NONE): Response => {
    const path = `/accounts/${account.id}`;
    const form = viewForm(path, 'Keep the changes', fields(sent, account), sent.problems);
    const blocked = account.state === 'blocked';
    return c.html(
      site.page('account', SHELL, {
        tabs: accessLinks(),
        heading: account.shown,
        lead: 'Whoever is signed in with this account is signed out when its roles change.',
        facts: [
          { term: 'Name to sign in with', text: account.name, href: '' },
          { term: 'State', text: stateWords(account), href: '' },
          {
            term: 'Last signed in',
            text: account.signedInAt === null ? 'never' : sayMoment(account.signedInAt),
            href: '',
          },
          { term: 'Made', text: `${sayMoment(account.madeAt)}, by ${account.madeBy}`, href: '' },
          { term: 'Changed', text: `${sayMoment(account.changedAt)}, by ${account.changedBy}`, href: '' },
          {
            term: 'What was done',
            text: 'in the audit log',
            href: `/audit?q=${encodeURIComponent(account.shown)}`,
          },
        ],
        form,
        roles: ROLE_LIST,
        buttons: [
          ...(blocked
            ? []
            : [
                {
                  action: `${path}/link`,
                  text: 'Make a one-time link',
                  note: 'For somebody who has no password yet, or forgot it. Earlier links end; the old password holds until the link is used.',
                },
              ]),
          {
            action: `${path}/state`,
            text: blocked ? 'Unblock' : 'Block',
            note: blocked
              ? 'The old password holds again.'
              : 'Signs the person out everywhere at once. What they did stays. Accounts are not deleted.',
          },
        ],
        errors: form.errors,
      }),
      sent.problems.length > 0 ? 422 : 200,
    );
  };

  const atOne = (handle: (c: Context, journal: Journal, account: AccountRecord) => Promise<Response>) =>
    atAccounts(site, async (c, journal) => {
      try {
        return await handle(c, journal, await findAccount(journal, pathPart(c, 'id')));
      } catch (error) {
        if (error instanceof JournalError && error.fault === 'not-found')
          return errorPage(c, site, 404, '', error.message);
        throw error;
      }
    });

  const rolesIn = (typed: Typed) => (typed.get('roles') ?? []) as Role[];

  return new Hono()
    .get(
      '/accounts',
      atAccounts(site, async (c, journal) => {
        const accounts = await listAccounts(journal);
        return c.html(
          site.page('accounts', SHELL, {
            tabs: accessLinks(),
            heading: 'Accounts',
            lead: 'Who may use Peelpoint, and what for.',
            actions: [{ href: '/accounts/new', text: 'Make an account' }],
            table: viewTable(
              'accounts',
              'Accounts',
              ['Name', 'Signs in as', 'Roles', 'State', 'Last signed in'],
              accounts.map((one) => [
                { text: one.shown, href: `/accounts/${one.id}` },
                one.name,
                one.roles.map((role) => ROLE_WORDS[role].name).join(', '),
                stateWords(one),
                one.signedInAt === null ? '–' : sayMoment(one.signedInAt),
              ]),
              'There is none.',
            ),
          }),
        );
      }),
    )
    .get(
      '/accounts/new',
      atAccounts(site, async (c) => showNew(c)),
    )
    .post(
      '/accounts/new',
      atAccounts(site, async (c, journal) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const name = reader.needed('name', 'Name to sign in with');
        const shown = reader.needed('shown', 'Name as others see it');
        if (rolesIn(typed).length === 0)
          reader.problems.push({ name: 'roles', message: 'Roles: none is chosen.', allowed: 'at least one' });
        const written = await writeSent(fields({ typed, problems: [] }, undefined), reader.problems, () =>
          addAccount(journal, { name, shown, roles: rolesIn(typed) }, by()),
        );
        if (!written.ok) return showNew(c, { typed, problems: written.problems });
        const { secret, endsAt } = await makeLink(journal, written.value.id, by());
        return showSecret(c, written.value, secret, endsAt);
      }),
    )
    .get(
      '/accounts/:id',
      atOne(async (c, _, account) => showOne(c, account)),
    )
    .post(
      '/accounts/:id',
      atOne(async (c, journal, account) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const shown = reader.needed('shown', 'Name as others see it');
        if (rolesIn(typed).length === 0)
          reader.problems.push({ name: 'roles', message: 'Roles: none is chosen.', allowed: 'at least one' });
        const written = await writeSent(fields({ typed, problems: [] }, account), reader.problems, () =>
          changeAccount(journal, account.id, { shown, roles: rolesIn(typed) }, by()),
        );
        return written.ok ? c.redirect('/accounts', 303) : showOne(c, account, { typed, ...written });
      }),
    )
    .post(
      '/accounts/:id/state',
      atOne(async (c, journal, account) => {
        const written = await writeSent(fields(NONE, account), [], () =>
          changeAccount(
            journal,
            account.id,
            { state: account.state === 'blocked' ? 'active' : 'blocked' },
            by(),
          ),
        );
        return written.ok
          ? c.redirect(`/accounts/${account.id}`, 303)
          : showOne(c, account, { typed: new Map(), problems: written.problems });
      }),
    )
    .post(
      '/accounts/:id/link',
      atOne(async (c, journal, account) => {
        const made = await makeLink(journal, account.id, by());
        return showSecret(c, account, made.secret, made.endsAt);
      }),
    );
}
