import { accumulate } from '../../statistics/random.js';
import { type BreakEvent, MOST_EVENTS, recordBreaks } from '../machine/break-events.js';
import { type RunInput, recordRuns } from '../machine/runs.js';
import type { Journal } from '../store.js';
import type { Draws } from './draws.js';
import type { PlannedCase } from './plan-cases.js';
import { instantOn, type PlannedFrame, type PlannedMill } from './plan-mill.js';

const WHO = { who: 'Machine data' };

/**
 * Writes a year of running hours and breaks of a frame: counted by day at first, single events in the last days. Breaks
 * are over-dispersed from day to day, uneven over the positions, and up while a case with breaks is open.
 */
export async function writeMachineData(
  journal: Journal,
  mill: PlannedMill,
  frame: PlannedFrame,
  cases: readonly PlannedCase[],
  eventDays: number,
  draws: Draws,
): Promise<number> {
  const own = cases.filter((one) => one.frame === frame && one.breaksUp);
  const runs: RunInput[] = [];
  const events: BreakEvent[] = [];
  const weights = accumulate(frame.positionWeights);
  for (let day = 0; day < mill.days; day++) {
    const hours = Math.min(23.8, 24 * frame.running * draws.logNormal(1, 0.02));
    const rotorHours = Math.round(hours * frame.positions * 10) / 10;
    const trouble = own.filter((one) => one.day < day + 1 && one.day + one.fixDays > day);
    const factor = trouble.reduce((product, one) => product * (one.position === null ? 2 : 1.03), 1);
    const breaks = draws.poisson(((frame.norm * rotorHours) / 1000) * factor * draws.logNormal(1, 0.15));
    const single = day >= mill.days - eventDays;
    runs.push({
      frame: frame.id,
      from: instantOn(mill, day),
      until: instantOn(mill, day + 1),
      rotorHours,
      breaks: single ? null : breaks,
    });
    if (!single) continue;
    for (let n = 0; n < breaks; n++)
      events.push({
        frame: frame.id,
        position: positionOf(weights, draws.next()),
        at: instantOn(mill, day + Math.floor(draws.next() * 86_400) / 86_400),
      });
  }
  await recordRuns(journal, `demo-runs-${frame.id}`, runs, WHO);
  for (let start = 0; start < events.length; start += MOST_EVENTS)
    await recordBreaks(
      journal,
      `demo-breaks-${frame.id}-${start}`,
      events.slice(start, start + MOST_EVENTS),
      WHO,
    );
  return events.length;
}

/** The position a uniform number falls on, by the running sums of the weights. */
function positionOf(sums: readonly number[], uniform: number): number {
  const target = uniform * (sums.at(-1) ?? 1);
  let low = 0;
  let high = sums.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sums[middle] ?? 0) > target) high = middle;
    else low = middle + 1;
  }
  return low + 1;
}
