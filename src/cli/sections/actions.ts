import type { ActionResult, SideEffect } from '../../rules/index.js';
import { STOP_WORDS, TRIAL_RESULT_WORDS } from '../../rules/words.js';
import { minutes, number, percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';
import { cautionNames } from './cautions.js';

const MOST_CAUSES = 3;

/**
 * One action: what it cures, what it takes, what it costs elsewhere.
 * @param steps whether to list its steps and how to prove it
 */
export function writeAction(page: Page, action: ActionResult, lead: string, steps: boolean): void {
  page.strong(`${action.label} – cures with ${percent(action.cures)}`, lead);
  if (action.forbidden !== undefined) page.text(`Not here: ${action.forbidden}`, '    ');
  if (action.tried !== undefined) page.text(`Tried already: ${TRIAL_RESULT_WORDS[action.tried]}.`, '    ');
  const [first] = action.causes;
  if (first !== undefined)
    page.text(
      `Against: ${action.causes
        .slice(0, MOST_CAUSES)
        .map((cause) => cause.label)
        .join('; ')}.`,
      { first: '    ', rest: '      ' },
    );
  const all =
    action.rollOutMinutes === undefined ? '' : ` (${minutes(action.rollOutMinutes)} to carry it through)`;
  page.text(
    `Takes ${minutes(action.minutes)}, ${action.covers}${all}; ${STOP_WORDS[action.stops]}; by: ${action.who}.`,
    '    ',
  );
  if (action.parts !== undefined) page.text(`Parts: ${action.parts}; cost: ${action.cost}.`, '    ');
  if (action.change !== undefined && action.change.length > 0)
    page.text(`Change: ${action.change.join('; ')}.`, '    ');
  writeSideEffects(page, action.sideEffects);
  if (action.cautions.length > 0) page.text(`Take care: ${cautionNames(action.cautions)}.`, '    ');
  if (!steps) return;
  page.steps(action.steps, '    ');
  page.text(`It has worked when: ${action.proof}`, '    ');
  page.text(`To go back: ${action.goBack}`, '    ');
}

function writeSideEffects(page: Page, effects: readonly SideEffect[]): void {
  const told = (['worse', 'depends', 'better'] as const).map(
    (direction) => [direction, effects.filter((effect) => effect.direction === direction)] as const,
  );
  if (told.every(([, list]) => list.length === 0)) {
    page.text('Side effects: none to speak of.', '    ');
    return;
  }
  for (const [direction, list] of told) {
    if (list.length > 0)
      page.text(
        `${direction === 'depends' ? 'Either way' : direction === 'worse' ? 'Worse' : 'Better'}: ${list
          .map(saySideEffect)
          .join('; ')}.`,
        { first: '    ', rest: '      ' },
      );
  }
}

/** `output down 4 % (3 to 5, physics)`; what goes beyond the end use says so. */
export function saySideEffect(effect: SideEffect): string {
  const words = effect.words.replace(/\.+$/, '');
  const { low, high, changePercent } = effect;
  const limit = effect.beyondLimit === undefined ? '' : ` – beyond the limit: ${effect.beyondLimit}`;
  if (changePercent === undefined || low === undefined || high === undefined)
    return `${effect.label.toLowerCase()}: ${words}${limit}`;
  const range =
    Math.abs(high - low) < 0.5 ? '' : `${number(Math.round(low))} to ${number(Math.round(high))} %, `;
  return `${words} (${range}${effect.ground.standing})${limit}`;
}
