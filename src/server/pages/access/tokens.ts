import { type Context, Hono } from 'hono';
import {
  addToken,
  type Journal,
  listTokens,
  revokeToken,
  TOKEN_RIGHTS,
  type TokenRight,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { pathPart, readSent, writeSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { TOKEN_RIGHT_WORDS } from '../../views/access/words.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayDay, sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { atAccounts } from './sign-in.js';

const shell = () => ({ title: say('access.tokens'), section: 'account' }) as const;

/** Tokens for programs that use the API. */
export function tokenPages(site: Site): Hono {
  const fields = (typed: Typed, problems: readonly FormProblem[]) => {
    const make = startFields(typed, problems);
    return [
      make.text('name', say('accounts.client-name'), {
        hint: say('accounts.client-hint'),
      }),
      make.checkboxes(
        'rights',
        say('accounts.client-may'),
        TOKEN_RIGHTS.map((right): [string, string] => [right, TOKEN_RIGHT_WORDS[right]]),
        { chosen: ['read'] },
      ),
    ];
  };

  const show = async (
    c: Context,
    journal: Journal,
    sent: { typed: Typed; problems: readonly FormProblem[] } = { typed: new Map(), problems: [] },
  ): Promise<Response> => {
    const tokens = await listTokens(journal);
    return c.html(
      site.page('tokens', shell(), {
        tabs: accessLinks(),
        heading: say('accounts.tokens-heading'),
        lead: say('accounts.tokens-lead'),
        form: viewForm(
          '/tokens',
          say('accounts.make-token'),
          fields(sent.typed, sent.problems),
          sent.problems,
        ),
        table: viewTable(
          'tokens',
          say('access.tokens'),
          [
            say('accounts.client'),
            say('accounts.may'),
            say('access.made'),
            say('accounts.last-used'),
            say('accounts.state'),
          ],
          tokens.map((one) => [
            one.name,
            one.rights.join(', '),
            one.madeBy === '' ? sayDay(one.madeAt) : `${sayDay(one.madeAt)}, ${one.madeBy}`,
            one.usedAt === null ? say('accounts.never') : sayMoment(one.usedAt),
            one.revokedAt === null
              ? say('accounts.in-use')
              : say('accounts.revoked', { when: sayDay(one.revokedAt) }),
          ]),
          say('accounts.none'),
        ),
        revoke: tokens
          .filter((one) => one.revokedAt === null)
          .map((one) => ({
            action: `/tokens/${one.id}/revoke`,
            text: say('accounts.revoke', { name: one.name }),
          })),
      }),
      sent.problems.length > 0 ? 422 : 200,
    );
  };

  return new Hono()
    .get(
      '/tokens',
      atAccounts(site, (c, journal) => show(c, journal)),
    )
    .post(
      '/tokens',
      atAccounts(site, async (c, journal) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        const name = reader.needed('name', say('accounts.client-name'));
        const rights = (typed.get('rights') ?? []) as TokenRight[];
        if (rights.length === 0)
          reader.problems.push({
            name: 'rights',
            message: say('accounts.no-right'),
            allowed: say('accounts.at-least-one'),
          });
        const written = await writeSent(fields(typed, []), reader.problems, () =>
          addToken(journal, name, rights, 'administrator'),
        );
        if (!written.ok) return show(c, journal, { typed, problems: written.problems });
        return c.html(
          site.page('secret', shell(), {
            tabs: accessLinks(),
            heading: say('accounts.token-of', { name: written.value.token.name }),
            lead: say('accounts.not-again'),
            secret: written.value.secret,
            notes: [say('accounts.token-sent')],
            backHref: '/tokens',
            backText: say('accounts.all-tokens'),
          }),
        );
      }),
    )
    .post(
      '/tokens/:id/revoke',
      atAccounts(site, async (c, journal) => {
        await writeSent(fields(new Map(), []), [], () =>
          revokeToken(journal, pathPart(c, 'id'), 'administrator'),
        );
        return c.redirect('/tokens', 303);
      }),
    );
}
