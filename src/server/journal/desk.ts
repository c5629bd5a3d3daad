import { randomUUID } from 'node:crypto';
import type { Context } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import {
  type By,
  isPlaceFault,
  type Journal,
  JournalError,
  type JournalFault,
  JournalInputError,
  readMillZone,
  StaleError,
} from '../../journal/index.js';
import { type KeysOf, say } from '../../language/say.js';
import { sourceText } from '../../language/source-text.js';
import type { FormField, JournalHead, StaleView } from '../../templates/journal-models.js';
import { signedIn } from '../access/requester.js';
import { errorPage } from '../errors.js';
import { keptForm } from '../kept-form.js';
import type { Site } from '../site.js';
import { type FormProblem, formProblems, type Typed, typedFrom } from '../views/journal/form.js';
import type { JournalState } from './keeper.js';
import { withMillZone } from './mill-clock.js';

/** What a journal page works with. */
export interface Desk {
  readonly journal: Journal;
  readonly demo: boolean;
  /** The person who is signed in, else the name last given in a form on this machine; empty at first. */
  readonly who: string;
}

const NAME_COOKIE = 'name';
const A_YEAR = 365 * 86_400;

/** A handler that gets the open journal; without one the page says why, and what to do. */
export function atDesk(
  site: Site,
  handle: (c: Context, desk: Desk) => Promise<Response>,
): (c: Context) => Promise<Response> {
  return async (c) => {
    const state = await site.journal.state();
    if (state.kind !== 'open') return awayPage(c, site, state);
    try {
      const desk = {
        journal: state.journal,
        demo: state.demo,
        who: signedIn()?.shown ?? (getCookie(c, NAME_COOKIE) ?? '').slice(0, 200),
      };
      // Awaited inside the zone, so that whatever the page says or reads later is in it too.
      return await withMillZone(await readMillZone(state.journal), async () => await handle(c, desk));
    } catch (error) {
      return answerJournalError(c, site, error);
    }
  };
}

/** The page for what the journal refused or could not do. Throws on what is no error of the journal. */
export async function answerJournalError(c: Context, site: Site, error: unknown): Promise<Response> {
  if (!(error instanceof JournalError)) throw error;
  if (error.fault === 'not-found') return errorPage(c, site, 404, '', error.words);
  if (error instanceof JournalInputError) return errorPage(c, site, 400, '', error.words);
  if (!isPlaceFault(error)) throw error;
  site.log(`journal: ${error.message}`);
  return awayPage(c, site, { kind: 'closed', fault: error.fault, why: () => error.words });
}

/** Seconds after which a program may try again. */
const RETRY_AFTER = '5';

const STEPS: Readonly<Partial<Record<JournalFault, readonly (KeysOf<'away'> & `step-${string}`)[]>>> = {
  locked: ['step-locked'],
  corrupt: ['step-corrupt', 'step-corrupt-keep'],
  'read-only': ['step-read-only'],
  missing: ['step-missing'],
  newer: ['step-newer'],
  unreachable: ['step-unreachable'],
  disk: ['step-disk', 'step-disk-copy'],
  full: ['step-full'],
};

/** The page that stands in when the journal cannot be used. */
export async function awayPage(
  c: Context,
  site: Site,
  state: Exclude<JournalState, { kind: 'open' }>,
): Promise<Response> {
  const kept = await keptForm(c);
  if (state.kind === 'filling') {
    if (kept === undefined) c.header('Refresh', '3');
    return c.html(
      site.page(
        'journal-away',
        { title: say('kept.filling-title'), section: 'journal' },
        {
          heading: say('kept.filling'),
          text: say('kept.filling-text', { progress: sourceText(state.progress.words) }),
          steps: [],
          percent: `${Math.round(state.progress.share * 100)}\u00a0%`,
          share: state.progress.share,
          // Looking again by itself would take away what was typed.
          waiting: kept === undefined,
          kept,
        },
      ),
      kept === undefined ? 200 : 503,
    );
  }
  const none = state.kind === 'none';
  if (!none) c.header('Retry-After', RETRY_AFTER);
  return c.html(
    site.page(
      'journal-away',
      { title: say('kept.away-title'), section: 'journal' },
      {
        heading: say(none ? 'kept.none' : 'kept.away'),
        text: none ? say('kept.none-text') : say('away.bench-works', { why: state.why() }),
        steps: none
          ? [say('away.start-with-folder')]
          : [...(STEPS[state.fault] ?? []).map((step) => say(`away.${step}`)), say('away.open-again')],
        percent: '',
        share: 0,
        waiting: false,
        kept,
      },
    ),
    503,
  );
}

