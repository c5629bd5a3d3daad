import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { FormView } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { startFields, typedFrom, viewForm } from './form.js';
import { CASE_STATE_WORDS, COMPLAINT_STATE_WORDS } from './words.js';

const ANY: readonly [string, string] = ['', 'any'];

/** Causes by their names, for a list to choose from. */
export const causeChoices = (knowledge: Knowledge): (readonly [string, string])[] =>
  [...knowledge.book.causes.values()]
    .map((cause) => [cause.id, cause.label] as const)
    .sort(([, a], [, b]) => a.localeCompare(b, 'en'));

export const MONTH_CHOICES: readonly (readonly [string, string])[] = [
  ['', 'all time'],
  ['1', 'the last month'],
  ['3', 'the last 3 months'],
  ['6', 'the last 6 months'],
  ['12', 'the last year'],
];

/** The search above the list of cases. */
export function viewCaseFilter(params: URLSearchParams, knowledge: Knowledge, names: Names): FormView {
  const make = startFields(typedFrom(params), []);
  return viewForm('/cases', 'Search', [
    make.text('q', 'Words', { hint: 'In title, notes, place, cause or number.' }),
    make.select('frame', 'Frame', [ANY, ...names.frames]),
    make.number('position', 'Position'),
    make.select('yarn', 'Yarn', [ANY, ...names.yarns]),
    make.select('lot', 'Lot', [ANY, ...names.lots]),
    make.select('cause', 'Root cause', [ANY, ...causeChoices(knowledge)]),
    make.select('state', 'Stands', [ANY, ['not-closed', 'not closed'], ...Object.entries(CASE_STATE_WORDS)]),
    make.select('outcome', 'Ended', [
      ANY,
      ['confirmed', 'cause confirmed'],
      ['suspected', 'cause suspected'],
      ['not-found', 'not found'],
    ]),
    make.select('months', 'Opened in', MONTH_CHOICES),
    make.day('from', 'Or from'),
    make.day('until', 'Until'),
  ]);
}

/** The search above the list of complaints. */
export function viewComplaintFilter(params: URLSearchParams, knowledge: Knowledge, names: Names): FormView {
  const make = startFields(typedFrom(params), []);
  return viewForm('/complaints', 'Search', [
    make.text('q', 'Words', { hint: 'In customer, fault, lot, causes and actions.' }),
    make.text('customer', 'Customer', { hint: 'The whole name.' }),
    make.select('yarn', 'Yarn', [ANY, ...names.yarns]),
    make.select('lot', 'Lot', [ANY, ...names.lots]),
    make.select('frame', 'Frame', [ANY, ...names.frames]),
    make.select('cause', 'Root cause', [ANY, ...causeChoices(knowledge)]),
    make.select('state', 'Stands', [
      ANY,
      ['not-closed', 'not closed'],
      ...Object.entries(COMPLAINT_STATE_WORDS),
    ]),
    make.select('months', 'Received in', MONTH_CHOICES),
    make.day('from', 'Or from'),
    make.day('until', 'Until'),
  ]);
}
