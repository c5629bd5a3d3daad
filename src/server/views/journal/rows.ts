import type { CaseRecord, ComplaintRecord } from '../../../journal/index.js';
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
    'Cases',
    ['Case', ...(options.frame === false ? [] : ['Where']), 'Opened', 'Stands', 'Root cause', 'Cost'],
    cases.map((record): Cell[] => [
      { text: record.title, href: `/cases/${record.id}`, note: `Case ${record.number}` },
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
    'Complaints',
    ['Complaint', 'Customer', 'Received', 'Yarn', 'Stands', 'Root cause', 'Fixed', '#Claimed, kg'],
    complaints.map((record): Cell[] => [
      {
        text: sentenceCase(record.fabricFault),
        href: `/complaints/${record.id}`,
        note: `Complaint ${record.number}`,
      },
      record.customer,
      sayDay(record.receivedAt),
      record.yarn === null ? '' : (names.yarns.get(record.yarn) ?? record.yarn),
      COMPLAINT_STATE_WORDS[record.state],
      record.rootCause === null
        ? ''
        : record.rootCause.cause === null
          ? 'none of the known ones'
          : causeName(knowledge, record.rootCause.cause),
      record.verification?.fixed ?? '',
      record.claimedKg === null ? '' : sayRough(record.claimedKg),
    ]),
    empty,
    complaints.map((record) => record.state),
  );
}
