import { say, wordTable } from '../../../language/say.js';
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

const STANDINGS: Readonly<Record<Figure['standing'], string>> = wordTable('figure-standing', [
  'published',
  'common practice',
  'judgement',
  'counted',
]);

const TABS = [
  ['/counts', 'counts.tab-table'],
  ['/counts/rate', 'counts.tab-rate'],
  ['/counts/compare', 'counts.tab-compare'],
  ['/counts/trial-plan', 'counts.tab-plan'],
  ['/counts/trial', 'counts.tab-trial'],
  ['/counts/trial-positions', 'counts.tab-positions'],
  ['/counts/wavelength', 'counts.tab-wavelength'],
] as const;

/** The pages of counts and trials, with the one that is open. */
export const viewTabs = (here: string): CountTab[] =>
  TABS.map(([href, text]) => ({ href, text: say(text), here: href === here }));

export const viewFigures = (figures: readonly Figure[]): FigureView[] =>
  figures.map((figure) => ({
    name: figure.name,
    value: `${sayFigure(figure.value)}${figure.unit === '' ? '' : ` ${figure.unit}`}`,
    range:
      figure.interval === undefined
        ? ''
        : say('counts.figure-range', {
            lower: sayFigure(figure.interval.lower),
            upper: sayFigure(figure.interval.upper),
            share: Math.round(100 * figure.interval.confidence),
          }),
    method: figure.method,
    standing: STANDINGS[figure.standing],
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
    carries.push(say('counts.carries-where', { scope: SCOPE_WORDS[scope] }));
  }
  if (onset !== undefined) {
    fields.push({ name: 'onset', value: onset });
    carries.push(say('counts.carries-onset', { onset: ONSET_WORDS[onset] }));
  }
  const add = (name: string, value: number) =>
    fields.push({ name: `measurements.end-breaks.${name}`, value: String(value) });
  if (endBreaks?.kind === 'against-norm') {
    add('count', endBreaks.count);
    add('rotor-hours', endBreaks.rotorHours);
    add('norm-per-1000', endBreaks.normPer1000);
    if (endBreaks.pickedFrom !== undefined) add('picked-from', endBreaks.pickedFrom);
    const picked =
      endBreaks.pickedFrom === undefined ? '' : say('counts.picked', { n: endBreaks.pickedFrom });
    carries.push(
      say('counts.carries-norm', {
        count: endBreaks.count,
        hours: sayFigure(endBreaks.rotorHours),
        norm: sayFigure(endBreaks.normPer1000),
        picked,
      }),
    );
  } else if (endBreaks?.kind === 'two-groups') {
    for (const side of ['a', 'b'] as const) {
      add(`${side}.count`, endBreaks[side].count);
      add(`${side}.rotor-hours`, endBreaks[side].rotorHours);
    }
    carries.push(
      say('counts.carries-groups', {
        count: endBreaks.b.count,
        hours: sayFigure(endBreaks.b.rotorHours),
        otherCount: endBreaks.a.count,
        otherHours: sayFigure(endBreaks.a.rotorHours),
      }),
    );
  }
  if (fields.length === 0) return undefined;
  return { fields, carries, frames: viewFrames(mill) };
}

/** The frames whose setup can be diagnosed with. */
export const viewFrames = (mill: Mill): DiagnoseView['frames'] => [
  { id: 'f-frame', value: '', label: say('counts.no-card'), chosen: true },
  ...[...mill.values()].map((frame) => ({
    id: `f-frame-${frame.id}`,
    value: frame.id,
    label: `${frame.name}, ${frame.place}`,
    chosen: false,
  })),
];
