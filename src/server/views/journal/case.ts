import type { CaseDetail, FullDiagnosis } from '../../../journal/index.js';
import { type KeysOf, say } from '../../../language/say.js';
import { language } from '../../../language/scope.js';
import { sourceText } from '../../../language/source-text.js';
import { sayProbability } from '../../../rules/diagnosis/decibans.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { FAMILIES } from '../../../rules/knowledge/vocabulary.js';
import { sentenceCase } from '../../../rules/words.js';
import type { CasePage, FactView, JournalHead } from '../../../templates/journal-models.js';
import type { CauseRow, Link } from '../../../templates/models.js';
import { asDiagnosis, asRanking, unweighedFindings } from '../../journal/kept-case.js';
import { languageOfKept, sayKeptLanguage } from '../../journal/kept-language.js';
import { CAUSES_ASKED, CAUSES_SHOWN } from '../../journal/last-diagnosis.js';
import type { Names } from '../../journal/names.js';
import { sayNumber, sayPercent } from '../../words.js';
import { strongestReason } from '../brief-answer.js';
import { viewHistory } from './case-steps.js';
import { sayMoment } from './moments.js';
import {
  actionName,
  CASE_STATE_WORDS,
  causeName,
  checkName,
  HOW_WORDS,
  sayCost,
  sayPlace,
  saySpan,
} from './words.js';

const SUGGESTED = 3;

const BUTTONS = {
  'check-made': 'b-check',
  'action-taken': 'an-action',
  'trial-started': 'begin-trial-heading',
  'trial-finished': 'b-trial-result',
  closed: 'close-case',
  reopened: 'open-it-again',
} as const satisfies Record<string, KeysOf<'record'>>;
const QUIET = {
  noted: 'write-note',
  assigned: 'b-put-charge',
  placed: 'b-place',
  renamed: 'b-rename',
  'cost-stated': 'b-cost',
} as const satisfies Record<string, KeysOf<'record'>>;

/** The page of one case. */
export function viewCase(
  record: CaseDetail,
  kept: FullDiagnosis | undefined,
  benchHref: string,
  knowledge: Knowledge,
  names: Names,
  head: JournalHead,
): CasePage {
  const base = `/cases/${record.id}`;
  const step = (name: string) => `${base}/record/${name}`;
  const open = record.state !== 'closed';
  const ranking = kept === undefined ? undefined : asRanking(kept.diagnosis);
  const unweighed = kept === undefined ? 0 : unweighedFindings(kept, record);
  return {
    head,
    heading: record.title,
    id: record.id,
    state: record.state,
    stateWords: say('record.case-state', { number: record.number, state: CASE_STATE_WORDS[record.state] }),
    facts: caseFacts(record, names),
    closure: viewClosure(record, knowledge),
    nextChecks: open && kept !== undefined ? nextChecks(record, kept, knowledge, step('check-made')) : [],
    nextActions:
      open && kept !== undefined && record.state !== 'on-trial'
        ? nextActions(record, kept, knowledge, step('action-taken'))
        : [],
    steps: Object.entries(BUTTONS)
      .filter(([name]) => record.next.includes(name as never))
      .map(([name, key]) => ({ href: step(name), text: say(`record.${key}`) })),
    moreSteps: Object.entries(QUIET)
      .filter(([name]) => record.next.includes(name as never))
      .map(([name, key]) => ({ href: step(name), text: say(`record.${key}`) })),
    diagnosis:
      kept === undefined
        ? undefined
        : {
            when: say('record.knowledge-of', {
              when: sayMoment(kept.at),
              who: kept.who,
              version: kept.knowledgeVersion.slice(0, 12),
            }),
            madeIn: sayKeptLanguage(kept.diagnosis),
            summary: sourceText(ranking?.summary ?? ''),
            causes: viewKeptCauses(kept, knowledge, benchHref).slice(0, CAUSES_SHOWN),
            href: `${base}/diagnoses/${kept.number}`,
            unweighed: unweighed === 0 ? '' : say('record.unweighed', { n: unweighed }),
            againHref: `${base}/again`,
            again: say(unweighed === 0 ? 'record.again' : 'record.again-found'),
            benchHref,
            number:
              record.diagnoses.length > 1
                ? ` ${say('record.n-of', { n: kept.number, total: record.diagnoses.length })}`
                : '',
          },
    history: viewHistory(record.id, record.steps, record.entries, knowledge),
    complaints: record.complaints.map((id) => ({
      href: `/complaints/${id}`,
      text: say('record.complaint', { number: id.replace('complaint-', '') }),
    })),
    reportHref: `${base}/report`,
  };
}

