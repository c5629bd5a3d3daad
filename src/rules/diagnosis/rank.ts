import { say } from '../../language/say.js';
import type { CaseWarning } from '../case/types.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import type { RuleBook } from '../knowledge/knowledge-base.js';
import type { Cause } from '../knowledge/schema.js';
import { FAMILIES } from '../knowledge/vocabulary.js';
import { chainFinder } from './chains.js';
import { sayProbability } from './decibans.js';
import { groundOf } from './ground.js';
import type { Inference } from './infer.js';
import { buildLedgers } from './ledger.js';
import type { PreparedCase, Reasoner } from './prepare.js';
import { raisedCautions, reportSetup } from './setup-report.js';
import { type Sign, signsSeen } from './signs.js';
import { type Reach, singleCauseReach } from './single-cause-reach.js';
import type { CauseResult, Ranking } from './types.js';
import { unexplainedSigns } from './unexplained.js';

/** Causes above this probability get their cautions raised. */
const WORTH_A_CAUTION = 0.05;

/** Puts the ranking together: causes with ledger and chains, what stays unexplained, assumptions and cautions. */
export function buildRanking(reasoner: Reasoner, prepared: PreparedCase, inference: Inference): Ranking {
  const { knowledge, graph } = reasoner;
  const { book } = knowledge;
  const ledgers = buildLedgers(inference, book);
  const chainsOf = chainFinder(inference, prepared, graph, book);
  const causes = [...book.causes.values()]
    .map((cause): CauseResult => {
      const prior = inference.priors.get(cause.id);
      return {
        id: cause.id,
        label: cause.label,
        family: cause.family,
        familyLabel: FAMILIES[cause.family],
        kind: cause.kind,
        what: cause.what,
        probability: inference.posterior.marginals.get(cause.id) ?? prior?.prior ?? 0,
        base: prior?.base ?? cause.prior.base,
        ...(prior?.ruledOut === undefined
          ? {}
          : { ruledOut: { because: prior.ruledOut.because, ground: groundOf(book, prior.ruledOut.basis) } }),
        ledger: ledgers.get(cause.id) ?? [],
        chains: chainsOf(cause.id),
        wouldChange: [],
        lookAlikes: lookAlikesOf(cause, book),
        checks: cause.checks,
        actions: cause.actions.map(nameOf),
        cautions: cause.cautions ?? [],
        traceMinutes: cause['trace-minutes'],
      };
    })
    .sort(byProbability);
  const report = reportSetup(prepared, book);
  return {
    knowledgeVersion: knowledge.version,
    ...(prepared.input.title === undefined ? {} : { title: prepared.input.title }),
    causes,
    unexplained: unexplainedSigns(reasoner, inference),
    summary: summarise(causes, inference),
    assumed: report.assumed,
    cautions: allCautions(knowledge, prepared, causes),
    computed: report.computed,
    margins: report.margins,
    warnings: [...estimateWarning(inference), ...report.warnings],
    inference: {
      method: inference.posterior.method,
      exact: inference.posterior.exact,
      width: inference.posterior.width,
      milliseconds: inference.milliseconds,
    },
    severalCauses: severalAtWork(reasoner, prepared, inference),
  };
}

const byProbability = (a: CauseResult, b: CauseResult) =>
  b.probability - a.probability || a.id.localeCompare(b.id);

const nameOf = (action: Cause['actions'][number]) => action.do;

function lookAlikesOf(cause: Cause, book: RuleBook): CauseResult['lookAlikes'] {
  const found: CauseResult['lookAlikes'][number][] = [];
  for (const { cause: id, 'told-apart-by': toldApartBy } of cause['look-alikes'] ?? [])
    found.push({ cause: id, label: book.causes.get(id)?.label ?? id, toldApartBy });
  return found;
}

/** Says so when the case was too much for an exact answer, with how far off the estimate may be. */
function estimateWarning({ posterior }: Inference): CaseWarning[] {
  if (posterior.exact) return [];
  const error = (100 * posterior.standardError).toFixed(0);
  return [
    {
      field: 'observations',
      message: say('reasoning.estimate', { error }),
    },
  ];
}

/** Chance that two or more causes that bear on what was seen are at work together. */
function severalAtWork(reasoner: Reasoner, prepared: PreparedCase, inference: Inference): number {
  const reach = singleCauseReach(reasoner.graph, prepared.cutLinks);
  const signs = signsSeen(reasoner, inference);
  const concerned: string[] = [];
  for (const { id, family } of reasoner.knowledge.book.causes.values())
    if (family !== 'chance' && bringsAny(id, signs, reach)) concerned.push(id);
  return inference.posterior.chanceOfTwo(concerned);
}

function bringsAny(cause: string, signs: readonly Sign[], reach: Reach): boolean {
  for (const sign of signs) if (reach(cause, sign.symptom) > 0.15) return true;
  return false;
}

function summarise(causes: readonly CauseResult[], inference: Inference): string {
  const [first, second] = causes;
  if (first === undefined) return say('reasoning.no-causes');
  if (inference.items.length === 0) return say('reasoning.nothing-seen');
  const percent = (p: number) => `${Math.round(100 * p)} %`;
  const name = (cause: CauseResult) => say('reasoning.quoted', { text: cause.label });
  const lead = {
    cause: name(first),
    chance: sayProbability(first.probability),
    percent: percent(first.probability),
  };
  if (first.family === 'chance') return say('reasoning.no-fault', lead);
  if (first.probability < 0.2)
    return say('reasoning.none-stands-out', { cause: lead.cause, percent: lead.percent });
  return second !== undefined && second.probability > 0.5 * first.probability
    ? say('reasoning.is-chance-close', {
        ...lead,
        next: name(second),
        nextPercent: percent(second.probability),
      })
    : say('reasoning.is-chance', lead);
}

function allCautions(knowledge: Knowledge, prepared: PreparedCase, causes: readonly CauseResult[]) {
  const ids = new Set(raisedCautions(prepared, knowledge.book).map((caution) => caution.id));
  for (const cause of causes)
    if (cause.probability > WORTH_A_CAUTION) for (const id of cause.cautions) ids.add(id);
  return [...knowledge.book.cautions]
    .filter(([id]) => ids.has(id))
    .map(([id, caution]) => ({ id, text: caution.text }));
}
