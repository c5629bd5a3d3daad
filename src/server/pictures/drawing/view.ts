import { localDecimal } from '../../../language/numbers.js';
import { say } from '../../../language/say.js';
import type { SpinningSetup } from '../../../spinning/setup.js';
import type { ComputedState } from '../../../spinning/state.js';
import type { Picture } from '../svg.js';
import type { PositionGeometry, XY } from './geometry.js';

/** One position to be drawn. */
export interface Drawn {
  readonly setup: SpinningSetup;
  readonly state: ComputedState;
  readonly geometry: PositionGeometry;
}

/** A view on the sheet, in its own coordinates. */
export interface View {
  readonly title: string;
  readonly width: number;
  readonly height: number;
  readonly pictures: readonly Picture[];
  /** Where a mark for a place is put. */
  readonly places: Readonly<Record<string, XY>>;
  /** Height of the rotor's axis in views that share it; side by side they stand level. */
  readonly axis?: number;
}

/** `4.0 mm`, or `4.0 mm (was 3.0)` where a change is shown. */
export function sized(now: number, before: number | undefined, unit: string, digits: number): string {
  const write = (value: number) => {
    const text = value.toFixed(digits).replace('-', '−');
    return localDecimal(text.includes('.') ? text.replace(/\.?0+$/, '') : text);
  };
  const sign = unit === '°' ? '°' : ` ${unit}`;
  const was =
    before === undefined || write(before) === write(now)
      ? ''
      : ` ${say('drawing-word.was', { value: write(before) })}`;
  return `${write(now)}${sign}${was}`;
}

/** A whole number in groups of three. */
export const grouped = (value: number) =>
  String(Math.round(value)).replace(/\B(?=(\d{3})+(?!\d))/g, '\u202f');
