import { type Context, Hono } from 'hono';
import { casesOfReplay, listKnowledgeVersions, listReplays } from '../../../journal/index.js';
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
import { HOW_USED, versionsTable, viewKeptReplay } from '../../views/journal/knowledge-versions.js';
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
      inUse: `In use: version ${version}, since ${sayMoment(since.toISOString())}${how === undefined ? '' : ` (${HOW_USED[how]})`}.`,
      trying:
        state.kind === 'trying'
          ? {
              words: `Version ${state.version}: ${state.of === 0 ? 'being made ready' : `${state.done} of ${state.of} cases done`}. The old one stays in use meanwhile; this page looks again by itself.`,
              share: state.of === 0 ? 0 : state.done / state.of,
            }
          : undefined,
      held:
        state.kind === 'held'
          ? {
              heading: `Version ${state.version} is held back`,
              reasons: state.reasons.map((reason) => `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`),
              accept: acceptForm(state.version, desk.who, sent),
              again: viewForm(`${ADDRESS}/again`, 'Try it again', [
                startFields(new Map(), []).hidden('version', state.version),
              ]),
            }
          : undefined,
      replay: await shownReplay(c, desk, replays, state.kind === 'held' ? state.replay : undefined),
      versions: versionsTable(versions, replays, version.replace(/\+.*$/, '')),
      notes: notes(),
    };
    return c.html(
      site.page('knowledge-versions', { title: 'Versions of the knowledge', section: 'journal' }, page),
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
      'Use it all the same',
      [
        make.hidden('version', version),
        make.hidden('key', newKey()),
        make.text('who', 'Your name', { value: who, autocomplete: 'name' }),
        make.area('note', 'Why it may be used', { hint: 'Stands in the journal beside the version.' }),
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
      `A changed knowledge base is first tried on the closed cases whose cause was proved, while the version before stays in use. It is taken over by itself when the mean log score falls by no more than ${judgements['replay-log-score']} and the share of cases with the proved cause among the first three by no more than ${100 * judgements['replay-first-three']} in a hundred (judgement); else it is held back until somebody accepts it here or the files are mended.`,
      `When there are more closed cases, the newest ${judgements['replay-newest']} and ${judgements['replay-random']} of the others, drawn at random, stand for them all. Changes of plans, places, card or training material alone need no trial: no ranking rests on them.`,
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
        reader.needed('who', 'Your name');
        const note = reader.needed('note', 'Why it may be used');
        const make = startFields(typed, []);
        const written = await writeSent(
          [make.text('who', 'Your name'), make.area('note', 'Why it may be used')],
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
