import type { CaseRecord, ComplaintRecord } from '../../../journal/index.js';
import { say } from '../../../language/say.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import { sentenceCase } from '../../../rules/words.js';
import type { TableView } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { sayRough } from '../../words.js';
import { sayDay } from './moments.js';
import { type Cell, viewTable } from './table.js';
import {
  CASE_STATE_WORDS,
  COMPLAINT_STATE_WORDS,
  causeName,
  sayCost,
  sayFixedWord,
  sayOutcome,
  sayPlace,
} from './words.js';

/** Cases as a table: what and where, since when, how it stands, what it was, what it cost. */
export function casesTable(
  id: string,
  cases: readonly CaseRecord[],
  knowledge: Knowledge,
  names: Names,
  empty: string,
  options: { readonly frame?: boolean } = {},
): TableView {
  return viewTable(
    id,
    say('complaint.cases'),
    [
      say('overview.case'),
      ...(options.frame === false ? [] : [say('record.where')]),
      `@${say('record.opened-term')}`,
      say('overview.stands'),
      say('record.root-cause'),
      say('overview.cost'),
    ],
    cases.map((record): Cell[] => [
      {
        text: record.title,
        href: `/cases/${record.id}`,
        note: say('overview.case-n', { number: record.number }),
      },
      ...(options.frame === false ? [] : [sayPlace(record, names.frames)]),
      sayDay(record.openedAt),
      CASE_STATE_WORDS[record.state],
      sayOutcome(record, knowledge),
      sayCost(record.cost),
    ]),
    empty,
    cases.map((record) => record.state),
  );
}

/** Complaints as a table. */
export function complaintsTable(
  id: string,
  complaints: readonly ComplaintRecord[],
  knowledge: Knowledge,
  names: Names,
  empty: string,
): TableView {
  return viewTable(
    id,
    say('record.complaints'),
    [
      say('overview.complaint'),
      say('complaint.customer'),
      `@${say('complaint.received')}`,
      say('record.yarn'),
      say('overview.stands'),
      say('record.root-cause'),
      say('overview.fixed'),
      `#${say('overview.claimed-kg')}`,
    ],
    complaints.map((record): Cell[] => [
      {
        text: sentenceCase(record.fabricFault),
        href: `/complaints/${record.id}`,
        note: say('record.complaint', { number: record.number }),
      },
      record.customer,
      sayDay(record.receivedAt),
      record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? record.yarn),
      COMPLAINT_STATE_WORDS[record.state],
      record.rootCause === null
        ? ''
        : record.rootCause.cause === null
          ? say('overview.none-known')
          : causeName(knowledge, record.rootCause.cause),
      record.verification === null ? '' : sayFixedWord(record.verification.fixed),
      record.claimedKg === null ? '' : sayRough(record.claimedKg),
    ]),
    empty,
    complaints.map((record) => record.state),
  );
}
