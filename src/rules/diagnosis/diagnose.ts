import type { Language } from '../../language/languages.js';
import { language } from '../../language/scope.js';
import type { CaseInput, CaseVocabulary } from '../case/types.js';
import type { Diagnostician } from '../diagnostician.js';
import { type Keeping, keepLast } from '../keep-last.js';
import type { Knowledge } from '../knowledge/knowledge.js';
import { localise, speaking } from '../knowledge/localise.js';
import { rankActions, wantedActions } from './actions.js';
import { buildCausalGraph } from './causal-graph.js';
import { CHECK_SAMPLES, rankChecks, SAMPLE_SEED } from './checks.js';
import { collectConditions } from './condition-book.js';
import { findForbidden } from './end-use-forbids.js';
import { prepareCase, type Reasoner } from './prepare.js';
import { reportSetup } from './setup-report.js';
import { tryActions } from './tried-actions.js';
import type { Diagnosis, Ranking, SetupReport } from './types.js';
import { letGo, workOut } from './worked-case.js';
import { sayWhatWouldChange } from './would-change.js';

/** Makes a diagnostician from a loaded knowledge base: compiles the network once, then answers any number of cases. */
export function createDiagnostician(knowledge: Knowledge): Diagnostician {
  // One for each language: numbers and structure are the same, the texts are not.
  const reasoners = new Map<Language, Reasoner>();
  const reasoner = (): Reasoner => {
    const now = language();
    const ready = reasoners.get(now) ?? makeReasoner(localise(knowledge, now));
    reasoners.set(now, ready);
    return ready;
  };
  reasoner();
  return {
    knowledge: speaking(knowledge),
    vocabulary: vocabularyOf(knowledge),
    rank: (input) => rank(reasoner(), input),
    diagnose: (input) => diagnose(reasoner(), input),
    report: (input) => report(reasoner(), input),
  };
}

function makeReasoner(knowledge: Knowledge): Reasoner {
  const { book, judgements } = knowledge;
  return {
    knowledge,
    graph: buildCausalGraph(book, judgements['marked-share'], judgements['before-trouble']),
    conditions: collectConditions(book),
  };
}

async function rank(reasoner: Reasoner, input: CaseInput): Promise<Ranking> {
  const { ranking } = await workOut(reasoner, input);
  return ranking;
}

/**
 * Diagnoses kept: whoever has one on the screen opens a cause of it next. Their texts are those of the knowledge base, so
 * that each takes some 50 kilobytes.
 */
const KEPT = 200;
const kept = new WeakMap<Reasoner, Keeping<Diagnosis>>();

function diagnose(reasoner: Reasoner, input: CaseInput): Promise<Diagnosis> {
  const ofReasoner = kept.get(reasoner) ?? keepLast<Diagnosis>(KEPT);
  kept.set(reasoner, ofReasoner);
  return ofReasoner(JSON.stringify(input), () => diagnoseAnew(reasoner, input));
}

async function diagnoseAnew(reasoner: Reasoner, input: CaseInput): Promise<Diagnosis> {
  const { book } = reasoner.knowledge;
  const { prepared, inference, ranking } = await workOut(reasoner, input);
  const samples = inference.posterior.sample(CHECK_SAMPLES, SAMPLE_SEED);
  const wanted = wantedActions(book, inference);
  const tried = tryActions(reasoner, prepared, wanted);
  const forbidden = await findForbidden(reasoner, prepared, [...wanted]);
  const checks = rankChecks(reasoner, prepared, inference, samples);
  const actions = rankActions(reasoner, prepared, inference, samples, tried, forbidden);
  const moved = sayWhatWouldChange(ranking.causes, checks);
  const named = new Set([...ranking.causes, ...checks, ...actions].flatMap((one) => one.cautions));
  for (const caution of ranking.cautions) named.add(caution.id);
  letGo(reasoner, input);
  return {
    ...ranking,
    cautionTexts: Object.fromEntries(
      [...book.cautions].filter(([id]) => named.has(id)).map(([id, { text }]) => [id, text]),
    ),
    causes: ranking.causes.map((cause) => ({ ...cause, wouldChange: moved.get(cause.id) ?? [] })),
    checks,
    actions,
  };
}

async function report(reasoner: Reasoner, input: CaseInput): Promise<SetupReport> {
  return reportSetup(await prepareCase(reasoner, input), reasoner.knowledge.book);
}

/** Ids that a case file may use. */
export function vocabularyOf(knowledge: Knowledge): CaseVocabulary {
  return {
    symptoms: new Set(knowledge.book.symptoms.keys()),
    checks: new Map(
      [...knowledge.book.checks].map(([id, check]) => [id, new Set(Object.keys(check.outcomes))]),
    ),
    actions: new Set(knowledge.book.actions.keys()),
    fibres: new Set(knowledge.fibres.keys()),
    endUses: new Set(knowledge.endUses.keys()),
  };
}
