import { sayChance, sayMinutes, sayPercent, sayRange } from '../../rules/plans/plan-words.js';
import type { Plan, PlanReport, PlanStep } from '../../rules/plans/types.js';
import { PLAN_LIMIT_WORDS } from '../../rules/plans/types.js';
import type { Page } from '../layout/page.js';
import { writeCautions } from './cautions.js';
import { writeAssumed, writeWarnings } from './setup-tables.js';

const SHOWN_PLANS = 8;

/** Lays out a plan: what to do and why, cautions before the steps, what else there is. */
export function writePlan(page: Page, report: PlanReport): void {
  if (report.title !== undefined) page.strong(report.title);
  page.text(report.summary);
  for (const limit of report.limits) page.text(`Kept: ${PLAN_LIMIT_WORDS[limit]}.`);
  writeWarnings(page, report.warnings);
  for (const other of report.beats) page.text(other.words);
  writeCautions(page, report.cautions);
  if (report.steps.length > 0) page.heading('Steps, one at a time');
  for (const step of report.steps) writeStep(page, step);
  if (report.recommended !== undefined) writeEffects(page, report.recommended, report.present);
  writeOthers(page, report);
  if (report.kind === 'new-yarn' && report.recommended !== undefined) writeSetup(page, report);
  if (report.leftOut.length > 0 || report.refused.length > 0) {
    page.heading('Left out');
    const reasons = new Map<string, string[]>();
    for (const one of report.leftOut)
      reasons.set(one.because, [...(reasons.get(one.because) ?? []), one.words]);
    for (const [because, words] of reasons)
      page.faint(`${words.length === 1 ? words[0] : `${words.length} options (${words[0]} …)`}: ${because}`, {
        first: '  ',
        rest: '    ',
      });
    for (const one of report.refused)
      page.faint(`${one.count} combinations: ${one.because}`, { first: '  ', rest: '    ' });
  }
  page.heading('How it was found');
  for (const note of report.notes) page.faint(note, { first: '  ', rest: '  ' });
  writeAssumed(page, report.assumed);
}

function writeStep(page: Page, step: PlanStep): void {
  const indent = { first: '    ', rest: '      ' };
  page.strong(step.title, { first: ` ${step.number}. `, rest: '    ' });
  page.text(step.why, indent);
  for (const how of step.how) page.text(how, { first: '    - ', rest: '      ' });
  page.text(
    `${sayMinutes(step.minutes)} of work, ${step.who}${step.parts === undefined ? '' : `; parts: ${step.parts}`}.`,
    indent,
  );
  page.text(
    `Expected: ${step.expect.join('; ')}. Chance of a stable run then ${sayChance(step.chance)}.`,
    indent,
  );
  page.text(`Measure: ${step.measure.join('; ')}.`, indent);
  page.text(`It has worked when: ${step.proof}`, indent);
  page.text(`Go back: ${step.goBack}`, indent);
}

function writeEffects(page: Page, plan: Plan, present: Plan): void {
  const { effects, cost } = plan;
  page.heading('What it brings and costs');
  page.table(
    [{ title: '' }, { title: 'Expected (9 in 10 lie between)', wraps: true }],
    [
      ['Chance of a stable run', `${sayChance(present.effects.chance)} → ${sayChance(effects.chance)}`],
      [
        'Output',
        `${sayRange(effects.output)}; ${Math.round(effects.outputGPerRotorH.value)} g per rotor-hour`,
      ],
      ['Hairiness', sayRange(effects.hairiness)],
      ['Softness of hand', sayRange(effects.hand)],
      ['Fly', sayRange(effects.fly)],
      ['Tenacity', sayRange(effects.tenacity)],
      [
        'Life of the nozzle',
        `${sayRange(effects.nozzleLife)}; ${Math.round(effects.nozzleLifeH.value / 100) * 100} h`,
      ],
      [
        'Work',
        `${sayMinutes(cost.trialMinutes)} for the trial, ${sayMinutes(cost.minutes)} on ${cost.positions} positions`,
      ],
      ['Parts', cost.parts.length === 0 ? 'none' : cost.parts.join('; ')],
      ['Yarn not spun meanwhile', `${cost.lostOutputKg.toFixed(1)} kg`],
    ],
    '  ',
  );
}

function writeOthers(page: Page, report: PlanReport): void {
  const others = report.efficient.slice(0, SHOWN_PLANS);
  if (others.length <= 1) return;
  page.heading(
    `Plans that no other beats (${report.efficient.length}${report.efficient.length > SHOWN_PLANS ? `, the first ${SHOWN_PLANS}` : ''})`,
  );
  page.table(
    [
      { title: 'Plan', wraps: true },
      { title: 'Runs', align: 'right' },
      { title: 'Output', align: 'right' },
      { title: 'Hair', align: 'right' },
      { title: 'Hand', align: 'right' },
      { title: 'Work', align: 'right' },
    ],
    others.map((plan) => [
      plan.label,
      sayChance(plan.effects.chance),
      short(plan.effects.output.value),
      short(plan.effects.hairiness.value),
      short(plan.effects.hand.value),
      sayMinutes(plan.cost.minutes),
    ]),
    '  ',
  );
}

const short = (value: number) => (Math.abs(value) < 0.05 ? '0' : sayPercent(value));

function writeSetup(page: Page, report: PlanReport): void {
  page.heading('The setup proposed');
  page.table(
    [{ title: 'Setting' }, { title: 'Value', wraps: true }, { title: '' }],
    report.setup.map((one) => [
      one.label,
      one.planned,
      one.changed ? 'by the plan' : one.assumed ? 'usual' : 'given',
    ]),
    '  ',
  );
}