const TABS = [
  ['/journal', 'tab-journal'],
  ['/frames', 'tab-frames'],
  ['/cases', 'tab-cases'],
  ['/complaints', 'tab-complaints'],
  ['/quality', 'tab-quality'],
  ['/learning', 'tab-learning'],
  ['/parts', 'tab-parts'],
] as const;

/** What a journal page begins with. */
export const viewHead = (desk: Desk, current: (typeof TABS)[number][0]): JournalHead => ({
  demo: desk.demo,
  tabs: TABS.map(([href, text]) => ({ href, text: say(`record.${text}`), current: href === current })),
});

/** A part of the address. */
export const pathPart = (c: Context, name: string): string => c.req.param(name) ?? '';

/** What was sent with a form, files apart. Whoever is signed in has no other name, whatever was sent. */
export async function readSent(
  c: Context,
): Promise<{ readonly typed: Typed; readonly files: ReadonlyMap<string, File> }> {
  const params = new URLSearchParams();
  const files = new Map<string, File>();
  for (const [name, value] of await c.req.formData()) {
    if (typeof value === 'string') params.append(name, value);
    else if (value.size > 0) files.set(name, value);
  }
  const person = signedIn();
  if (person !== undefined) params.set('who', person.shown);
  return { typed: typedFrom(params), files };
}

/** Who writes and a key that makes a form sent twice harmless. */
export function byFrom(typed: Typed, at?: string): By {
  const key = typed.get('key')?.at(-1) ?? '';
  return {
    who: (typed.get('who')?.at(-1) ?? '').trim(),
    ...(at === undefined ? {} : { at }),
    ...(/^[0-9a-f-]{36}$/.test(key) ? { key: `form-${key}` } : {}),
  };
}

/** A new key for a form. */
export const newKey = (): string => randomUUID();

/** Remembers the name for the next form. */
export function rememberName(c: Context, typed: Typed): void {
  const name = (typed.get('who')?.at(-1) ?? '').trim().slice(0, 200);
  if (name !== '' && signedIn() === undefined)
    setCookie(c, NAME_COOKIE, name, { path: '/', httpOnly: true, sameSite: 'Lax', maxAge: A_YEAR });
}

/** What came of a write. */
export type Written<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly FormProblem[]; readonly stale?: StaleError };

/**
 * Writes what a form sent. What the journal refuses comes back as problems at the form's controls, so that nothing typed
 * is lost; faults of the journal itself are thrown on.
 * @param controls of the form, to put problems to
 */
export async function writeSent<T>(
  controls: readonly FormField[],
  problems: readonly FormProblem[],
  work: () => Promise<T>,
): Promise<Written<T>> {
  if (problems.length > 0) return { ok: false, problems };
  const first = controls.find((control) => control.kind !== 'hidden')?.name ?? '';
  try {
    return { ok: true, value: await work() };
  } catch (error) {
    if (error instanceof StaleError) return { ok: false, problems: [], stale: error };
    if (error instanceof JournalInputError)
      return { ok: false, problems: formProblems(error.problems, controls) };
    if (error instanceof JournalError && ['refused', 'not-found'].includes(error.fault))
      return { ok: false, problems: [{ name: first, message: error.words, allowed: '' }] };
    if (error instanceof JournalError && error.fault === 'reused-key')
      return {
        ok: false,
        problems: [
          {
            name: first,
            message: say('away.sent-before'),
            allowed: '',
          },
        ],
      };
    throw error;
  }
}

/** What a stale form shows: that somebody was quicker, and what they did. */
export const viewStale = (stale: StaleError, since: readonly string[]): StaleView => ({
  text: `${stale.words}.`,
  since,
});