/** Where, when, who and what it cost. */
export function caseFacts(record: CaseDetail, names: Names): FactView[] {
  const facts: FactView[] = [];
  const add = (term: string, text: string, href = '') => {
    if (text !== '') facts.push({ term, text, href });
  };
  add(
    say('record.where'),
    sayPlace(record, names.frames),
    record.frame === null ? '' : `/frames/${record.frame}`,
  );
  add(
    say('record.yarn'),
    record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? record.yarn),
    record.yarn === null ? '' : `/quality?yarn=${record.yarn}&months=6`,
  );
  add(say('record.lot'), record.lot === null ? '' : (names.lots.get(record.lot) ?? record.lot));
  add(
    say('record.opened-term'),
    `${sayMoment(record.openedAt)}${record.steps[0] === undefined ? '' : `, ${record.steps[0].who}`}`,
  );
  add(say('record.in-charge'), record.assignee);
  const { nozzle, tube, rotor } = record.partHours;
  add(
    say('record.parts-run'),
    [
      ...(nozzle === null ? [] : [say('record.nozzle-hours', { hours: `${sayNumber(nozzle)}\u00a0h` })]),
      ...(tube === null ? [] : [say('record.tube-hours', { hours: `${sayNumber(tube)}\u00a0h` })]),
      ...(rotor === null ? [] : [say('record.rotor-part-hours', { hours: `${sayNumber(rotor)}\u00a0h` })]),
    ].join(', '),
  );
  add(say('record.cost-so-far'), sentenceCase(sayCost(record.cost)));
  return facts;
}

function viewClosure(record: CaseDetail, knowledge: Knowledge): CasePage['closure'] {
  const { closure } = record;
  if (closure === null) return undefined;
  const lines: string[] = [];
  if (closure.cause !== null) {
    lines.push(`${sentenceCase(closure.how === null ? '' : HOW_WORDS[closure.how])}.`);
    if (closure.contributing.length > 0)
      lines.push(
        say('record.beside', {
          causes: closure.contributing.map((one) => causeName(knowledge, one)).join(', '),
        }),
      );
    if (record.findMinutes !== null && record.fixMinutes !== null)
      lines.push(
        say('record.found-after', { find: saySpan(record.findMinutes), fix: saySpan(record.fixMinutes) }),
      );
    const place = record.firstRanking?.place;
    if (place != null)
      lines.push(
        place === 1
          ? say('record.had-first')
          : record.firstRanking?.given == null
            ? say('record.had-place', { place })
            : say('record.had-place-at', { place, percent: sayPercent(record.firstRanking.given) }),
      );
  }
  if (closure.symptomGone !== null)
    lines.push(closure.symptomGone ? say('record.gone') : say('record.was-there'));
  if (closure.note !== '') lines.push(closure.note);
  return {
    heading:
      closure.cause === null
        ? say('record.no-cause')
        : say('record.root-cause-is', { cause: causeName(knowledge, closure.cause) }),
    lines,
  };
}

/** The causes of a kept diagnosis as rows, as they were worded then. */
export function viewKeptCauses(kept: FullDiagnosis, knowledge: Knowledge, benchHref: string): CauseRow[] {
  const query = benchHref.includes('?') ? benchHref.slice(benchHref.indexOf('?')) : '';
  const ranking = asRanking(kept.diagnosis);
  const read = languageOfKept(kept.diagnosis) === language();
  const row = (id: string, probability: number, label: string, family: string, reason: string): CauseRow => ({
    href: knowledge.book.causes.has(id) ? `/cause/${id}${query}` : '/knowledge',
    label,
    family,
    probability,
    percent: sayPercent(probability),
    words: sayProbability(probability),
    reason,
  });
  if (ranking !== undefined)
    return ranking.causes
      .filter((cause) => cause.ruledOut === undefined)
      .map((cause) =>
        row(
          cause.id,
          cause.probability,
          read ? cause.label : causeName(knowledge, cause.id),
          FAMILIES[cause.family] ?? cause.familyLabel,
          read ? strongestReason(cause) : sourceText(strongestReason(cause)),
        ),
      );
  return kept.ranked.map(([id, probability]) => row(id, probability, causeName(knowledge, id), '', ''));
}

/** Checks not made yet: those the kept diagnosis asked for, else those of its first causes. */
function nextChecks(record: CaseDetail, kept: FullDiagnosis, knowledge: Knowledge, href: string): Link[] {
  const known = Object.keys((kept.input.findings ?? {}) as object);
  const asked =
    asDiagnosis(kept.diagnosis)?.checks.map((check) => check.id) ??
    asRanking(kept.diagnosis)
      ?.causes.slice(0, CAUSES_ASKED)
      .flatMap((cause) => cause.checks) ??
    [];
  return [...new Set(asked)]
    .filter((id) => !record.checks.includes(id) && !known.includes(id) && knowledge.book.checks.has(id))
    .slice(0, SUGGESTED)
    .map((id) => ({ href: `${href}?check=${id}`, text: checkName(knowledge, id) }));
}

function nextActions(record: CaseDetail, kept: FullDiagnosis, knowledge: Knowledge, href: string): Link[] {
  const taken = record.steps.flatMap(({ data }) => (data.step === 'action-taken' ? [data.action] : []));
  const named =
    asDiagnosis(kept.diagnosis)
      ?.actions.filter((action) => action.forbidden === undefined)
      .map((action) => action.id) ??
    asRanking(kept.diagnosis)
      ?.causes.slice(0, 1)
      .flatMap((cause) => cause.actions) ??
    [];
  return [...new Set(named)]
    .filter((id) => !taken.includes(id) && knowledge.book.actions.has(id))
    .slice(0, 2)
    .map((id) => ({ href: `${href}?action=${id}`, text: actionName(knowledge, id) }));
}
