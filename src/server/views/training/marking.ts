import { type Marking, MOST_SEED, mixedNumber, practiceCode } from '../../../rules/training/index.js';
import { joinWords, LEVEL_WORDS } from '../../../rules/words.js';
import type { Link } from '../../../templates/models.js';
import type { MarkingPage } from '../../../templates/training-models.js';
import { drawMinutes } from '../../pictures/minutes-bars.js';
import { type PracticeState, practiceQuery } from '../../training/practice-state.js';
import { sayMinutes, sayPercent } from '../../words.js';

const VERDICTS: Readonly<Record<Marking['checks'][number]['verdict'], string>> = {
  best: 'Best',
  good: 'Sound',
  dear: 'Dear',
  idle: 'Idle',
  again: 'Again',
};

/** A check's name before its answer: names that ask need no colon. */
const beforeAnswer = (label: string) => (label.endsWith('?') ? label : `${label}:`);

/** A marked attempt for reading and for print. */
export function viewMarking(marking: Marking, place: MarkingPlace): MarkingPage {
  const { proposal } = marking;
  return {
    title: marking.title,
    back: place.back,
    note: place.note,
    trainerNotes: marking.notes ?? '',
    trainee: marking.trainee ?? '',
    summary: marking.summary,
    passed: marking.passed,
    truth: marking.truth.map((cause) => ({
      label: cause.label,
      what: cause.what,
      href: `/knowledge/cause/${cause.cause}`,
    })),
    advice: marking.advice,
    unsafe: marking.unsafe,
    checks: marking.checks.map((check) => ({
      label: beforeAnswer(check.label),
      answer: check.answer,
      minutes: sayMinutes(check.minutes),
      verdict: VERDICTS[check.verdict],
      words: check.words,
      better: check.better === undefined ? '' : `Better: “${check.better.label}”. ${check.better.why}`,
    })),
    causes: proposal.entries.map((entry) => ({
      label: entry.label,
      confidence: sayPercent(entry.confidence),
      warranted: sayPercent(entry.warranted),
      right: entry.right ? 'yes' : 'no',
    })),
    causeWords: proposal.words,
    scores: [
      {
        term: 'Brier score (1950)',
        text: `${proposal.brier.toFixed(2)}; what the findings warranted: ${proposal.warrantedBrier.toFixed(2)}`,
      },
      {
        term: 'Logarithmic score (Good 1952)',
        text: `${proposal.log.toFixed(2)}; what the findings warranted: ${proposal.warrantedLog.toFixed(2)}`,
      },
    ],
    actions: marking.actions.map((action) => ({
      title: `${joinWords(action.actions.map((one) => one.label))}, ${action.on === 'trial' ? 'on trial' : 'everywhere at once'} (${sayMinutes(action.minutes)})`,
      words: action.words,
      signs: action.signs.map(
        (sign) => `${sign.label}: ${LEVEL_WORDS[sign.before]} → ${LEVEL_WORDS[sign.after]}`,
      ),
      costs: action.costs,
      better:
        action.better === undefined
          ? ''
          : `“${action.better.label}” had the better chance of a cure at that moment: ${sayPercent(action.better.cures)}.`,
    })),
    way: marking.best.way.map(
      (step) => `${beforeAnswer(step.label)} ${step.answer} (${sayMinutes(step.minutes)})`,
    ),
    wayAfter: `Then about ${sayMinutes(marking.best.search)} of search.`,
    bars: drawMinutes([
      { label: 'You', checks: marking.minutes.checks, search: marking.minutes.search },
      { label: 'Best way', checks: marking.best.checks, search: marking.best.search },
    ]),
    links: place.links,
  };
}

/** What surrounds a marking: where one came from, where to go on, and what has to be said of it. */
export interface MarkingPlace {
  readonly back: Link;
  readonly note: string;
  readonly links: readonly Link[];
}

/** The surroundings of an attempt that was practised by itself. */
export function placeAlone(state: PracticeState): MarkingPlace {
  const again = { ...state, moves: [], closed: false };
  const links = [
    { href: `/training/replay${practiceQuery(state)}`, text: 'Replay it step by step' },
    { href: `/training/practice${practiceQuery(again)}`, text: 'Try the same case again' },
  ];
  const { number } = state;
  if (number === undefined) return { back: ROOM, note: '', links };
  const seed = (number.seed % MOST_SEED) + 1;
  const another = practiceCode(number.mixed === true ? mixedNumber(seed) : { ...number, seed });
  const who = state.trainee === '' ? '' : `&trainee=${encodeURIComponent(state.trainee)}`;
  return {
    back: ROOM,
    note: '',
    links: [
      ...links,
      { href: `/training/practice?case=${another}${who}`, text: 'Another case of this kind' },
    ],
  };
}

const ROOM: Link = { href: '/training', text: 'Training room' };
