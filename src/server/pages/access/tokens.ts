import { type Context, Hono } from 'hono';
import {
  addToken,
  type Journal,
  listTokens,
  revokeToken,
  TOKEN_RIGHTS,
  type TokenRight,
} from '../../../journal/index.js';
import { pathPart, readSent, writeSent } from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { accessLinks } from '../../views/access/links.js';
import { TOKEN_RIGHT_WORDS } from '../../views/access/words.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayDay, sayMoment } from '../../views/journal/moments.js';
import { viewTable } from '../../views/journal/table.js';
import { atAccounts } from './sign-in.js';

const SHELL = { title: 'Tokens', section: 'account' } as const;

/** Tokens for programs that use the API. */
export function tokenPages(site: Site): Hono {
  const fields = (typed: Typed, problems: readonly FormProblem[]) => {
    const make = startFields(typed, problems);
    return [
      make.text('name', 'Name of the client', {
        hint: 'What it sends stands under this name. For example: frame panel 3.',
      }),
      make.checkboxes(
        'rights',
        'What it may do',
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
      site.page('tokens', SHELL, {
        tabs: accessLinks(),
        heading: 'Tokens for programs',
        lead: 'A program that uses the API sends its token with each request. The API describes itself at /api/v1/openapi.json.',
        form: viewForm('/tokens', 'Make a token', fields(sent.typed, sent.problems), sent.problems),
        table: viewTable(
          'tokens',
          'Tokens',
          ['Client', 'May', 'Made', 'Last used', 'State'],
          tokens.map((one) => [
            one.name,
            one.rights.join(', '),
            one.madeBy === '' ? sayDay(one.madeAt) : `${sayDay(one.madeAt)}, ${one.madeBy}`,
            one.usedAt === null ? 'never' : sayMoment(one.usedAt),
            one.revokedAt === null ? 'in use' : `revoked ${sayDay(one.revokedAt)}`,
          ]),
          'There is none.',
        ),
        revoke: tokens
          .filter((one) => one.revokedAt === null)
          .map((one) => ({ action: `/tokens/${one.id}/revoke`, text: `Revoke “${one.name}”` })),
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
        const name = reader.needed('name', 'Name of the client');
        const rights = (typed.get('rights') ?? []) as TokenRight[];
        if (rights.length === 0)
          reader.problems.push({
            name: 'rights',
            message: 'What it may do: nothing is chosen.',
            allowed: 'at least one',
          });
        const written = await writeSent(fields(typed, []), reader.problems, () =>
          addToken(journal, name, rights, 'administrator'),
        );
        if (!written.ok) return show(c, journal, { typed, problems: written.problems });
        return c.html(
          site.page('secret', SHELL, {
            tabs: accessLinks(),
            heading: `Token of “${written.value.token.name}”`,
            lead: 'It is not shown again.',
            secret: written.value.secret,
            notes: ['The program sends it as “Authorization: Bearer …”.'],
            backHref: '/tokens',
            backText: 'All tokens',
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
