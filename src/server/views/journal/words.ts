import type { CaseRecord, CaseState, ComplaintState, Confirmation } from '../../../journal/index.js';
import { localDecimal } from '../../../language/numbers.js';
import { say, wordTable } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { PART_RESULT_WORDS, PART_WORDS, sentenceCase } from '../../../rules/words.js';
import { sayMinutes, sayNumber, sayRough } from '../../words.js';

export const CASE_STATE_WORDS: Readonly<Record<CaseState, string>> = wordTable('case-state', [
  'open',
  'checking',
  'acting',
  'on-trial',
  'tried',
  'closed',
]);

export const COMPLAINT_STATE_WORDS: Readonly<Record<ComplaintState, string>> = wordTable('complaint-state', [
  'open',
  'contained',
  'traced',
  'corrected',
  'verified',
  'closed',
]);

export const HOW_WORDS: Readonly<Record<Confirmation, string>> = wordTable('how-known', [
  'by-trial',
  'by-part',
  'by-look',
  'unconfirmed',
]);

export const VERDICT_WORDS = wordTable('verdict', ['better', 'no-change', 'worse', 'undecided']);

/** Whether a complaint was put right; what is not one of the words stands for itself. */
export const sayFixedWord = (fixed: string): string =>
  fixed === 'yes' || fixed === 'partly' || fixed === 'no' ? say(`complaint.fixed-${fixed}`) : fixed;

/** Names of things by their ids; an id the knowledge no longer has stands for itself. */
export const causeName = (knowledge: Knowledge, id: string): string =>
  knowledge.book.causes.get(id)?.label ?? id;
export const checkName = (knowledge: Knowledge, id: string): string =>
  knowledge.book.checks.get(id)?.label ?? id;
export const actionName = (knowledge: Knowledge, id: string): string =>
  knowledge.book.actions.get(id)?.label ?? id;

/** An outcome of a check; of an exchanged part: "nozzle: cured it". */
export function outcomeName(knowledge: Knowledge, check: string, outcome: string): string {
  const [part = '', result = ''] = outcome.split('.');
  if (result !== '')
    return `${PART_WORDS[part as keyof typeof PART_WORDS] ?? part}: ${PART_RESULT_WORDS[result as keyof typeof PART_RESULT_WORDS] ?? result}`;
  return knowledge.book.checks.get(check)?.outcomes[outcome]?.label ?? outcome;
}

/** "70 min of work, 120 rotor-hours not run, 18 kg of waste"; empty when nothing was stated. */
export function sayCost(cost: CaseRecord['cost']): string {
  const parts = [
    ...(cost.minutes > 0 ? [say('record.minutes-of-work', { time: sayMinutes(cost.minutes) })] : []),
    ...(cost.rotorHours > 0 ? [say('record.not-run', { hours: sayRough(cost.rotorHours) })] : []),
    ...(cost.wasteKg > 0 ? [say('record.kg-waste', { kg: sayRough(cost.wasteKg) })] : []),
  ];
  return parts.join(', ');
}

/** A time span of minutes as people say it: "40 min", "5 h", "3 days". */
export function saySpan(minutes: number): string {
  if (minutes < 60) return `${Math.max(1, Math.round(minutes))}\u00a0min`;
  if (minutes < 48 * 60) return `${sayNumber(Number((minutes / 60).toPrecision(2)))}\u00a0h`;
  return say('record.days', { n: sayNumber(Number((minutes / 1440).toPrecision(2))) }).replace(' ', '\u00a0');
}

/** "Frame 3, position 117". */
export function sayPlace(
  record: Pick<CaseRecord, 'frame' | 'position' | 'section'>,
  frames: ReadonlyMap<string, string>,
): string {
  const parts = [
    ...(record.frame === null ? [] : [frames.get(record.frame) ?? record.frame]),
    ...(record.section === null ? [] : [record.section]),
    ...(record.position === null ? [] : [say('record.position-n', { n: record.position })]),
  ];
  return sentenceCase(parts.join(', '));
}

/** How a case ended, in a few words. */
export function sayOutcome(record: CaseRecord, knowledge: Knowledge): string {
  const { closure } = record;
  if (closure === null) return '';
  if (closure.cause === null) return say('record.out-not-found');
  return closure.outcome === 'confirmed'
    ? causeName(knowledge, closure.cause)
    : say('record.suspected', { cause: causeName(knowledge, closure.cause) });
}

/** A bound of an interval of a count or a rate: "0.2", "7.2", "31". */
export const sayBound = (value: number): string =>
  value >= 9.95
    ? sayRough(value)
    : localDecimal(String(Number(value < 0.095 ? value.toPrecision(1) : value.toFixed(1))));

/** A counted share as a figure: "77 %", "100 %". */
export const sayShare = (share: number): string => `${Math.round(share * 100)}\u00a0%`;
