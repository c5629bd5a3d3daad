import { localDecimal } from '../../../language/numbers.js';
import { say, wordTable } from '../../../language/say.js';
import type { DrawingPage, DrawingView } from '../../../templates/plan-models.js';
import { type BenchState, writeQuery } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import type { DrawnMark, PositionDrawing } from '../../pictures/drawing/draw-position.js';
import type { Measure } from '../../pictures/drawing/measures.js';
import { type PlanQuery, planParams, withParams } from '../../plans/plan-query.js';
import { caseFields, headingOf, queryFields, viewFrame } from './frame.js';

/** What the drawing can show besides the position as it is. */
export const DRAWING_SHOWS = wordTable('drawing-show', ['planned', 'before', 'causes']);
export type DrawingShow = keyof typeof DRAWING_SHOWS;

/** The drawing page. */
export function viewDrawing(
  drawing: PositionDrawing,
  both: DrawingView,
  marks: readonly DrawnMark[],
  shows: readonly DrawingShow[],
  possible: readonly DrawingShow[],
  state: BenchState,
  form: CaseForm,
  query: PlanQuery,
): DrawingPage {
  const more: [string, string][] = [
    ...planParams(query),
    ...shows.map((show): [string, string] => ['show', show]),
  ];
  return {
    frame: viewFrame(headingOf(say('drawing.heading'), state, form.case), '/drawing', state, form, query),
    hidden: [...caseFields(state), ...queryFields(query)],
    shows: possible.map((show) => ({
      id: `show-${show}`,
      value: show,
      label: DRAWING_SHOWS[show],
      chosen: shows.includes(show),
    })),
    drawing: both,
    description: drawing.description,
    measures: drawing.measures.map((measure) => ({
      label: measure.label,
      value: write(measure, measure.value),
      before: measure.before === undefined ? '' : write(measure, measure.before),
      from: measure.from === 'setup' ? say('drawing.setting') : say('drawing.computed'),
    })),
    marks: marks.map((mark, i) =>
      say('drawing.mark', { n: i + 1, mark: mark.label, place: mark.placeLabel }),
    ),
    download: withParams('/drawing.svg', writeQuery(state), more),
  };
}

function write({ digits, unit }: Measure, value: number): string {
  const number = localDecimal(value.toFixed(digits).replace('-', '−'));
  return unit === '' ? number : unit === '°' ? `${number}°` : `${number} ${unit}`;
}
