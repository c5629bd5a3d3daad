import { type Context, Hono } from 'hono';
import { casesOfReplay, listKnowledgeVersions, listReplays } from '../../../journal/index.js';
import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { KnowledgeVersionsPage } from '../../../templates/journal-models.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  readSent,
  rememberName,
  viewHead,
  writeSent,
} from '../../journal/desk.js';
import type { Site } from '../../site.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayHowUsed, versionsTable, viewKeptReplay } from '../../views/journal/knowledge-versions.js';
import { sayMoment } from '../../views/journal/moments.js';

const ADDRESS = '/learning/versions';

/** Versions of the knowledge: which is in use, how a new one does on the closed cases, and the word to use it all the same. */
export function knowledgeVersionPages(site: Site): Hono {
  const { gate } = site;
  const show = async (
    c: Context,
    desk: Desk,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ): Promise<Response> => {
    const state = gate.state();
    if (state.kind === 'trying') c.header('Refresh', '3');
    const versions = await listKnowledgeVersions(desk.journal);
    const replays = await listReplays(desk.journal, { most: 200 });
    const { version, since } = site.knowledgeState();
    const how = gate.how();
    const page: KnowledgeVersionsPage = {
      head: viewHead(desk, '/learning'),
      inUse:
        how === undefined
          ? say('versions.now', { version, when: sayMoment(since.toISOString()) })
          : say('versions.now-how', { version, when: sayMoment(since.toISOString()), how: sayHowUsed(how) }),
      trying:
        state.kind === 'trying'
          ? {
              words: say('versions.trying', {
                version: state.version,
                progress:
                  state.of === 0
                    ? say('versions.made-ready')
                    : say('versions.cases-done', { done: state.done, of: state.of }),
              }),
              share: state.of === 0 ? 0 : state.done / state.of,
            }
          : undefined,
      held:
        state.kind === 'held'
          ? {
              heading: say('versions.is-held', { version: state.version }),
              reasons: state.reasons.map((reason) =>
                sourceText(`${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`),
              ),
              accept: acceptForm(state.version, desk.who, sent),
              again: viewForm(`${ADDRESS}/again`, say('learning.again'), [
                startFields(new Map(), []).hidden('version', state.version),
              ]),
            }
          : undefined,
      replay: await shownReplay(c, desk, replays, state.kind === 'held' ? state.replay : undefined),
      versions: versionsTable(versions, replays, version.replace(/\+.*$/, '')),
      notes: notes(),
    };
    return c.html(
      site.page('knowledge-versions', { title: say('versions.title'), section: 'journal' }, page),
      sent === undefined ? 200 : 422,
    );
  };

  const acceptForm = (
    version: string,
    who: string,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ) => {
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    return viewForm(
      `${ADDRESS}/accept`,
      say('versions.use-anyway'),
      [
        make.hidden('version', version),
        make.hidden('key', newKey()),
        make.text('who', say('record.your-name'), { value: who, autocomplete: 'name' }),
        make.area('note', say('versions.why-used'), { hint: say('versions.why-hint') }),
      ],
      sent?.problems ?? [],
    );
  };

  const shownReplay = async (
    c: Context,
    desk: Desk,
    replays: Awaited<ReturnType<typeof listReplays>>,
    held: number | undefined,
  ): Promise<KnowledgeVersionsPage['replay']> => {
    const asked = /^\d{1,9}$/.test(c.req.query('replay') ?? '') ? Number(c.req.query('replay')) : held;
    const replay = asked === undefined ? replays[0] : replays.find((one) => one.number === asked);
    if (replay === undefined) return undefined;
    return viewKeptReplay(replay, await casesOfReplay(desk.journal, replay.number), site.knowledge);
  };

  const notes = (): string[] => {
    const { judgements } = site.knowledge;
    return [
      say('versions.note-trial', {
        score: localDecimal(String(judgements['replay-log-score'])),
        share: localDecimal(String(100 * judgements['replay-first-three'])),
      }),
      say('versions.note-sample', {
        newest: judgements['replay-newest'],
        random: judgements['replay-random'],
      }),
    ];
  };

  return new Hono()
    .get(
      ADDRESS,
      atDesk(site, (c, desk) => show(c, desk)),
    )
    .post(
      `${ADDRESS}/accept`,
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        reader.needed('who', say('record.your-name'));
        const note = reader.needed('note', say('versions.why-used'));
        const make = startFields(typed, []);
        const written = await writeSent(
          [make.text('who', say('record.your-name')), make.area('note', say('versions.why-used'))],
          reader.problems,
          () => gate.accept(desk.journal, reader.text('version'), byFrom(typed), note),
        );
        if (!written.ok) return show(c, desk, { typed, problems: written.problems });
        rememberName(c, typed);
        return c.redirect(ADDRESS, 303);
      }),
    )
    .post(
      `${ADDRESS}/again`,
      atDesk(site, async (c) => {
        gate.tryAgain();
        return c.redirect(ADDRESS, 303);
      }),
    );
}
