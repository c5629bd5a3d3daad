import {
  casesThatGotWorse,
  type HowUsed,
  type KeptReplay,
  type KnowledgeVersion,
  type ReplayedCase,
} from '../../../journal/index.js';
import { sayFixed } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { KnowledgeVersionsPage, TableView } from '../../../templates/journal-models.js';
import { drawBeforeAfter } from '../../pictures/before-after.js';
import { sayMoment } from './moments.js';
import { type Cell, viewTable } from './table.js';
import { causeName, sayShare } from './words.js';

/** How a version came into use, in words. */
export const sayHowUsed = (how: HowUsed): string => say(`versions.how-${how}`);

const MOST_WORSE = 100;
const two = (value: number) => sayFixed(value, 2);
const three = (value: number) => sayFixed(value, 3);
const arrow = (before: string, after: string) => (before === after ? after : `${before} → ${after}`);

/** On what a replay was made, in words. */
export function saySample(replay: Pick<KeptReplay, 'tried' | 'closed' | 'sample' | 'unread'>): string {
  const { tried, closed, sample, unread } = replay;
  const all = tried + unread;
  const cases = say('versions.cases', { n: closed, count: closed });
  if (all >= closed) return say('versions.all-cases', { cases });
  return say('versions.some-cases', {
    all,
    cases,
    newest: Math.min(sample.newest, all),
    others: Math.max(0, all - sample.newest),
    seed: sample.seed,
  });
}

/** The figures of one replay with its picture and the cases that got worse. */
export function viewKeptReplay(
  replay: KeptReplay,
  details: { readonly cases: readonly ReplayedCase[]; readonly unreadable: readonly string[] },
  knowledge: Knowledge,
): NonNullable<KnowledgeVersionsPage['replay']> {
  const n = Math.max(1, replay.tried);
  const worse = casesThatGotWorse(details.cases);
  const gain =
    replay.gain === null
      ? ''
      : ` ${say('versions.to-come', { low: three(replay.gain.lower), high: three(replay.gain.upper) })}`;
  return {
    heading: say('versions.against', { version: replay.version, against: replay.against }),
    words: `${say('versions.tried', { when: sayMoment(replay.at), cases: saySample(replay), worse: worse.length })}${gain}`,
    picture: drawBeforeAfter(
      say('versions.before-after', { against: replay.against, version: replay.version }),
      [
        { label: say('versions.first'), before: replay.first.before / n, after: replay.first.after / n },
        {
          label: say('versions.first-three'),
          before: replay.firstThree.before / n,
          after: replay.firstThree.after / n,
        },
        {
          label: say('versions.probability'),
          before: Math.exp(replay.logScore.before),
          after: Math.exp(replay.logScore.after),
        },
      ],
    ),
    figures: figuresTable(replay),
    worse: viewTable(
      'worse',
      say('versions.worse-first'),
      [
        say('overview.case'),
        say('learning.proved'),
        `#${say('versions.before')}`,
        `#${say('versions.after')}`,
      ],
      worse
        .slice(0, MOST_WORSE)
        .map((one): Cell[] => [
          { text: say('overview.case-n', { number: one.id.replace('case-', '') }), href: `/cases/${one.id}` },
          causeName(knowledge, one.cause),
          placeCell(one.before),
          placeCell(one.after),
        ]),
      say('versions.none-worse'),
    ),
    unread:
      details.unreadable.length === 0
        ? ''
        : say(details.unreadable.length > 20 ? 'versions.left-out-more' : 'versions.left-out', {
            cases: details.unreadable.slice(0, 20).join(', '),
          }),
  };
}

const placeCell = (found: ReplayedCase['before']): Cell =>
  found === null ? '–' : { text: `${found.place}.`, note: sayShare(found.probability) };

function figuresTable(replay: KeptReplay): TableView {
  const n = Math.max(1, replay.tried);
  const share = (count: number): Cell => ({
    text: say('versions.n-of', { n: count, all: replay.tried }),
    note: sayShare(count / n),
  });
  return viewTable(
    'figures',
    say('versions.figures'),
    [say('versions.figure'), `#${say('versions.before')}`, `#${say('versions.after')}`],
    [
      [say('versions.first'), share(replay.first.before), share(replay.first.after)],
      [say('versions.first-three'), share(replay.firstThree.before), share(replay.firstThree.after)],
      [
        {
          text: say('versions.log-mean'),
          note: say('versions.log-note'),
        },
        three(replay.logScore.before),
        three(replay.logScore.after),
      ],
      [
        { text: say('versions.brier-score'), note: say('versions.brier-note') },
        three(replay.brier.before),
        three(replay.brier.after),
      ],
    ],
    say('mill.none'),
  );
}

/** All versions with their last replay. */
export function versionsTable(
  versions: readonly KnowledgeVersion[],
  replays: readonly KeptReplay[],
  inUse: string | undefined,
): TableView {
  const last = new Map([...replays].reverse().map((one) => [one.version, one]));
  return viewTable(
    'versions',
    say('versions.seen-last'),
    [
      say('kept.version'),
      say('versions.became'),
      `#${say('complaint.cases')}`,
      `#${say('versions.c-first')}`,
      `#${say('versions.c-three')}`,
      `#${say('versions.c-log')}`,
      `#${say('versions.c-brier')}`,
    ],
    versions.map((one): Cell[] => {
      const replay = last.get(one.id);
      const dash = '–';
      return [
        {
          text: one.id,
          note: say('versions.seen', { when: sayMoment(one.seenAt) }),
          ...(replay === undefined ? {} : { href: `/learning/versions?replay=${replay.number}` }),
        },
        { text: stateWords(one, one.id === inUse), note: one.state === 'used' ? one.note : '' },
        replay === undefined
          ? dash
          : { text: String(replay.tried), note: say('versions.against-v', { version: replay.against }) },
        replay === undefined ? dash : arrow(String(replay.first.before), String(replay.first.after)),
        replay === undefined
          ? dash
          : arrow(String(replay.firstThree.before), String(replay.firstThree.after)),
        replay === undefined ? dash : arrow(two(replay.logScore.before), two(replay.logScore.after)),
        replay === undefined ? dash : arrow(two(replay.brier.before), two(replay.brier.after)),
      ];
    }),
    say('versions.none-yet'),
    versions.map((one) => (one.state === 'held' || one.how === 'unproved' ? 'high' : '')),
  );
}

function stateWords(version: KnowledgeVersion, inUse: boolean): string {
  if (version.state === 'held') return say('versions.held-unused');
  if (version.how === null || version.usedAt === null) return say('versions.seen-unused');
  return say(inUse ? 'versions.in-use' : 'versions.was-in-use', {
    when: sayMoment(version.usedAt),
    how:
      version.how === 'accepted'
        ? say('versions.how-accepted-by', { who: version.who ?? '' })
        : sayHowUsed(version.how),
  });
}
