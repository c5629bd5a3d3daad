import type { CaseRecord } from '../cases/case-rows.js';
import type { KeptDiagnosis } from '../cases/ranked.js';
import type { StepInput } from '../cases/steps.js';
import { openCase, recordDiagnosis, recordStep } from '../cases/write-case.js';
import type { Journal } from '../store.js';
import { minutesBetween } from '../time.js';
import type { Draws } from './draws.js';
import type { PlannedCase } from './plan-cases.js';
import { instantOn, nozzleHoursOn, type PlannedMill } from './plan-mill.js';
import { PEOPLE } from './words.js';

/** What the engine said of a planned case, at opening and with everything found. */
export interface PlannedRankings {
  readonly opening?: KeptDiagnosis | undefined;
  readonly complete?: KeptDiagnosis | undefined;
}

/** Writes a case with its steps, as people would have recorded it. */
export async function writeCase(
  journal: Journal,
  mill: PlannedMill,
  planned: PlannedCase,
  rankings: PlannedRankings,
  draws: Draws,
): Promise<CaseRecord> {
  const who = draws.pick(PEOPLE);
  const at = (days: number) => instantOn(mill, Math.min(mill.days - 1e-4, planned.day + days));
  const opening = rankings.opening;
  let record = await openCase(
    journal,
    {
      title: planned.title,
      assignee: draws.chance(0.6) ? draws.pick(PEOPLE) : '',
      frame: planned.frame.id,
      position: planned.position,
      lot: planned.lot,
      yarn: planned.frame.yarnId,
      partHours: { nozzle: nozzleHoursOn(planned.frame, planned.day) },
      ...(opening === undefined ? {} : { diagnosis: { input: planned.opening, diagnosis: opening } }),
    },
    { who, at: at(0) },
  );
  const left = minutesBetween(at(0), instantOn(mill, mill.days)) / 1440;
  const take = async (days: number, step: StepInput) => {
    // A case that is not finished has only the steps that fit before the end of the year.
    if (planned.end === 'unfinished' && days >= left) return;
    record = await recordStep(journal, { id: record.id, seen: record.version }, step, { who, at: at(days) });
  };
  for (const [n, { check, outcomes }] of planned.checks.entries())
    await take((planned.findDays * (n + 1)) / (planned.checks.length + 2), {
      step: 'check-made',
      check,
      outcomes: [...outcomes],
      minutes: draws.whole(3, 25),
    });
  // Looking confirms only what somebody is on record to have looked at.
  if (planned.end === 'by-look' && planned.checks.length === 0)
    await take(planned.findDays * 0.5, {
      step: 'check-made',
      check: 'part-exchange',
      outcomes: [],
      minutes: 10,
    });
  if (rankings.complete !== undefined && planned.end !== 'unfinished')
    record = await recordDiagnosis(
      journal,
      { id: record.id, seen: record.version },
      { input: planned.complete, diagnosis: rankings.complete },
      { who, at: at(planned.findDays * 0.9) },
    );
  const [action] = planned.cause.actions;
  if (action !== undefined && planned.end !== 'not-found')
    await take(planned.findDays, { step: 'action-taken', action, minutes: draws.whole(10, 60) });
  if (planned.end === 'by-trial' || (planned.end === 'unfinished' && draws.chance(0.5)))
    await writeTrial(planned, take, draws, record.state === 'acting');
  if (planned.end === 'unfinished') return record;
  const found = planned.end !== 'not-found';
  await take(planned.fixDays, {
    step: 'closed',
    cause: found ? planned.cause.id : null,
    how: closing(planned.end, record.state),
    symptomGone: found ? draws.chance(0.95) : draws.chance(0.4),
    cost: planned.cost,
    note: found ? '' : 'Gone by itself before anything was found.',
  });
  return record;
}

function closing(
  end: PlannedCase['end'],
  state: CaseRecord['state'],
): 'by-trial' | 'by-part' | 'by-look' | 'unconfirmed' | null {
  if (end === 'not-found') return null;
  if (end === 'suspected' || end === 'unfinished') return 'unconfirmed';
  return end === 'by-trial' && state !== 'tried' ? 'unconfirmed' : end;
}

async function writeTrial(
  planned: PlannedCase,
  take: (days: number, step: StepInput) => Promise<void>,
  draws: Draws,
  acting: boolean,
): Promise<void> {
  if (!acting) return;
  const span = planned.fixDays - planned.findDays;
  await take(planned.findDays + span * 0.1, {
    step: 'trial-started',
    what: 'The change against the neighbours',
    positions: planned.position === null ? [] : [planned.position],
    plannedRotorHours: 64,
  });
  const hours = 64;
  const without = draws.poisson((planned.frame.norm * 2.2 * hours) / 1000);
  const changed = draws.poisson((planned.frame.norm * hours) / 1000);
  await take(planned.findDays + span * 0.9, {
    step: 'trial-finished',
    verdict: 'better',
    counts: planned.breaksUp
      ? { without: { count: without, rotorHours: hours }, with: { count: changed, rotorHours: hours } }
      : null,
  });
}
