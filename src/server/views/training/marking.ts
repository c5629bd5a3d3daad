import { sayFixed } from '../../../language/numbers.js';
import type { MessageKey } from '../../../language/say.js';
import { say } from '../../../language/say.js';
import { type Marking, MOST_SEED, mixedNumber, practiceCode } from '../../../rules/training/index.js';
import { joinWords, LEVEL_WORDS } from '../../../rules/words.js';
import type { Link } from '../../../templates/models.js';
import type { MarkingPage } from '../../../templates/training-models.js';
import { drawMinutes } from '../../pictures/minutes-bars.js';
import { type PracticeState, practiceQuery } from '../../training/practice-state.js';
import { sayMinutes, sayPercent } from '../../words.js';

const VERDICTS = {
  best: 'marking.verdict-best',
  good: 'marking.verdict-good',
  dear: 'marking.verdict-dear',
  idle: 'marking.verdict-idle',
  again: 'marking.verdict-again',
} as const satisfies Record<Marking['checks'][number]['verdict'], MessageKey>;

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
      verdict: say(VERDICTS[check.verdict]),
      words: check.words,
      better:
        check.better === undefined
          ? ''
          : say('marking.better', { check: check.better.label, why: check.better.why }),
    })),
    causes: proposal.entries.map((entry) => ({
      label: entry.label,
      confidence: sayPercent(entry.confidence),
      warranted: sayPercent(entry.warranted),
      right: entry.right ? say('marking.yes') : say('marking.no'),
    })),
    causeWords: proposal.words,
    scores: [
      {
        term: say('marking.brier'),
        text: say('marking.score', {
          score: sayFixed(proposal.brier, 2),
          warranted: sayFixed(proposal.warrantedBrier, 2),
        }),
      },
      {
        term: say('marking.log'),
        text: say('marking.score', {
          score: sayFixed(proposal.log, 2),
          warranted: sayFixed(proposal.warrantedLog, 2),
        }),
      },
    ],
    actions: marking.actions.map((action) => ({
      title: `${joinWords(action.actions.map((one) => one.label))}, ${action.on === 'trial' ? say('practice.as-trial') : say('practice.at-once')} (${sayMinutes(action.minutes)})`,
      words: action.words,
      signs: action.signs.map(
        (sign) => `${sign.label}: ${LEVEL_WORDS[sign.before]} → ${LEVEL_WORDS[sign.after]}`,
      ),
      costs: action.costs,
      better:
        action.better === undefined
          ? ''
          : say('marking.better-action', {
              action: action.better.label,
              chance: sayPercent(action.better.cures),
            }),
    })),
    way: marking.best.way.map(
      (step) => `${beforeAnswer(step.label)} ${step.answer} (${sayMinutes(step.minutes)})`,
    ),
    wayAfter: say('marking.then-search', { time: sayMinutes(marking.best.search) }),
    bars: drawMinutes([
      { label: say('marking.you'), checks: marking.minutes.checks, search: marking.minutes.search },
      { label: say('marking.best'), checks: marking.best.checks, search: marking.best.search },
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
    { href: `/training/replay${practiceQuery(state)}`, text: say('marking.replay') },
    { href: `/training/practice${practiceQuery(again)}`, text: say('marking.again') },
  ];
  const { number } = state;
  if (number === undefined) return { back: room(), note: '', links };
  const seed = (number.seed % MOST_SEED) + 1;
  const another = practiceCode(number.mixed === true ? mixedNumber(seed) : { ...number, seed });
  const who = state.trainee === '' ? '' : `&trainee=${encodeURIComponent(state.trainee)}`;
  return {
    back: room(),
    note: '',
    links: [...links, { href: `/training/practice?case=${another}${who}`, text: say('marking.another') }],
  };
}

const room = (): Link => ({ href: '/training', text: say('training.room') });
