import { sayFixed } from '../../language/numbers.js';
import { say } from '../../language/say.js';
import type { ActionResult, CauseResult, CheckResult, Diagnosis, SideEffect } from '../../rules/index.js';
import type { RuleBook } from '../../rules/knowledge/knowledge-base.js';
import { inSentence, STOP_WORDS, sentenceCase, TRIAL_RESULT_WORDS } from '../../rules/words.js';
import type { ActionView, CheckView, NextView, SideEffectView } from '../../templates/models.js';
import { STANDING_WORDS, sayMinutes, sayPercent, viewGround, WHO_WORDS } from '../words.js';

const CHECKS_SHOWN = 1;
const CHECKS_LISTED = 5;
const ACTIONS_SHOWN = 3;
const ACTIONS_LISTED = 12;
/** Checks that save less than this many minutes are not worth a walk. Standing: judgement. */
const LEAST_SAVING = 0.3;
/** From here on a cause is sure enough to act on. Standing: judgement. */
const SURE = 0.85;

/** Checks and actions of a diagnosis, the most useful first. */
export function viewNext(diagnosis: Diagnosis, later: readonly string[], book: RuleBook): NextView {
  const text = cautionText(book);
  const sure = diagnosis.causes.find((cause) => cause.probability >= SURE);
  const open = diagnosis.checks.filter((check) => !later.includes(check.id));
  // Once a cause is sure, the check that tells most about it goes before the one that would tell causes apart.
  const confirming = sure?.checks.flatMap((id) => open.filter((check) => check.id === id))[0];
  const useful = open.filter((check) => check !== confirming && check.saves >= LEAST_SAVING);
  const checks = (confirming === undefined ? useful : [confirming, ...useful])
    .slice(0, CHECKS_LISTED)
    .map((check) => viewCheck(check, text));
  const actions = diagnosis.actions
    .filter((action) => action.cures >= 0.005)
    .slice(0, ACTIONS_LISTED)
    .map((action) => viewAction(action, text));
  return {
    sure: sure === undefined ? '' : saySure(sure, confirming !== undefined),
    checks: checks.slice(0, CHECKS_SHOWN),
    moreChecks: checks.slice(CHECKS_SHOWN),
    actions: actions.slice(0, ACTIONS_SHOWN),
    moreActions: actions.slice(ACTIONS_SHOWN),
    cautions: diagnosis.cautions.map((one) => one.text),
  };
}

function saySure(cause: CauseResult, canConfirm: boolean): string {
  const stands = say(cause.family === 'chance' ? 'answer.sure-leave' : 'answer.sure-act', {
    cause: cause.label,
    percent: sayPercent(cause.probability),
  });
  return canConfirm ? `${stands} ${say('answer.confirm-first')}` : stands;
}

/** A lookup of caution texts straight from the knowledge base. */
export const cautionText = (book: RuleBook) => (id: string) => book.cautions.get(id)?.text ?? '';

/**
 * A check with its answers.
 * @param answerHref where an answer leads, on pages where it is a link rather than a button
 */
export function viewCheck(
  check: CheckResult,
  caution: (id: string) => string,
  answerHref: (check: string, outcome: string) => string = () => '',
): CheckView {
  const time =
    check.waitingMinutes > 0
      ? say('answer.then-waiting', {
          minutes: sayMinutes(check.minutes),
          wait: sayMinutes(check.waitingMinutes),
        })
      : sayMinutes(check.minutes);
  return {
    id: check.id,
    name: `findings.${check.id}`,
    label: check.label,
    ask: check.ask,
    how: check.how,
    effort: `${time}; ${STOP_WORDS[check.stops]}; ${WHO_WORDS[check.who] ?? check.who}`,
    saves: say('answer.about-search', { minutes: sayMinutes(check.saves) }),
    cautions: check.cautions.map(caution).filter((one) => one !== ''),
    ground: viewGround(check.ground),
    outcomes: check.outcomes.map((outcome) => {
      const lead = outcome.leads[0];
      return {
        value: outcome.id,
        label: outcome.label,
        chance: sayPercent(outcome.probability),
        href: answerHref(check.id, outcome.id),
        leads: lead === undefined ? say('answer.too-rare') : `${lead.label}, ${sayPercent(lead.probability)}`,
      };
    }),
  };
}

export function viewAction(action: ActionResult, caution: (id: string) => string): ActionView {
  const facts = [
    { term: say('answer.who'), text: sentenceCase(WHO_WORDS[action.who] ?? action.who) },
    {
      term: say('answer.time'),
      text: say('answer.time-for', { minutes: sayMinutes(action.minutes), covers: action.covers }),
    },
    { term: say('answer.stops'), text: sentenceCase(STOP_WORDS[action.stops]) },
  ];
  if (action.rollOutMinutes !== undefined && action.rollOutMinutes > action.minutes)
    facts.push({
      term: say('answer.everywhere'),
      text: say('answer.once-proved', { minutes: sayMinutes(action.rollOutMinutes) }),
    });
  if (action.parts !== undefined) facts.push({ term: say('answer.parts'), text: sentenceCase(action.parts) });
  if (action.cost !== 'none')
    facts.push({ term: say('answer.cost'), text: sentenceCase(say(`answer.${action.cost}`)) });
  const worse = action.sideEffects.filter((effect) => effect.direction === 'worse');
  return {
    id: action.id,
    label: action.label,
    probability: action.cures,
    cures: sayPercent(action.cures),
    effort: `${sayMinutes(action.minutes)}, ${STOP_WORDS[action.stops]}`,
    effects:
      worse.length === 0
        ? say('answer.none-worse')
        : say('answer.costs', { what: worse.map((effect) => inSentence(effect.label)).join(', ') }),
    forbidden: action.forbidden ?? '',
    tried:
      action.tried === undefined ? '' : say('answer.tried', { result: TRIAL_RESULT_WORDS[action.tried] }),
    reason: action.reason,
    change: action.change ?? [],
    cautions: action.cautions.map(caution).filter((one) => one !== ''),
    steps: action.steps,
    facts,
    sideEffects: action.sideEffects.map(viewSideEffect),
    proof: action.proof,
    goBack: action.goBack,
    ground: viewGround(action.ground),
  };
}

function viewSideEffect(effect: SideEffect): SideEffectView {
  const figure = (value: number) =>
    `${value >= 0 ? '+' : '−'}${sayFixed(Math.abs(value), Math.abs(value) < 9.95 ? 1 : 0)}`;
  return {
    label: sentenceCase(effect.label),
    direction: effect.direction,
    directionWords: say(`answer.${effect.direction}`),
    change:
      effect.changePercent === undefined || effect.direction === 'same'
        ? ''
        : effect.low === undefined || effect.high === undefined
          ? `${figure(effect.changePercent)} %`
          : say('answer.range', {
              change: `${figure(effect.changePercent)} %`,
              low: figure(effect.low),
              high: figure(effect.high),
            }),
    // The figure says it all where there is one; of what hardly moves the words do.
    words:
      effect.changePercent === undefined
        ? effect.words
        : effect.direction === 'same'
          ? say('answer.hardly-changes')
          : '',
    beyond: effect.beyondLimit ?? '',
    standing: STANDING_WORDS[effect.ground.standing],
  };
}
