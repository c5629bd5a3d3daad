import type { Mill } from '../../../rules/knowledge/load-mill.js';
import { ONSET_WORDS, SCOPE_WORDS } from '../../../rules/words.js';
import type { Figure, ImpliedCase } from '../../../statistics/analysis/index.js';
import type {
  CountPictureView,
  CountTab,
  DiagnoseView,
  FigureView,
} from '../../../templates/counts-models.js';
import type { HiddenField } from '../../../templates/models.js';
import { type CountPicture, sayFigure } from '../../pictures/counts/count-picture.js';

const TABS: readonly (readonly [string, string])[] = [
  ['/counts', 'From a table'],
  ['/counts/rate', 'One rate'],
  ['/counts/compare', 'Compare'],
  ['/counts/trial-plan', 'Plan a trial'],
  ['/counts/trial', 'Judge a trial'],
  ['/counts/trial-positions', 'Trial positions'],
  ['/counts/wavelength', 'Wavelength'],
];

/** The pages of counts and trials, with the one that is open. */
export const viewTabs = (here: string): CountTab[] =>
  TABS.map(([href, text]) => ({ href, text, here: href === here }));

export const viewFigures = (figures: readonly Figure[]): FigureView[] =>
  figures.map((figure) => ({
    name: figure.name,
    value: `${sayFigure(figure.value)}${figure.unit === '' ? '' : ` ${figure.unit}`}`,
    range:
      figure.interval === undefined
        ? ''
        : `${sayFigure(figure.interval.lower)} to ${sayFigure(figure.interval.upper)} (${Math.round(100 * figure.interval.confidence)} %)`,
    method: figure.method,
    standing: figure.standing,
  }));

export const viewPicture = ({ picture, table }: CountPicture, open = false): CountPictureView => ({
  picture,
  caption: table.caption,
  columns: table.columns,
  rows: table.rows,
  open,
});

/** The way to the bench with what the counts say; undefined when they say nothing. */
export function viewDiagnose(implies: ImpliedCase, mill: Mill): DiagnoseView | undefined {
  const { scope, onset, endBreaks } = implies;
  const fields: HiddenField[] = [];
  const carries: string[] = [];
  if (scope !== undefined) {
    fields.push({ name: 'scope', value: scope });
    carries.push(`where: ${SCOPE_WORDS[scope]}`);
  }
  if (onset !== undefined) {
    fields.push({ name: 'onset', value: onset });
    carries.push(`began: ${ONSET_WORDS[onset]}`);
  }
  const add = (name: string, value: number) =>
    fields.push({ name: `measurements.end-breaks.${name}`, value: String(value) });
  if (endBreaks?.kind === 'against-norm') {
    add('count', endBreaks.count);
    add('rotor-hours', endBreaks.rotorHours);
    add('norm-per-1000', endBreaks.normPer1000);
    if (endBreaks.pickedFrom !== undefined) add('picked-from', endBreaks.pickedFrom);
    const picked =
      endBreaks.pickedFrom === undefined ? '' : `, picked as the worst of ${endBreaks.pickedFrom}`;
    carries.push(
      `${endBreaks.count} breaks in ${sayFigure(endBreaks.rotorHours)} rotor-hours against ${sayFigure(endBreaks.normPer1000)} per 1000${picked}`,
    );
  } else if (endBreaks?.kind === 'two-groups') {
    for (const side of ['a', 'b'] as const) {
      add(`${side}.count`, endBreaks[side].count);
      add(`${side}.rotor-hours`, endBreaks[side].rotorHours);
    }
    carries.push(
      `${endBreaks.b.count} breaks in ${sayFigure(endBreaks.b.rotorHours)} rotor-hours against ${endBreaks.a.count} in ${sayFigure(endBreaks.a.rotorHours)}`,
    );
  }
  if (fields.length === 0) return undefined;
  return { fields, carries, frames: viewFrames(mill) };
}

/** The frames whose setup can be diagnosed with. */
export const viewFrames = (mill: Mill): DiagnoseView['frames'] => [
  { id: 'f-frame', value: '', label: 'no card: type the setup there', chosen: true },
  ...[...mill.values()].map((frame) => ({
    id: `f-frame-${frame.id}`,
    value: frame.id,
    label: `${frame.name}, ${frame.place}`,
    chosen: false,
  })),
];
