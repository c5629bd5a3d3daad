import { type Context, Hono } from 'hono';
import { type LearnedRate, type Replay, readSetting, writeSetting } from '../../../journal/index.js';
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
    const who = make.text('who', 'Your name', { value: desk.who, autocomplete: 'name' });
    const page: LearningPage = {
      head: viewHead(desk, '/learning'),
      lead: 'Closed cases whose cause was proved move this mill’s base rates away from the expert’s. The files of the knowledge base are never touched.',
      state: on
        ? `In use: this mill’s rates${learning.since === undefined ? '' : `, as learned ${sayMoment(learning.since)}`}`
        : 'In use: the expert’s rates',
      form: viewForm(
        '/learning',
        on ? 'Go back to the expert’s rates' : 'Use this mill’s rates',
        [
          make.hidden('use', on ? 'no' : 'yes'),
          make.hidden('key', newKey()),
          {
            ...who,
            hint:
              setting === undefined
                ? 'Every answer from then on starts from the rates below.'
                : `Last set by ${setting.who}, ${sayMoment(setting.changedAt)}.`,
          },
        ],
        sent?.problems ?? [],
      ),
      picture:
        rates.length === 0
          ? undefined
          : drawRatePairs(
              'Base rates of the expert and of this mill, those that moved most first',
              rates.slice(0, PICTURED).map((one) => ({
                label: name(one.causeId),
                expert: one.expert,
                learned: one.learned,
                lower: one.interval.lower,
                upper: one.interval.upper,
              })),
            ),
      table: ratesTable(rates),
      notes: [
        'A case counts in full when its cause was proved or seen, a third when the trouble went away without proof, and not at all otherwise. A cause that nobody checked loses nothing. Old cases fade by 3 % a month. The expert’s word is worth 20 cases for each family of causes.',
      ],
      replay: viewReplay(state),
      replayForm: viewForm(
        '/learning/replay',
        state.kind === 'done' ? 'Try it again' : 'Try both on the closed cases',
        [make.hidden('go', 'yes')],
      ),
    };
    return c.html(
      site.page('learning', { title: 'Learning', section: 'journal' }, page),
      sent === undefined ? 200 : 422,
    );
  };

  const ratesTable = (rates: readonly LearnedRate[]): TableView =>
    viewTable(
      'rates',
      'Base rates of the expert and of this mill',
      ['Cause', '#Expert', '#This mill', '#95 % interval', '#Found', 'Agree?'],
      rates.map((one): Cell[] => [
        { text: name(one.causeId), href: `/knowledge/causes/${one.causeId}` },
        sayRate(one.expert),
        sayRate(one.learned),
        `${sayRate(one.interval.lower)} to ${sayRate(one.interval.upper)}`,
        {
          text: String(one.found),
          note: `of ${one.cases} in which it was looked for`,
          href: `/cases?cause=${one.causeId}`,
        },
        one.agreement < DISAGREES ? 'no: have somebody look' : 'yes',
      ]),
      'No closed case has taught anything yet.',
      rates.map((one) => (one.agreement < DISAGREES ? 'high' : '')),
    );

  function viewReplay(state: ReplayState): LearningPage['replay'] {
    const nothing = { running: false, lines: [], table: undefined };
    if (state.kind === 'none')
      return {
        ...nothing,
        words:
          'Before other rates are used they can be tried on the cases that are closed already: where would the proved cause have stood?',
      };
    if (state.kind === 'failed')
      return { ...nothing, words: `The trial did not come to an end: ${state.why}.` };
    if (state.kind === 'running')
      return {
        ...nothing,
        running: true,
        words: `Working: ${state.done} of about ${state.of} rankings made. This page looks again by itself.`,
      };
    const { knowledge, rates, at } = state.replays;
    return {
      running: false,
      words: `Tried ${sayMoment(at)} on ${rates.cases.length} closed cases with a proved cause.`,
      lines: [
        `This mill’s rates against the expert’s: ${sayReplay(rates)}`,
        'This mill’s rates were learned from these very cases, among others, so they look somewhat better here than they will on new ones.',
        `Today’s rules against what was said when the cases were opened: ${sayReplay(knowledge)}`,
        ...(rates.unreadable.length + knowledge.unreadable.length === 0
          ? []
          : [
              `Cases that today’s rules cannot read are left out: ${[...new Set([...rates.unreadable, ...knowledge.unreadable])].join(', ')}.`,
            ]),
      ],
      table: viewTable(
        'replayed',
        'Place of the proved cause, case by case',
        ['Case', 'Proved cause', '#Then', '#Expert’s rates', '#Mill’s rates'],
        rates.cases.map((one): Cell[] => {
          const then = knowledge.cases.find((other) => other.id === one.id);
          const place = (
            found: { readonly place: number; readonly probability: number } | null | undefined,
          ) => (found == null ? '–' : { text: `${found.place}.`, note: sayShare(found.probability) });
          return [
            { text: one.id.replace('case-', 'Case '), href: `/cases/${one.id}` },
            name(one.cause),
            place(then?.before),
            place(one.before),
            place(one.after),
          ];
        }),
        'None.',
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
        reader.needed('who', 'Your name');
        const use = reader.text('use') === 'yes';
        const written = await writeSent(
          [startFields(typed, []).text('who', 'Your name')],
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

const sayRate = (rate: number): string => `${Number((rate * 100).toPrecision(rate < 0.1 ? 2 : 3))}\u00a0%`;

function sayReplay(replay: Replay): string {
  const n = replay.cases.length;
  if (n === 0) return 'no case to try it on.';
  const verdict = {
    better: 'better, and more than by chance',
    worse: 'worse, and more than by chance',
    'no-difference-shown': 'no difference shown beyond chance',
    'no-cases': 'no case to try it on',
  }[replay.verdict];
  const range =
    replay.gain.interval === null
      ? ''
      : ` (${sayGain(replay.gain.interval.lower)} to ${sayGain(replay.gain.interval.upper)})`;
  return `${verdict}. The proved cause stood first in ${replay.first.before} and now in ${replay.first.after} of ${n}, among the first three in ${replay.firstThree.before} and now in ${replay.firstThree.after}; gain in the log score ${sayGain(replay.gain.mean)}${range} a case.`;
}

const sayGain = (value: number): string => {
  const text = Math.abs(value).toFixed(2);
  return text === '0.00' ? text : `${value < 0 ? '−' : '+'}${text}`;
};
