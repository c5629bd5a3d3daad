import { sayFixed } from '../../../language/numbers.js';
import { say, wordTable } from '../../../language/say.js';
import { PLAN_SETTINGS } from '../../../rules/knowledge/plan-schema.js';
import { sayChance, sayMinutes, sayPercent, sayRange } from '../../../rules/plans/plan-words.js';
import { SETTINGS } from '../../../rules/plans/settings.js';
import {
  PLAN_LIMIT_MEANINGS,
  PLAN_LIMIT_WORDS,
  PLAN_LIMITS,
  type Plan,
  type PlanReport,
} from '../../../rules/plans/types.js';
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
  const heading = report.kind === 'new-yarn' ? say('plan.new-yarn') : say('plan.together');
  return {
    frame: viewFrame(headingOf(heading, state, form.case), '/plan', state, form, query),
    hidden: caseFields(state),
    limits: PLAN_LIMITS.map((limit) => ({
      id: `limit-${limit}`,
      value: limit,
      label: PLAN_LIMIT_WORDS[limit],
      meaning: PLAN_LIMIT_MEANINGS[limit],
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
      work: say('plan.step-work', {
        time: sayMinutes(step.minutes),
        who: step.who,
        parts: step.parts === undefined ? '' : say('plan.step-parts', { parts: step.parts }),
      }),
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
    plansCaption:
      report.efficient.length > SHOWN_PLANS
        ? say('plan.caption-first', { n: report.efficient.length, shown: SHOWN_PLANS })
        : say('plan.caption', { n: report.efficient.length }),
    refused: [
      ...groupedLeftOut(report),
      ...report.refused.map((one) => say('plan.combinations', { n: one.count, because: one.because })),
    ],
    notes: report.notes,
    assumed: report.assumed.map((one) => `${one.label}: ${one.value}`),
    drawing,
    proposed:
      report.kind === 'new-yarn'
        ? report.setup.map((one) => ({
            label: one.label,
            value: one.planned,
            from: one.changed ? say('plan.by-plan') : one.assumed ? say('plan.usual') : say('plan.given'),
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
      label: say('plan.stable-chance'),
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
      ...change(say('plan.output'), effects.output),
      now: say('plan.grams', { n: Math.round(present.effects.outputGPerRotorH.value) }),
      planned: say('plan.grams', { n: Math.round(effects.outputGPerRotorH.value) }),
    },
    change(say('plan.hairiness'), effects.hairiness),
    change(say('plan.softness'), effects.hand),
    change(say('plan.fly'), effects.fly),
    change(say('plan.tenacity'), effects.tenacity),
    change(say('plan.nozzle-life'), effects.nozzleLife),
    {
      label: say('plan.work'),
      now: '',
      planned: say('plan.work-both', {
        trial: sayMinutes(cost.trialMinutes),
        all: sayMinutes(cost.minutes),
        n: cost.positions,
      }),
      range: '',
    },
    {
      label: say('plan.parts'),
      now: '',
      planned: cost.parts.length === 0 ? say('plan.none') : cost.parts.join('; '),
      range: '',
    },
    { label: say('plan.lost'), now: '', planned: `${sayFixed(cost.lostOutputKg, 1)} kg`, range: '' },
  ];
}

const MARGIN_LABELS = wordTable('plan-margin', ['twist', 'tension', 'fibres', 'heat']);

function groupedLeftOut(report: PlanReport): string[] {
  const reasons = new Map<string, string[]>();
  for (const one of report.leftOut)
    reasons.set(one.because, [...(reasons.get(one.because) ?? []), one.words]);
  return [...reasons].map(
    ([because, words]) =>
      `${words.length === 1 ? words[0] : say('plan.some-options', { n: words.length, first: words[0] ?? '' })}: ${because}`,
  );
}

/** The changes of a plan as fields of the what-if page. */
function whatIfParams(plan: Plan): [string, string][] {
  return plan.changes.flatMap((change) =>
    Object.entries(change.sets).map(([path, text]): [string, string] => [`to.${path}`, text]),
  );
}
