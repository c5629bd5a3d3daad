import type { Assumption, CaseWarning } from '../../rules/case/types.js';
import type { ComputedQuantity, MarginResult } from '../../rules/index.js';
import { number, percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';

/** Margins at or above this are not told apart: nothing limits there. */
const AMPLE = 9;

/** Every computed quantity with its 90 % interval and what it rests on. */
export function writeComputed(page: Page, computed: Readonly<Record<string, ComputedQuantity>>): void {
  page.table(
    [
      { title: 'Quantity', wraps: true },
      { title: 'Value', align: 'right' },
      { title: '90 % interval', align: 'right' },
      { title: 'Unit' },
      { title: 'Rests on' },
    ],
    Object.values(computed)
      .filter((quantity) => quantity.unit !== 'margin')
      .map((quantity) => [
        quantity.label,
        number(quantity.value),
        `${number(quantity.low)} – ${number(quantity.high)}`,
        quantity.unit,
        quantity.standing,
      ]),
    '  ',
  );
}

/** The margins with the chance that nothing is left. */
export function writeMargins(page: Page, margins: readonly MarginResult[]): void {
  page.table(
    [
      { title: 'Margin', wraps: true },
      { title: 'Left', align: 'right' },
      { title: '90 % interval', align: 'right' },
      { title: 'Chance that none is left', align: 'right' },
    ],
    margins.map((margin) => [
      margin.label,
      share(margin.value),
      margin.low >= AMPLE ? '' : `${share(margin.low)} – ${share(margin.high)}`,
      percent(chanceOfDraws(margin.chanceNegative)),
    ]),
    '  ',
  );
}

/** A chance counted on a few hundred draws is never shown as none or as certain. */
const chanceOfDraws = (share: number) => Math.min(0.999, Math.max(0.001, share));

/** A margin is a ratio less one, so it reads well in percent. */
const share = (value: number) => (value >= AMPLE ? 'ample' : `${number(Math.round(100 * value))} %`);

/** What was not given and had to be assumed. */
export function writeAssumed(page: Page, assumed: readonly Assumption[]): void {
  if (assumed.length === 0) return;
  page.heading('Assumed, because the case does not say');
  page.table(
    [{ title: 'Field' }, { title: 'Taken as', wraps: true }],
    assumed.map((one) => [one.field, one.value]),
    '  ',
  );
  const reasons = [...new Set(assumed.map((one) => one.why))];
  for (const why of reasons) page.faint(`Why: ${why}.`, '  ');
}

export function writeWarnings(page: Page, warnings: readonly CaseWarning[]): void {
  if (warnings.length === 0) return;
  page.heading('Warnings');
  for (const { field, message } of warnings) page.text(`${field}: ${message}`, { first: '  ', rest: '    ' });
}
