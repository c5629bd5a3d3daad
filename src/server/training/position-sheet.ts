import type { CaseInput } from '../../rules/case/types.js';
import type { TrainingWork } from '../../rules/training/index.js';
import { type DrawnMark, drawPosition } from '../pictures/drawing/draw-position.js';
import { standaloneDrawing } from '../pictures/drawing/standalone.js';

/** A drawing to scale of the position that a case is about, as a file of its own, with its description. */
export interface PositionSheet {
  readonly svg: string;
  readonly description: string;
}

/**
 * Draws the position of a case with the place that matters marked.
 * @param before the same position before a change, drawn dashed beneath
 */
export async function drawSheet(
  work: TrainingWork,
  input: CaseInput,
  options: {
    readonly title: string;
    readonly layout: 'wide' | 'tall';
    readonly mark?: DrawnMark | undefined;
    readonly before?: CaseInput | undefined;
  },
): Promise<PositionSheet> {
  const now = await work.position(input);
  const drawing = drawPosition(now.setup, now.state, {
    title: options.title,
    layout: options.layout,
    marks: options.mark === undefined ? [] : [options.mark],
    ...(options.before === undefined ? {} : { before: await work.position(options.before) }),
  });
  return { svg: standaloneDrawing(drawing), description: drawing.description };
}

/** The answer of a route with a drawing. */
export const svgResponse = (svg: string): Response =>
  new Response(svg, { headers: { 'Content-Type': 'image/svg+xml; charset=utf-8' } });
