import {
  casesThatGotWorse,
  type HowUsed,
  type KeptReplay,
  type KnowledgeVersion,
  type ReplayedCase,
} from '../../../journal/index.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { KnowledgeVersionsPage, TableView } from '../../../templates/journal-models.js';
import { drawBeforeAfter } from '../../pictures/before-after.js';
import { sayMoment } from './moments.js';
import { type Cell, viewTable } from './table.js';
import { causeName, sayShare } from './words.js';

/** How a version came into use, in words. */
export const HOW_USED: Record<HowUsed, string> = {
  first: 'the first one this journal knows; there was nothing to hold it against',
  'same-reasoning': 'rankings rest on the same as before, so there was nothing to try',
  'no-cases': 'taken over at once: there was no closed case to try it on',
  proved: 'tried on the closed cases and no worse than is let pass',
  accepted: 'accepted although it did worse',
  unproved: 'NOT tried: the journal was away, or the version before could not be read any more',
};

const MOST_WORSE = 100;
const two = (value: number) => value.toFixed(2).replace('-', '−');
const three = (value: number) => value.toFixed(3).replace('-', '−');
const arrow = (before: string, after: string) => (before === after ? after : `${before} → ${after}`);

/** On what a replay was made, in words. */
export function saySample(replay: Pick<KeptReplay, 'tried' | 'closed' | 'sample' | 'unread'>): string {
  const { tried, closed, sample, unread } = replay;
  const all = tried + unread;
  const cases = `${closed} closed ${closed === 1 ? 'case' : 'cases'} with a proved cause`;
  if (all >= closed) return `all ${cases}`;
  return `${all} of the ${cases}: the newest ${Math.min(sample.newest, all)} and ${Math.max(0, all - sample.newest)} of the others drawn at random (seed ${sample.seed})`;
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
      : ` For cases to come the gain in log score lies between ${three(replay.gain.lower)} and ${three(replay.gain.upper)} (95 %).`;
  return {
    heading: `Version ${replay.version} against ${replay.against}`,
    words: `Tried ${sayMoment(replay.at)} on ${saySample(replay)}. ${worse.length} got worse.${gain}`,
    picture: drawBeforeAfter(`Version ${replay.against} before and ${replay.version} after`, [
      { label: 'Proved cause ranked first', before: replay.first.before / n, after: replay.first.after / n },
      {
        label: 'Proved cause among the first three',
        before: replay.firstThree.before / n,
        after: replay.firstThree.after / n,
      },
      {
        label: 'Probability given to it (geometric mean)',
        before: Math.exp(replay.logScore.before),
        after: Math.exp(replay.logScore.after),
      },
    ]),
    figures: figuresTable(replay),
    worse: viewTable(
      'worse',
      'Cases that got worse, worst first',
      ['Case', 'Proved cause', '#Before', '#After'],
      worse
        .slice(0, MOST_WORSE)
        .map((one): Cell[] => [
          { text: one.id.replace('case-', 'Case '), href: `/cases/${one.id}` },
          causeName(knowledge, one.cause),
          placeCell(one.before),
          placeCell(one.after),
        ]),
      'None: no proved cause lost a place or a tenth of its probability.',
    ),
    unread:
      details.unreadable.length === 0
        ? ''
        : `Left out, since the version in use cannot read them any more: ${details.unreadable.slice(0, 20).join(', ')}${details.unreadable.length > 20 ? ' and others' : ''}.`,
  };
}

const placeCell = (found: ReplayedCase['before']): Cell =>
  found === null ? '–' : { text: `${found.place}.`, note: sayShare(found.probability) };

function figuresTable(replay: KeptReplay): TableView {
  const n = Math.max(1, replay.tried);
  const share = (count: number): Cell => ({ text: `${count} of ${replay.tried}`, note: sayShare(count / n) });
  return viewTable(
    'figures',
    'Figures before and after',
    ['Figure', '#Before', '#After'],
    [
      ['Proved cause ranked first', share(replay.first.before), share(replay.first.after)],
      ['Proved cause among the first three', share(replay.firstThree.before), share(replay.firstThree.after)],
      [
        {
          text: 'Mean log score',
          note: 'natural logarithm of the probability given to it; higher is better',
        },
        three(replay.logScore.before),
        three(replay.logScore.after),
      ],
      [
        { text: 'Brier score', note: 'squared error summed over all causes; lower is better' },
        three(replay.brier.before),
        three(replay.brier.after),
      ],
    ],
    'None.',
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
    'Versions of the knowledge, those seen last first',
    ['Version', 'What became of it', '#Cases', '#First', '#First three', '#Log score', '#Brier'],
    versions.map((one): Cell[] => {
      const replay = last.get(one.id);
      const dash = '–';
      return [
        {
          text: one.id,
          note: `seen ${sayMoment(one.seenAt)}`,
          ...(replay === undefined ? {} : { href: `/learning/versions?replay=${replay.number}` }),
        },
        { text: stateWords(one, one.id === inUse), note: one.state === 'used' ? one.note : '' },
        replay === undefined ? dash : { text: String(replay.tried), note: `against ${replay.against}` },
        replay === undefined ? dash : arrow(String(replay.first.before), String(replay.first.after)),
        replay === undefined
          ? dash
          : arrow(String(replay.firstThree.before), String(replay.firstThree.after)),
        replay === undefined ? dash : arrow(two(replay.logScore.before), two(replay.logScore.after)),
        replay === undefined ? dash : arrow(two(replay.brier.before), two(replay.brier.after)),
      ];
    }),
    'None yet: the first version is noted with the first frame or case.',
    versions.map((one) => (one.state === 'held' || one.how === 'unproved' ? 'high' : '')),
  );
}

function stateWords(version: KnowledgeVersion, inUse: boolean): string {
  if (version.state === 'held') return 'held back, not used';
  if (version.how === null || version.usedAt === null) return 'seen, not used';
  const by = version.how === 'accepted' ? ` by ${version.who}` : '';
  return `${inUse ? 'in use' : 'was in use'} from ${sayMoment(version.usedAt)}; ${HOW_USED[version.how].replace('accepted', `accepted${by}`)}`;
}
