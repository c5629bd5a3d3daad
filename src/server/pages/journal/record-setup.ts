import { type Context, Hono } from 'hono';
import {
  compareSetups,
  findFrame,
  LIFE_PARTS,
  recordSetup,
  type SetupInput,
  setupAt,
} from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { GivenSetup } from '../../../rules/case/types.js';
import { CHANGES, type Change } from '../../../rules/knowledge/vocabulary.js';
import { CHANGE_WORDS, sentenceCase } from '../../../rules/words.js';
import type { RecordPage } from '../../../templates/journal-models.js';
import { readState, writeQuery } from '../../bench-state.js';
import { readCaseForm } from '../../case-form.js';
import {
  atDesk,
  byFrom,
  type Desk,
  newKey,
  pathPart,
  readSent,
  rememberName,
  viewHead,
  writeSent,
} from '../../journal/desk.js';
import { cardOf } from '../../journal/live-frames.js';
import { loadNames } from '../../journal/names.js';
import type { Site } from '../../site.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayDifferences } from '../../views/journal/frame.js';
import { typedMoment } from '../../views/journal/moments.js';
import { describeSetup } from '../../views/setup-line.js';

/** Changes that do not show in the settings and are ticked by hand. */
const BY_HAND = CHANGES.filter((change): change is Exclude<Change, 'none'> =>
  ['piecer', 'cleaning-round', 'overhaul', 'opening-roller', 'winding', 'climate', 'fibre'].includes(change),
);

