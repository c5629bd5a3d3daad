import { say } from '../../../language/say.js';
import type { Comparison } from '../../../rules/plans/compare.js';
import type { ComparePage, DrawingView } from '../../../templates/plan-models.js';
import type { BenchState } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import { type DifferenceBar, drawDifferences } from '../../pictures/plans/difference-bars.js';
import type { CompareChoice } from '../../plans/compare-choices.js';
import { sayRough, sayUnit } from '../../words.js';
import { caseFields, viewFrame } from './frame.js';

/** Quantities in the picture. */
const PICTURED = [
  'take-up-tension',
  'false-twist',
  'binding-in-length',
  'wrapper-share',
  'output',
  'tenacity',
  'hairiness',
  'softness',
  'fly',
  'nozzle-life',
];

/** The page "side by side". */
export function viewCompare(
  comparison: Comparison,
  chosen: readonly string[],
  choices: readonly CompareChoice[],
  state: BenchState,
  form: CaseForm,
  drawing: DrawingView | undefined,
): ComparePage {
  const { names } = comparison;
  return {
    frame: viewFrame(say('compare.heading'), '/compare', state, form, undefined),
    hidden: caseFields(state),
    choices: ['a', 'b', 'c'].map((name, i) => ({
      name,
      label:
        i === 0 ? say('compare.this-one') : i === 1 ? say('compare.against-this') : say('compare.and-this'),
      options: [
        ...(i === 2
          ? [{ id: 'c-none', value: '', label: say('compare.none'), chosen: (chosen[2] ?? '') === '' }]
          : []),
        ...choices.map((one) => ({
          id: `${name}-${one.id}`,
          value: one.id,
          label: one.label,
          chosen: chosen[i] === one.id,
        })),
      ],
    })),
    names,
    pairs: comparison.summary.map((sentences, i) => ({
      title: say('compare.against', { name: names[i + 1] ?? '', first: names[0] ?? '' }),
      differing: comparison.differing[i] ?? [],
      sentences,
      method: comparison.method[i] ?? '',
      picture: drawDifferences(
        say('compare.against-percent', { name: names[i + 1] ?? '', first: names[0] ?? '' }),
        barsOf(comparison, i),
      ),
    })),
    columns: [
      ...names,
      ...names.slice(1).map((name) => say('compare.less', { name, first: names[0] ?? '' })),
    ],
    rows: comparison.quantities.map((quantity) => ({
      label: quantity.label,
      meaning: quantity.meaning,
      unit: quantity.unit === 'margin' || quantity.unit === 'ratio' ? '' : sayUnit(quantity.unit),
      cells: [
        ...quantity.values.map((one) => range(one, quantity.unit)),
        ...quantity.against.map(({ difference }) =>
          difference.low === 0 && difference.high === 0
            ? say('compare.same')
            : range(difference, quantity.unit),
        ),
      ],
    })),
    drawing,
  };
}

function barsOf(comparison: Comparison, index: number): DifferenceBar[] {
  return PICTURED.flatMap((id) => {
    const quantity = comparison.quantities.find((one) => one.id === id);
    const from = quantity?.values[0]?.value ?? 0;
    const against = quantity?.against[index];
    if (quantity === undefined || against === undefined || from === 0) return [];
    const percent = (value: number) => (100 * value) / Math.abs(from);
    const { value, low, high } = against.difference;
    return [{ label: quantity.label, value: percent(value), low: percent(low), high: percent(high) }];
  });
}

/** A value with its range; margins in percent. */
function range(
  one: { readonly value: number; readonly low: number; readonly high: number },
  unit: string,
): string {
  if (unit === 'margin' && one.low >= 9) return say('compare.ample');
  const write = (value: number) =>
    unit === 'margin' ? `${Math.round(100 * value)} %`.replace('-', '−') : sayRough(value);
  return one.low === one.high
    ? write(one.value)
    : say('compare.range', { middle: write(one.value), low: write(one.low), high: write(one.high) });
}
