import { localDecimal } from '../../language/numbers.js';
import { say, wordFor } from '../../language/say.js';
import { formatNumber } from '../../rules/case/setup-fields.js';
import { groupBy } from '../../rules/group.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { sentenceCase } from '../../rules/words.js';
import type { Sensitivity, SensitivityReport } from '../../rules/workshop/sensitivity.js';
import type { SensitivityPage } from '../../templates/models.js';
import { type BenchState, writeQuery } from '../bench-state.js';
import type { CaseForm } from '../case-form.js';
import { drawTornado } from '../pictures/tornado.js';
import { sayPercent } from '../words.js';
import { sayLeftOut } from './answer.js';
import { describeSetup } from './setup-line.js';

/** Numbers drawn and listed; the rest hardly moves anything. */
const MOST_ROWS = 12;
/** A number that moves the cause by less than this is not worth a row. */
const LEAST_MOVE = 0.005;

/**
 * Which numbers of the knowledge a ranking hangs on: in words, drawn, and as a table.
 *
 * @param report undefined when the case asks nothing
 * @param of cause that the page is about; the leading one when left out
 */
export function viewSensitivity(
  report: SensitivityReport | undefined,
  of: string | undefined,
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
): SensitivityPage {
  const query = writeQuery(state);
  const label = (id: string) => knowledge.book.causes.get(id)?.label ?? id;
  const about = of ?? report?.leader ?? '';
  const base = {
    heading: say('sensitivity.heading'),
    asked: report !== undefined,
    setupLine: describeSetup(form.case.given),
    leftOut: sayLeftOut(form, knowledge),
    backHref: `/bench${query}#answer`,
    causeHref: about === '' ? '' : `/cause/${about}${query}`,
    about: label(about),
  };
  if (report === undefined)
    return { ...base, lead: '', leaders: [], words: [], picture: undefined, rows: [], leftOutWords: '' };

  const changeOf = (one: Sensitivity) => one.changes.find((change) => change.cause === about);
  const now = report.sensitivities.map(changeOf).find((change) => change !== undefined)?.before ?? 0;
  const numbers = [...groupBy(report.sensitivities, (one) => one.what)]
    .map(([what, steps]) => ({ what, steps, move: Math.max(...steps.map((one) => moveOf(changeOf(one)))) }))
    .filter((number) => number.move >= LEAST_MOVE)
    .sort((a, b) => b.move - a.move)
    .slice(0, MOST_ROWS);
  const overturning = report.sensitivities.filter((one) => one.leader !== undefined);
  const [first] = numbers;
  const widest = first?.steps.reduce((most, one) =>
    moveOf(changeOf(one)) > moveOf(changeOf(most)) ? one : most,
  );
  return {
    ...base,
    lead: say('sensitivity.lead', {
      cause: label(report.leader),
      overturning:
        overturning.length === 0
          ? say('sensitivity.none-overturns')
          : say('sensitivity.overturning', { n: overturning.length }),
    }),
    leaders: overturning.slice(0, 6).map((one) => ({
      text: say('sensitivity.leader', {
        number: sentenceCase(one.what),
        from: sayLevel(one.kind, one.from),
        to: sayLevel(one.kind, one.to),
        cause: label(one.leader ?? ''),
      }),
    })),
    words:
      widest === undefined
        ? [say('sensitivity.stands-still', { cause: label(about), now: sayPercent(now) })]
        : [
            say('sensitivity.hangs-most', {
              cause: label(about),
              now: sayPercent(now),
              number: widest.what,
              to: sayLevel(widest.kind, widest.to),
              from: sayLevel(widest.kind, widest.from),
              after: sayPercent(changeOf(widest)?.after ?? now),
            }),
          ],
    picture:
      numbers.length === 0
        ? undefined
        : drawTornado(
            say('sensitivity.how-far', { cause: label(about) }),
            now,
            numbers.map(({ what, steps }) => ({
              label: sentenceCase(what),
              ends: steps.map((one) => ({
                value: changeOf(one)?.after ?? now,
                label: sayLevel(one.kind, one.to),
              })),
            })),
          ),
    rows: numbers.map(({ what, steps }) => ({
      what: sentenceCase(what),
      href: hrefOf(steps[0]?.file ?? '', knowledge),
      now: sayLevel(steps[0]?.kind ?? 'link', steps[0]?.from ?? ''),
      steps: steps.map((one) => ({
        to: sayLevel(one.kind, one.to),
        after: sayPercent(changeOf(one)?.after ?? now),
        move: sayMove(changeOf(one)),
        others: one.changes
          .filter((change) => change.cause !== about && moveOf(change) >= 0.01)
          .map(
            (change) => `${label(change.cause)}: ${sayPercent(change.before)} → ${sayPercent(change.after)}`,
          ),
        leads: one.leader === undefined ? '' : label(one.leader),
      })),
    })),
    leftOutWords: report.leftOut === 0 ? '' : say('sensitivity.not-tried', { n: report.leftOut }),
  };
}

/** A step of a scale in words: "near certain", "2.4 %". */
const sayLevel = (kind: Sensitivity['kind'], level: string) =>
  kind === 'base-rate'
    ? `${formatNumber(Number(level) * 100)}\u00a0%`
    : (wordFor(kind === 'link' ? 'strength' : 'weight', level) ?? level);

type Change = Sensitivity['changes'][number] | undefined;
const moveOf = (change: Change) => (change === undefined ? 0 : Math.abs(change.after - change.before));

/** "+12 points": how far a probability moves, in percentage points. */
function sayMove(change: Change): string {
  const points = change === undefined ? 0 : (change.after - change.before) * 100;
  const sign = points >= 0 ? '+' : '−';
  return `${sign}${localDecimal(Math.abs(points).toFixed(Math.abs(points) < 9.95 ? 1 : 0))}`;
}

/** The page of the entry that a file holds. */
function hrefOf(file: string, { book }: Knowledge): string {
  const [folder = '', name = ''] = file.replace(/\.yaml$/, '').split('/');
  if (folder === 'causes' && book.causes.has(name)) return `/knowledge/causes/${name}`;
  return folder === 'mechanisms' && book.mechanisms.has(name) ? `/knowledge/mechanisms/${name}` : '';
}
