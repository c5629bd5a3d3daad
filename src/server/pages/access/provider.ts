import { type Context, Hono } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import {
  accountForOutsider,
  FLOW_MINUTES,
  type Journal,
  JournalError,
  noteAudit,
  startFlow,
  takeFlow,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import { localPath } from '../../access/local-path.js';
import { openProvider, type Provider } from '../../access/provider.js';
import { type AccessSettings, isSecure } from '../../access/settings.js';
import { errorPage } from '../../errors.js';
import type { Site } from '../../site.js';
import { viewSignIn } from '../../views/access/sign-in.js';
import { originOf } from './accounts.js';
import { atAccounts, signIn } from './sign-in.js';

const PATH = '/sign-in/provider';
const COOKIE = 'sign-in-flow';

/** Signing in at an outside provider and coming back from there. */
export function providerPages(site: Site, settings: AccessSettings): Hono {
  let provider: Provider | undefined;
  const redirectUri = (c: Context) => `${originOf(c, settings)}${PATH}/back`;
  const cookie = { path: PATH, httpOnly: true, sameSite: 'Lax', secure: isSecure(settings) } as const;

  const failed = async (c: Context, journal: Journal, words: string, why: string): Promise<Response> => {
    site.log(`sign-in elsewhere: ${why}`);
    await noteAudit(journal, {
      kind: 'sign-in',
      subject: '',
      action: 'elsewhere-failed',
      outcome: 'failed',
      data: { why: why.slice(0, 200) },
    });
    const problems = [{ name: 'name', message: words, allowed: '' }];
    return c.html(
      site.page(
        'sign-in',
        { title: say('access.sign-in'), section: 'account' },
        viewSignIn({ lead: '', next: '/', problems, provider: settings.provider }),
      ),
      403,
    );
  };

  return new Hono()
    .get(
      PATH,
      atAccounts(site, async (c, journal) => {
        if (settings.provider === undefined) return errorPage(c, site, 404);
        provider ??= openProvider(settings.provider);
        try {
          const { url, ...begun } = await provider.begin(redirectUri(c));
          const secret = await startFlow(journal, { ...begun, next: localPath(c.req.query('next')) });
          setCookie(c, COOKIE, secret, { ...cookie, maxAge: FLOW_MINUTES * 60 });
          return c.redirect(url, 303);
        } catch (error) {
          if (error instanceof JournalError) throw error;
          const words = say('access.provider-away', { provider: settings.provider.name });
          return failed(c, journal, words, sayError(error));
        }
      }),
    )
    .get(
      `${PATH}/back`,
      atAccounts(site, async (c, journal) => {
        if (settings.provider === undefined) return errorPage(c, site, 404);
        provider ??= openProvider(settings.provider);
        const flow = await takeFlow(journal, getCookie(c, COOKIE) ?? '');
        deleteCookie(c, COOKIE, cookie);
        if (flow === undefined) return failed(c, journal, say('access.provider-no-flow'), 'no flow');
        try {
          const back = new URL(`${redirectUri(c)}${new URL(c.req.url).search}`);
          const account = await accountForOutsider(journal, await provider.finish(back, flow));
          await signIn(c, journal, settings, account, settings.provider.name);
          return c.redirect(flow.next, 303);
        } catch (error) {
          if (error instanceof JournalError && error.fault === 'refused')
            return failed(c, journal, error.message, error.message);
          if (error instanceof JournalError) throw error;
          return failed(
            c,
            journal,
            say('access.provider-failed', { provider: settings.provider.name }),
            sayError(error),
          );
        }
      }),
    );
}

/** What went wrong, without the code or tokens that an answer carries. */
const sayError = (error: unknown): string =>
  error instanceof Error ? `${error.name}: ${error.message}`.slice(0, 300) : 'unknown';
