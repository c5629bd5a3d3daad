import {
  countBreaksByHour,
  countBreaksByPosition,
  countByFrame,
  countCases,
  countFrameDays,
  findCase,
  findFrameHistory,
  findRepeatOffenders,
  type Journal,
  measureCalibration,
  measureDurations,
  measureHits,
  rankRootCauses,
  searchCases,
} from '../../../src/journal/index.js';
import { cause, DAYS, frame, instant, whole } from './mill.js';

/** What is asked of the full journal, by name. */
export function questionsOf(
  journal: Journal,
  cases: number,
): Readonly<Record<string, () => Promise<unknown>>> {
  const year = { from: instant(0), until: instant(DAYS) };
  const month = () => {
    const day = whole(DAYS - 30);
    return { from: instant(day + 0.25), until: instant(day + 30.25) };
  };
  const lastYear = { closedFrom: instant(0) };
  // As the quality desk asks: by when cases were opened.
  const opened = { openedFrom: instant(DAYS / 2) };
  const halfYear = { closedFrom: instant(DAYS / 2) };
  return {
    'case list, newest 50': () => searchCases(journal),
    'case list, open ones': () =>
      searchCases(journal, { state: ['open', 'checking', 'acting', 'on-trial', 'tried'] }),
    'case list, one frame': () => searchCases(journal, { frame: frame() }),
    'case list, frame, cause and month': () => {
      const { from, until } = month();
      return searchCases(journal, { frame: frame(), cause: cause(), openedFrom: from, openedUntil: until });
    },
    'case list, a common word': () => searchCases(journal, { text: 'breaks' }),
    'case list, a rare word': () => searchCases(journal, { text: 'moiré' }),
    'case list, a word that is nowhere': () => searchCases(journal, { text: 'zzz' }),
    'count of cases, all': () => countCases(journal),
    'count of cases, by a word': () => countCases(journal, { text: 'moiré' }),
    'one case with its steps': () => findCase(journal, `case-${1 + whole(cases)}`),
    'Pareto by number, year': () => rankRootCauses(journal, 'number', lastYear),
    'Pareto by rotor-hours, year': () => rankRootCauses(journal, 'rotor-hours', lastYear),
    'Pareto by waste, half a year, one frame': () =>
      rankRootCauses(journal, 'waste', { ...halfYear, frame: frame() }),
    'frame history, month': () => findFrameHistory(journal, frame(), month()),
    'frame history, year': () => findFrameHistory(journal, frame(), year),
    'breaks by position, month with edges': () => countBreaksByPosition(journal, frame(), month()),
    'breaks by position, year': () => countBreaksByPosition(journal, frame(), year),
    'breaks by hour, month': () => countBreaksByHour(journal, frame(), month()),
    'breaks and hours by day, year': () => countFrameDays(journal, frame(), year),
    'rates of all frames, year': () => countByFrame(journal, year),
    'repeat offenders, positions': () =>
      findRepeatOffenders(journal, 'position', { openedFrom: instant(DAYS / 2) }),
    'Pareto by minutes, opened in half a year': () => rankRootCauses(journal, 'minutes', opened),
    'times to find and fix, year': () => measureDurations(journal, lastYear),
    'times to find and fix, opened in half a year': () => measureDurations(journal, opened),
    'first-ranked was right, year': () => measureHits(journal, 'first', lastYear),
    'calibration, first-ranked, year': () => measureCalibration(journal, { filter: lastYear }),
    'calibration, opened in half a year': () => measureCalibration(journal, { filter: opened }),
    'calibration, one frame': () => measureCalibration(journal, { filter: { frame: frame() } }),
    'repeat offenders, frames, half a year': () => findRepeatOffenders(journal, 'frame', opened),
    'repeat offenders, lots, half a year': () => findRepeatOffenders(journal, 'lot', opened),
    'repeat offenders, part ages, half a year': () => findRepeatOffenders(journal, 'part-age', opened),
  };
}
