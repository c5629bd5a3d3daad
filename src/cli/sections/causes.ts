import type { CauseResult, LedgerEntry } from '../../rules/index.js';
import { drawBar } from '../layout/bar.js';
import { decibans, percent } from '../layout/figures.js';
import type { Page } from '../layout/page.js';
import { columnsOf, wrapText } from '../layout/wrap.js';
import type { Terminal } from '../terminal.js';

const BAR_CELLS = 12;
const MOST_REASONS = 3;
/** Weights under this are not worth a line among the reasons, decibans. */
const LEAST_REASON = 1;

/** The first causes with probability, bar and strongest reasons; how many more there are. */
export function writeCauses(
  page: Page,
  terminal: Terminal,
  causes: readonly CauseResult[],
  top: number,
): void {
  page.heading('Causes');
  const shown = causes.filter((cause) => cause.ruledOut === undefined).slice(0, top);
  shown.forEach((cause, index) => {
    const lead = `${String(index + 1).padStart(2)}. `;
    const figures = `${percent(cause.probability).padStart(5)}  ${drawBar(cause.probability, BAR_CELLS, terminal.unicode)}`;
    const room = terminal.width - columnsOf(lead) - 5 - 2 - BAR_CELLS - 2;
    const [first = '', ...more] = wrapText(cause.label, room);
    page.line(`${lead}${first.padEnd(room)}  ${figures}`);
    for (const line of more) page.line(`    ${line}`);
    for (const reason of strongestReasons(cause.ledger)) {
      const because = reason.because === undefined ? '' : ` ${reason.because}`;
      page.text(`${reason.label.replace(/\.$/, '')} (${decibans(reason.decibans)}).${because}`, {
        first: reason.decibans > 0 ? '    + ' : '    − ',
        rest: '      ',
      });
    }
  });
  const others = causes.filter((cause) => cause.ruledOut === undefined).length - shown.length;
  const out = causes.length - others - shown.length;
  const tail = [
    ...(others > 0 ? [`${others} further causes are less likely than these`] : []),
    ...(out > 0 ? [`${out} ${out === 1 ? 'is' : 'are'} ruled out by what is known`] : []),
  ];
  page.line();
  page.faint(
    `Figures behind the reasons are decibans: +10 makes the odds ten times higher, −10 ten times lower.${
      tail.length === 0 ? '' : ` ${tail.join('; ')}.`
    }`,
  );
}

/** Ledger entries that weigh most, in either direction; never the base rate. */
export function strongestReasons(ledger: readonly LedgerEntry[]): readonly LedgerEntry[] {
  return ledger
    .filter((entry) => entry.kind !== 'base' && Math.abs(entry.decibans) >= LEAST_REASON)
    .sort((a, b) => Math.abs(b.decibans) - Math.abs(a.decibans))
    .slice(0, MOST_REASONS);
}