/** Recording that a frame's setup was changed: the settings come from the setup page, by the address. */
export function recordSetupPages(site: Site): Hono {
  const given = (frame: string, query: string): { readonly given: GivenSetup; readonly query: string } => {
    const params = new URLSearchParams(query);
    params.set('frame', frame);
    const state = readState(params, site.mill);
    return { given: withoutHours(readCaseForm(state, site.vocabulary).case.given), query: writeQuery(state) };
  };

  const show = async (
    c: Context,
    desk: Desk,
    query: string,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ): Promise<Response> => {
    const frame = await findFrame(desk.journal, pathPart(c, 'id'));
    const present = await setupAt(desk.journal, frame.id, new Date().toISOString());
    const wanted = given(frame.id, query);
    const differences =
      present === undefined
        ? [sentenceCase(describeSetup(wanted.given))]
        : sayDifferences(compareSetups(present.given, wanted.given).differences);
    const names = await loadNames(desk.journal);
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const none: readonly [string, string] = ['', '–'];
    const page: RecordPage = {
      head: viewHead(desk, '/frames'),
      backHref: `/frames/${frame.id}`,
      backText: frame.name,
      heading: say('mill.record-on', { frame: frame.name }),
      lead: differences.length === 0 ? say('mill.settings-stay') : say('mill.settings-hold'),
      stale: undefined,
      cautions: [],
      how: [],
      facts: [
        ...differences.map((text) => ({ term: say('mill.changes'), text, href: '' })),
        { term: say('mill.settings'), text: say('mill.change-them'), href: `/setup${wanted.query}` },
      ],
      form: viewForm(
        `/frames/${frame.id}/setup`,
        say('mill.record-it'),
        [
          make.hidden('query', wanted.query),
          make.hidden('key', newKey()),
          make.moment('at', say('record.when'), { value: typedMoment(new Date().toISOString()) }),
          make.select('yarn', say('record.yarn'), [none, ...names.yarns], { chosen: [present?.yarn ?? ''] }),
          make.select('lot', say('record.lot'), [none, ...names.lots], { chosen: [present?.lot ?? ''] }),
          make.checkboxes(
            'changes',
            say('mill.also-done'),
            BY_HAND.map((change) => [change, sentenceCase(CHANGE_WORDS[change])] as const),
          ),
          make.checkboxes(
            'renewed',
            say('mill.parts-put-in'),
            LIFE_PARTS.map((part) => [part, sentenceCase(say(`mill.part-${part}`))] as const),
          ),
          make.text('positions', say('mill.at-label'), {
            hint: say('mill.at-hint'),
          }),
          make.number('hours', say('mill.hours-run'), { unit: 'h', hint: say('mill.empty-new') }),
          make.area('note', say('mill.why-done')),
          make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' }),
        ],
        sent?.problems ?? [],
      ),
      second: undefined,
      secondHeading: '',
    };
    return c.html(
      site.page('journal-record', { title: page.heading, section: 'journal' }, page),
      sent === undefined ? 200 : 422,
    );
  };

  return new Hono()
    .get(
      '/frames/:id/setup',
      atDesk(site, (c, desk) => show(c, desk, new URL(c.req.url).search)),
    )
    .post(
      '/frames/:id/setup',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const query = typed.get('query')?.at(-1) ?? '';
        const frame = await findFrame(desk.journal, pathPart(c, 'id'));
        const reader = readTyped(typed);
        const at = reader.moment('at', say('record.when'));
        reader.needed('who', say('record.your-name'));
        const parts = LIFE_PARTS.filter((part) => reader.all('renewed').includes(part));
        const positions = readRuns(reader.text('positions'));
        if (positions === undefined)
          reader.problems.push({
            name: 'positions',
            message: say('mill.at-unread'),
            allowed: say('mill.at-example'),
          });
        const hours = reader.amount('hours', say('mill.hours-run')) ?? 0;
        const { given: wanted } = given(frame.id, query);
        const input = {
          frame: frame.id,
          yarn: reader.optional('yarn'),
          lot: reader.optional('lot'),
          given: wanted,
          changes: BY_HAND.filter((change) => reader.all('changes').includes(change)),
          renewed: parts.map((part) => ({
            part,
            positions: positions === undefined || positions.length === 0 ? null : positions,
            hours,
          })),
          note: reader.text('note'),
        } satisfies SetupInput;
        const controls = [
          startFields(typed, []).moment('at', say('record.when')),
          startFields(typed, []).text('positions', say('mill.at-label')),
          startFields(typed, []).select('lot', say('record.lot'), []),
          startFields(typed, []).area('note', say('mill.why-done')),
          startFields(typed, []).text('who', say('record.your-name')),
        ];
        const written = await writeSent(controls, reader.problems, async () => {
          const present = await setupAt(desk.journal, frame.id, at ?? new Date().toISOString());
          const reportBefore =
            present === undefined ? undefined : await site.diagnostician.report(cardOf(present.given));
          const reportAfter = await site.diagnostician.report(cardOf(wanted));
          return recordSetup(
            desk.journal,
            { ...input, ...(reportBefore === undefined ? {} : { reportBefore }), reportAfter },
            byFrom(typed, at),
          );
        });
        if (!written.ok) return show(c, desk, query, { typed, problems: written.problems });
        rememberName(c, typed);
        site.framesChanged();
        return c.redirect(`/frames/${frame.id}#${written.value.id}`, 303);
      }),
    );
}

/** Running hours follow from what was put in when, and are not settings. */
function withoutHours(given: GivenSetup): GivenSetup {
  const { nozzleHours: _, tubeHours: __, ...values } = given.values;
  const { 'nozzle.hours': ___, 'tube.hours': ____, ...typed } = given.typed;
  return { ...given, values, typed };
}

/** "12, 40-47" as numbers; undefined when it cannot be read. */
function readRuns(text: string): number[] | undefined {
  const numbers = new Set<number>();
  for (const part of text.split(/[,;\s]+/).filter((one) => one !== '')) {
    const match = /^(\d{1,4})(?:[-–](\d{1,4}))?$/.exec(part);
    if (match === null) return undefined;
    const from = Number(match[1]);
    const until = Number(match[2] ?? from);
    if (from < 1 || until < from || until > 5000) return undefined;
    for (let n = from; n <= until; n++) numbers.add(n);
  }
  return [...numbers].sort((a, b) => a - b);
}
