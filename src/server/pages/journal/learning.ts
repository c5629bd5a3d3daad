import { type Context, Hono } from 'hono';
import { type LearnedRate, type Replay, readSetting, writeSetting } from '../../../journal/index.js';
import { localDecimal, sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import { sourceText } from '../../../language/source-text.js';
import type { LearningPage, TableView } from '../../../templates/journal-models.js';
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
import { learnRates, type ReplayState } from '../../journal/learning.js';
import { drawRatePairs } from '../../pictures/rates-side-by-side.js';
import type { Site } from '../../site.js';
import { type FormProblem, readTyped, startFields, type Typed, viewForm } from '../../views/journal/form.js';
import { sayMoment } from '../../views/journal/moments.js';
import { type Cell, viewTable } from '../../views/journal/table.js';
import { causeName, sayShare } from '../../views/journal/words.js';

const PICTURED = 14;
/** Below this the mill and the expert disagree too much to be chance. */
const DISAGREES = 0.02;

/** What the closed cases teach: base rates side by side, the switch, and the proof on past cases. */
export function learningPages(site: Site): Hono {
  const { learning } = site;
  const name = (id: string) => causeName(learning.expert, id);

  const show = async (
    c: Context,
    desk: Desk,
    sent?: { readonly typed: Typed; readonly problems: readonly FormProblem[] },
  ): Promise<Response> => {
    const rates = (await learnRates(desk.journal, learning.expert))
      .filter((one) => one.cases > 0)
      .sort((a, b) => Math.abs(Math.log(b.learned / b.expert)) - Math.abs(Math.log(a.learned / a.expert)));
    const setting = await readSetting(desk.journal, 'use-learned-rates');
    const on = setting?.value === true;
    const state = learning.replay();
    if (state.kind === 'running') c.header('Refresh', '3');
    const make = startFields(sent?.typed ?? new Map(), sent?.problems ?? []);
    const who = make.text('who', say('record.your-name'), { value: desk.who, autocomplete: 'name' });
    const page: LearningPage = {
      head: viewHead(desk, '/learning'),
      lead: say('learning.lead'),
      state: on
        ? learning.since === undefined
          ? say('learning.in-use-mill')
          : say('learning.in-use-since', { when: sayMoment(learning.since) })
        : say('learning.in-use-expert'),
      stateNote:
        setting === undefined
          ? say('learning.hint-use')
          : say('learning.last-set', { who: setting.who, when: sayMoment(setting.changedAt) }),
      form: viewForm(
        '/learning',
        on ? say('learning.go-back') : say('learning.use-mill'),
        [make.hidden('use', on ? 'no' : 'yes'), make.hidden('key', newKey()), who],
        sent?.problems ?? [],
      ),
      picture:
        rates.length === 0
          ? undefined
          : drawRatePairs(
              say('learning.picture'),
              rates.slice(0, PICTURED).map((one) => ({
                label: name(one.causeId),
                expert: one.expert,
                learned: one.learned,
                lower: one.interval.lower,
                upper: one.interval.upper,
              })),
            ),
      table: ratesTable(rates),
      notes: [say('learning.note')],
      replay: viewReplay(state),
      replayForm: viewForm(
        '/learning/replay',
        state.kind === 'done' ? say('learning.again') : say('learning.try-both'),
        [make.hidden('go', 'yes')],
      ),
    };
    return c.html(
      site.page('learning', { title: say('learning.title'), section: 'journal' }, page),
      sent === undefined ? 200 : 422,
    );
  };

  const ratesTable = (rates: readonly LearnedRate[]): TableView =>
    viewTable(
      'rates',
      say('learning.rates'),
      [
        say('complaint.cause'),
        `#${say('learning.expert')}`,
        `#${say('learning.this-mill')}`,
        `#${say('quality-desk.interval')}`,
        `#${say('learning.found')}`,
        say('learning.agree'),
      ],
      rates.map((one): Cell[] => [
        { text: name(one.causeId), href: `/knowledge/causes/${one.causeId}` },
        sayRate(one.expert),
        sayRate(one.learned),
        say('quality-desk.bounds', { low: sayRate(one.interval.lower), high: sayRate(one.interval.upper) }),
        {
          text: String(one.found),
          note: say('learning.looked-for', { n: one.cases }),
          href: `/cases?cause=${one.causeId}`,
        },
        one.agreement < DISAGREES ? say('learning.disagrees') : say('quality-desk.a-yes'),
      ]),
      say('learning.none-taught'),
      rates.map((one) => (one.agreement < DISAGREES ? 'high' : '')),
    );

  function viewReplay(state: ReplayState): LearningPage['replay'] {
    const nothing = { running: false, lines: [], table: undefined };
    if (state.kind === 'none')
      return {
        ...nothing,
        words: say('learning.before-used'),
      };
    if (state.kind === 'failed')
      return { ...nothing, words: say('learning.failed', { why: sourceText(state.why) }) };
    if (state.kind === 'running')
      return {
        ...nothing,
        running: true,
        words: say('learning.working', { done: state.done, of: state.of }),
      };
    const { knowledge, rates, at } = state.replays;
    return {
      running: false,
      words: say('learning.tried', { when: sayMoment(at), n: rates.cases.length }),
      lines: [
        say('learning.mill-against', { result: sayReplay(rates) }),
        say('learning.very-cases'),
        say('learning.rules-against', { result: sayReplay(knowledge) }),
        ...(rates.unreadable.length + knowledge.unreadable.length === 0
          ? []
          : [
              say('learning.left-out', {
                cases: [...new Set([...rates.unreadable, ...knowledge.unreadable])].join(', '),
              }),
            ]),
      ],
      table: viewTable(
        'replayed',
        say('learning.places'),
        [
          say('overview.case'),
          say('learning.proved'),
          `#${say('learning.as-then')}`,
          `#${say('learning.expert-rates')}`,
          `#${say('learning.mill-rates')}`,
        ],
        rates.cases.map((one): Cell[] => {
          const then = knowledge.cases.find((other) => other.id === one.id);
          const place = (
            found: { readonly place: number; readonly probability: number } | null | undefined,
          ) => (found == null ? '–' : { text: `${found.place}.`, note: sayShare(found.probability) });
          return [
            {
              text: say('overview.case-n', { number: one.id.replace('case-', '') }),
              href: `/cases/${one.id}`,
            },
            name(one.cause),
            place(then?.before),
            place(one.before),
            place(one.after),
          ];
        }),
        say('mill.none'),
      ),
    };
  }

  return new Hono()
    .get(
      '/learning',
      atDesk(site, (c, desk) => show(c, desk)),
    )
    .post(
      '/learning',
      atDesk(site, async (c, desk) => {
        const { typed } = await readSent(c);
        const reader = readTyped(typed);
        reader.needed('who', say('record.your-name'));
        const use = reader.text('use') === 'yes';
        const written = await writeSent(
          [startFields(typed, []).text('who', say('record.your-name'))],
          reader.problems,
          () => writeSetting(desk.journal, 'use-learned-rates', use, { who: byFrom(typed).who }),
        );
        if (!written.ok) return show(c, desk, { typed, problems: written.problems });
        await learning.follow(desk.journal);
        rememberName(c, typed);
        return c.redirect('/learning', 303);
      }),
    )
    .post(
      '/learning/replay',
      atDesk(site, async (c, desk) => {
        await learning.startReplay(desk.journal);
        return c.redirect('/learning#replay-heading', 303);
      }),
    );
}

const sayRate = (rate: number): string =>
  `${localDecimal(String(Number((rate * 100).toPrecision(rate < 0.1 ? 2 : 3))))}\u00a0%`;

function sayReplay(replay: Replay): string {
  const n = replay.cases.length;
  if (n === 0) return `${say('learning.no-case')}.`;
  const verdict = {
    better: say('learning.better'),
    worse: say('learning.worse'),
    'no-difference-shown': say('learning.no-difference'),
    'no-cases': say('learning.no-case'),
  }[replay.verdict];
  const range =
    replay.gain.interval === null
      ? ''
      : ` (${say('quality-desk.bounds', { low: sayGain(replay.gain.interval.lower), high: sayGain(replay.gain.interval.upper) })})`;
  return say('learning.replayed', {
    verdict,
    before: replay.first.before,
    after: replay.first.after,
    n,
    threeBefore: replay.firstThree.before,
    threeAfter: replay.firstThree.after,
    gain: `${sayGain(replay.gain.mean)}${range}`,
  });
}

const sayGain = (value: number): string => {
  const text = sayFixed(Math.abs(value), 2);
  return Number(Math.abs(value).toFixed(2)) === 0 ? text : `${value < 0 ? '−' : '+'}${text}`;
};
