import { resolveSetup } from '../../rules/case/resolve-setup.js';
import type { CaseInput } from '../../rules/case/types.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { computeState } from '../../spinning/model.js';
import { centralParameters } from '../../spinning/parameters.js';
import type { SpinningSetup } from '../../spinning/setup.js';
import type { ComputedState } from '../../spinning/state.js';
import type { DrawingView } from '../../templates/plan-models.js';
import { type DrawOptions, drawPosition, type PositionDrawing } from '../pictures/drawing/draw-position.js';

/** A setup and its state at the central values. */
export interface Position {
  readonly setup: SpinningSetup;
  readonly state: ComputedState;
}

export function positionOf(setup: SpinningSetup, knowledge: Knowledge): Position {
  return { setup, state: computeState(setup, centralParameters(knowledge.parameters)) };
}

/** The central setup of a case. */
export function setupOf(input: CaseInput, knowledge: Knowledge): SpinningSetup {
  const { uncertain } = resolveSetup(input.given, {
    endUses: knowledge.endUses,
    fibres: knowledge.parameters.fibres,
  });
  return uncertain.central;
}

/** The position in both layouts; style sheets show the one that fits. */
export function drawBoth(
  position: Position,
  options: Omit<DrawOptions, 'layout'>,
  caption: string,
): { readonly view: DrawingView; readonly wide: PositionDrawing } {
  const draw = (layout: 'wide' | 'tall') =>
    drawPosition(position.setup, position.state, { ...options, layout });
  const wide = draw('wide');
  return { view: { wide: wide.picture, tall: draw('tall').picture, caption }, wide };
}
