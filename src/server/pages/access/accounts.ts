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
import { say } from '../../../language/say.js';
import { signedIn } from '../../access/requester.js';
import type { AccessSettings } from '../../access/settings.js';
import { errorPage } from '../../errors.js';
import { pathPart, readSent, writeSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { ROLE_ABOUT, ROLE_NAMES } from '../../views/access/words.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { atAccounts } from './sign-in.js';

const shell = () => ({ title: say('access.accounts'), section: 'account' }) as const;
const NONE: Sent = { typed: new Map(), problems: [] };

interface Sent {
  readonly typed: Typed;
  readonly problems: readonly FormProblem[];
}

const roleList = () => ROLES.map((role) => ({ name: ROLE_NAMES[role], about: ROLE_ABOUT[role] }));
const stateWords = (account: AccountRecord) =>
  account.state === 'blocked'
    ? say('accounts.blocked')
    : account.hasPassword || account.external !== null
      ? say('accounts.active')
      : say('accounts.waits');

const noRole = (): FormProblem => ({
  name: 'roles',
  message: say('accounts.no-role'),
  allowed: say('accounts.at-least-one'),
});

/** When something was done, and by whom. */
export const whenBy = (when: string, who: string): string =>
  say('access.when-by', { when: sayMoment(when), who });

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
            make.text('name', say('access.name-label'), {
              hint: say('accounts.name-hint'),
            }),
          ]
        : []),
      make.text('shown', say('accounts.shown'), {
        value: old?.shown ?? '',
        hint: say('accounts.shown-hint'),
      }),
      make.checkboxes(
        'roles',
        say('access.roles'),
        ROLES.map((role): [string, string] => [role, ROLE_NAMES[role]]),
        { chosen: old?.roles ?? ['supervisor'] },
      ),
    ];
  };

  const showSecret = (c: Context, account: AccountRecord, secret: string, endsAt: string): Response =>
    c.html(
      site.page('secret', shell(), {
        tabs: accessLinks(),
        heading: say('accounts.link-for', { name: account.shown }),
        lead: say('accounts.link-lead', { name: account.shown, until: sayMoment(endsAt) }),
        secret: `${originOf(c, settings)}/set-password?link=${secret}`,
        notes: [say('accounts.link-hand')],
        backHref: '/accounts',
        backText: say('accounts.all'),
      }),
    );

  const showNew = (c: Context, sent: Sent = NONE): Response => {
    const form = viewForm('/accounts/new', say('accounts.make-it'), fields(sent, undefined), sent.problems);
    return c.html(
      site.page('account', shell(), {
        tabs: accessLinks(),
        heading: say('accounts.make'),
        lead: say('accounts.make-lead'),
        facts: [],
        form,
        roles: roleList(),
        buttons: [],
        errors: form.errors,
      }),
      sent.problems.length > 0 ? 422 : 200,
    );
  };

  const showOne = (c: Context, account: AccountRecord, sent: Sent = NONE): Response => {
    const path = `/accounts/${account.id}`;
    const form = viewForm(path, say('accounts.keep'), fields(sent, account), sent.problems);
    const blocked = account.state === 'blocked';
    return c.html(
      site.page('account', shell(), {
        tabs: accessLinks(),
        heading: account.shown,
        lead: say('accounts.one-lead'),
        facts: [
          { term: say('access.name-label'), text: account.name, href: '' },
          { term: say('accounts.state'), text: stateWords(account), href: '' },
          {
            term: say('accounts.last-signed-in'),
            text: account.signedInAt === null ? say('accounts.never') : sayMoment(account.signedInAt),
            href: '',
          },
          { term: say('access.made'), text: whenBy(account.madeAt, account.madeBy), href: '' },
          { term: say('accounts.changed'), text: whenBy(account.changedAt, account.changedBy), href: '' },
          {
            term: say('accounts.what-done'),
            text: say('accounts.in-log'),
            href: `/audit?q=${encodeURIComponent(account.shown)}`,
          },
        ],
        form,
        roles: roleList(),
        buttons: [
          ...(blocked
            ? []
            : [
                {
                  action: `${path}/link`,
                  text: say('accounts.make-link'),
                  note: say('accounts.link-note'),
                },
              ]),
          {
            action: `${path}/state`,
            text: blocked ? say('accounts.unblock') : say('accounts.block'),
            note: blocked ? say('accounts.unblock-note') : say('accounts.block-note'),
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
          site.page('accounts', shell(), {
            tabs: accessLinks(),
            heading: say('access.accounts'),
            lead: say('accounts.lead'),
            actions: [{ href: '/accounts/new', text: say('accounts.make') }],
            table: viewTable(
              'accounts',
              say('access.accounts'),
              [
                say('accounts.name'),
                say('accounts.signs-in-as'),
                say('access.roles'),
                say('accounts.state'),
                say('accounts.last-signed-in'),
              ],
              accounts.map((one) => [
                { text: one.shown, href: `/accounts/${one.id}` },
                one.name,
                one.roles.map((role) => ROLE_NAMES[role]).join(', '),
                stateWords(one),
                one.signedInAt === null ? '–' : sayMoment(one.signedInAt),
              ]),
              say('accounts.none'),
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
        const name = reader.needed('name', say('access.name-label'));
        const shown = reader.needed('shown', say('accounts.shown'));
        if (rolesIn(typed).length === 0) reader.problems.push(noRole());
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
        const shown = reader.needed('shown', say('accounts.shown'));
        if (rolesIn(typed).length === 0) reader.problems.push(noRole());
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
