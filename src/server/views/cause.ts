import { say, wordTable } from '../../language/say.js';
import { formatNumber } from '../../rules/case/setup-fields.js';
import { sayProbability } from '../../rules/diagnosis/decibans.js';
import type { CauseResult, Chain, ChainStep } from '../../rules/index.js';
import type { Knowledge } from '../../rules/knowledge/knowledge.js';
import { LIMITED_WORDS, sentenceCase } from '../../rules/words.js';
import type { CausePage } from '../../templates/models.js';
import type { CauseSurroundings } from '../bench-engine.js';
import { type BenchState, writeQuery } from '../bench-state.js';
import type { CaseForm } from '../case-form.js';
import { drawChains } from '../pictures/chain-graph.js';
import { drawWaterfall } from '../pictures/waterfall.js';
import { sayDecibans, sayMinutes, sayPercent, viewGround } from '../words.js';
import { sayLeftOut } from './answer.js';
import { entryHref } from './knowledge/kinds.js';
import { cautionText, viewAction, viewCheck } from './next.js';

const KIND_WORDS: Readonly<Record<ChainStep['kind'], string>> = wordTable('cause', [
  'setting',
  'cause',
  'mechanism',
  'symptom',
  'finding',
]);

/** One cause in this case: how its probability came about, what it does, how to prove it and what to do. */
export function viewCause(
  cause: CauseResult,
  diagnosis: CauseSurroundings,
  state: BenchState,
  form: CaseForm,
  knowledge: Knowledge,
): CausePage {
  const { book } = knowledge;
  const query = writeQuery(state);
  const text = cautionText(book);
  const chances = new Map(diagnosis.causes.map((one) => [one.id, one.probability]));
  const answerHref = (check: string, outcome: string) => {
    const fields = new Map([...state.fields, [`findings.${check}`, [outcome]]]);
    return `/cause/${cause.id}${writeQuery({ ...state, fields })}`;
  };
  let level = 0;
  const steps = cause.ledger.map((entry) => {
    level = entry.kind === 'base' ? entry.decibans : level + entry.decibans;
    return { label: entry.label, decibans: entry.decibans, level };
  });
  const proposed = diagnosis.checks.filter((check) => cause.checks.includes(check.id)).slice(0, 3);
  const others = cause.checks.filter((id) => !proposed.some((check) => check.id === id));
  const endUse = knowledge.endUses.get(form.case.given.endUse ?? '');
  return {
    label: cause.label,
    family: cause.familyLabel,
    what: cause.what,
    probability: cause.probability,
    percent: sayPercent(cause.probability),
    words: sayProbability(cause.probability),
    backHref: `/bench${query}#answer`,
    knowledgeHref: entryHref('causes', cause.id),
    sensitivityHref: `/sensitivity${writeQuery(state, { of: cause.id })}`,
    ruledOut:
      cause.ruledOut === undefined
        ? undefined
        : { because: cause.ruledOut.because, ground: viewGround(cause.ruledOut.ground) },
    leftOut: sayLeftOut(form, knowledge),
    base: sayPercent(cause.base),
    ledger: cause.ledger.map((entry) => ({
      label: entry.label,
      because: entry.because ?? '',
      decibans: entry.kind === 'base' ? say('cause.start') : sayDecibans(entry.decibans),
      words: entry.words,
      after: sayPercent(entry.after),
      ground: viewGround(entry.ground),
    })),
    waterfall: drawWaterfall(say('cause.waterfall', { cause: cause.label }), steps),
    chains: cause.chains.map((chain) => ({ steps: chain.steps.map(viewStep) })),
    chainPicture:
      cause.chains.length === 0
        ? undefined
        : drawChains(say('cause.chain-title', { cause: cause.label }), cause.chains),
    wouldChange: cause.wouldChange,
    lookAlikes: cause.lookAlikes.map((one) => ({
      href: `/cause/${one.cause}${query}`,
      label: one.label,
      percent: sayPercent(chances.get(one.cause) ?? 0),
      toldApartBy: one.toldApartBy,
    })),
    checks: proposed.map((check) => viewCheck(check, text, answerHref)),
    otherChecks: others.flatMap((id) => {
      const check = book.checks.get(id);
      return check === undefined ? [] : [{ href: entryHref('checks', id), text: check.label }];
    }),
    actions: diagnosis.actions
      .filter((action) => cause.actions.includes(action.id))
      .map((action) => viewAction(action, text)),
    endUse:
      endUse === undefined
        ? { label: '', limits: [] }
        : {
            label: endUse.label,
            limits: endUse.limits.map((limit) => {
              const bounds = [
                limit.least === undefined
                  ? ''
                  : say('reasoning.at-most-less', { percent: formatNumber(-limit.least) }),
                limit.most === undefined
                  ? ''
                  : say('reasoning.at-most-more', { percent: formatNumber(limit.most) }),
              ].filter((one) => one !== '');
              return say('cause.limit', {
                quality: sentenceCase(LIMITED_WORDS[limit.on]),
                bounds: bounds.join(', '),
                because: limit.because,
              });
            }),
          },
    cautions: cause.cautions.map(text).filter((one) => one !== ''),
    traceTime: sayMinutes(cause.traceMinutes),
  };
}

function viewStep(step: Chain['steps'][number]): CausePage['chains'][number]['steps'][number] {
  return {
    kind: KIND_WORDS[step.kind],
    label: step.label,
    chance: step.kind === 'setting' || step.probability >= 0.9995 ? '' : sayPercent(step.probability),
    strength: step.link?.strength === undefined ? '' : say(`cause.${step.link.strength}`),
    why: step.link?.why ?? '',
    ground: viewGround(step.link?.ground),
  };
}
