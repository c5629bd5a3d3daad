import { PLAN_SETTINGS } from '../../../rules/knowledge/plan-schema.js';
import { sayChance, sayMinutes, sayPercent, sayRange } from '../../../rules/plans/plan-words.js';
import { SETTINGS } from '../../../rules/plans/settings.js';
import { PLAN_LIMIT_WORDS, PLAN_LIMITS, type Plan, type PlanReport } from '../../../rules/plans/types.js';
import { sentenceCase } from '../../../rules/words.js';
import type { DrawingView, PlanPage } from '../../../templates/plan-models.js';
import { type BenchState, writeQuery } from '../../bench-state.js';
import type { CaseForm } from '../../case-form.js';
import { type PlanQuery, withParams } from '../../plans/plan-query.js';
import { caseFields, headingOf, viewFrame } from './frame.js';

const SHOWN_PLANS = 12;

/** The page "what to change together". */
export function viewPlan(
  report: PlanReport,
  state: BenchState,
  form: CaseForm,
  query: PlanQuery,
  drawing: DrawingView | undefined,
): PlanPage {
  const { recommended } = report;
  const heading = report.kind === 'new-yarn' ? 'A setup for this yarn' : 'What to change together';
  return {
    frame: viewFrame(headingOf(heading, state, form.case), '/plan', state, form, query),
    hidden: caseFields(state),
    limits: PLAN_LIMITS.map((limit) => ({
      id: `limit-${limit}`,
      value: limit,
      label: PLAN_LIMIT_WORDS[limit].label,
      meaning: PLAN_LIMIT_WORDS[limit].meaning,
      chosen: query.limits.includes(limit),
    })),
    fixed: PLAN_SETTINGS.map((setting) => ({
      id: `fixed-${setting}`,
      value: setting,
      label: sentenceCase(SETTINGS[setting].label),
      chosen: query.fixed.includes(setting),
    })),
    positions: query.positionsText,
    positionsError: query.positionsProblem,
    shelf: query.shelf,
    shelfErrors: query.shelfProblems,
    optionsOpen:
      query.fixed.length > 0 ||
      query.shelf !== '' ||
      query.positionsText !== '' ||
      query.shelfProblems.length > 0,
    summary: report.summary,
    recommended: recommended !== undefined && recommended.changes.length > 0,
    effects: recommended === undefined ? [] : effectRows(recommended, report.present),
    cautions: report.cautions.map((caution) => caution.text),
    steps: report.steps.map((step) => ({
      number: step.number,
      title: step.title,
      why: step.why,
      how: step.how,
      work: `${sayMinutes(step.minutes)} of work, ${step.who}${step.parts === undefined ? '' : `; parts: ${step.parts}`}`,
      expect: step.expect,
      measure: step.measure,
      proof: step.proof,
      goBack: step.goBack,
      chance: sayChance(step.chance),
    })),
    beats: report.beats.map((other) => other.words),
    plans: report.efficient.slice(0, SHOWN_PLANS).map((plan) => ({
      label: sentenceCase(plan.label),
      chance: sayChance(plan.effects.chance),
      output: sayPercent(plan.effects.output.value),
      hairiness: sayPercent(plan.effects.hairiness.value),
      hand: sayPercent(plan.effects.hand.value),
      fly: sayPercent(plan.effects.fly.value),
      work: sayMinutes(plan.cost.minutes),
      href: withParams('/what-if', writeQuery(state), whatIfParams(plan)),
    })),
    plansCaption: `Plans that no other beats on everything: ${report.efficient.length}${report.efficient.length > SHOWN_PLANS ? `, the first ${SHOWN_PLANS} shown` : ''}`,
    refused: [
      ...groupedLeftOut(report),
      ...report.refused.map((one) => `${one.count} combinations: ${one.because}`),
    ],
    notes: report.notes,
    assumed: report.assumed.map((one) => `${one.label}: ${one.value}`),
    drawing,
    proposed:
      report.kind === 'new-yarn'
        ? report.setup.map((one) => ({
            label: one.label,
            value: one.planned,
            from: one.changed ? 'by the plan' : one.assumed ? 'usual' : 'given',
          }))
        : [],
  };
}

function effectRows(plan: Plan, present: Plan): PlanPage['effects'] {
  const { effects, cost } = plan;
  const change = (label: string, range: Plan['effects']['output'], planned = '') => ({
    label,
    now: '',
    planned: planned === '' ? sayPercent(range.value) : planned,
    range: sayRange(range),
  });
  return [
    {
      label: 'Chance of a stable run',
      now: sayChance(present.effects.chance),
      planned: sayChance(effects.chance),
      range: '',
    },
    ...(['twist', 'tension', 'fibres', 'heat'] as const)
      .filter((margin) => present.effects.margins[margin] < 0.995 || effects.margins[margin] < 0.995)
      .map((margin) => ({
        label: MARGIN_LABELS[margin],
        now: sayChance(present.effects.margins[margin]),
        planned: sayChance(effects.margins[margin]),
        range: '',
      })),
    {
      ...change('Output', effects.output),
      now: `${Math.round(present.effects.outputGPerRotorH.value)} g/rotor-hour`,
      planned: `${Math.round(effects.outputGPerRotorH.value)} g/rotor-hour`,
    },
    change('Hairiness', effects.hairiness),
    change('Softness of hand', effects.hand),
    change('Fly', effects.fly),
    change('Tenacity', effects.tenacity),
    change('Life of the nozzle', effects.nozzleLife),
    {
      label: 'Work',
      now: '',
      planned: `${sayMinutes(cost.trialMinutes)} for the trial, ${sayMinutes(cost.minutes)} on ${cost.positions} positions`,
      range: '',
    },
    { label: 'Parts', now: '', planned: cost.parts.length === 0 ? 'none' : cost.parts.join('; '), range: '' },
    { label: 'Yarn not spun meanwhile', now: '', planned: `${cost.lostOutputKg.toFixed(1)} kg`, range: '' },
  ];
}

const MARGIN_LABELS = {
  twist: 'Chance that the twist suffices',
  tension: 'Chance that the yarn bears its tension',
  fibres: 'Chance that there are fibres enough',
  heat: 'Chance that the fibre stays below sticking',
} as const;

function groupedLeftOut(report: PlanReport): string[] {
  const reasons = new Map<string, string[]>();
  for (const one of report.leftOut)
    reasons.set(one.because, [...(reasons.get(one.because) ?? []), one.words]);
  return [...reasons].map(
    ([because, words]) =>
      `${words.length === 1 ? words[0] : `${words.length} options (${words[0]} …)`}: ${because}`,
  );
}

/** The changes of a plan as fields of the what-if page. */
function whatIfParams(plan: Plan): [string, string][] {
  return plan.changes.flatMap((change) =>
    Object.entries(change.sets).map(([path, text]): [string, string] => [`to.${path}`, text]),
  );
}
