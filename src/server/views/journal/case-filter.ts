import { say } from '../../../language/say.js';
import { compareTexts } from '../../../language/words.js';
import type { Knowledge } from '../../../rules/knowledge/knowledge.js';
import type { FormView } from '../../../templates/journal-models.js';
import type { Names } from '../../journal/names.js';
import { startFields, typedFrom, viewForm } from './form.js';
import { CASE_STATE_WORDS, COMPLAINT_STATE_WORDS } from './words.js';

const any = (): readonly [string, string] => ['', say('overview.any')];

/** Causes by their names, for a list to choose from. */
export const causeChoices = (knowledge: Knowledge): (readonly [string, string])[] =>
  [...knowledge.book.causes.values()]
    .map((cause) => [cause.id, cause.label] as const)
    .sort(([, a], [, b]) => compareTexts(a, b));

/** Spans to look back over, from all time to a year. */
export const monthChoices = (): (readonly [string, string])[] => [
  ['', say('overview.all-time')],
  ['1', say('overview.last-month')],
  ['3', say('overview.last-months', { n: 3 })],
  ['6', say('overview.last-months', { n: 6 })],
  ['12', say('overview.last-year')],
];

/** The search above the list of cases. */
export function viewCaseFilter(params: URLSearchParams, knowledge: Knowledge, names: Names): FormView {
  const make = startFields(typedFrom(params), []);
  return viewForm('/cases', say('overview.search'), [
    make.text('q', say('overview.words'), { hint: say('overview.words-hint') }),
    make.select('frame', say('record.frame'), [any(), ...names.frames]),
    make.number('position', say('record.position')),
    make.select('yarn', say('record.yarn'), [any(), ...names.yarns]),
    make.select('lot', say('record.lot'), [any(), ...names.lots]),
    make.select('cause', say('record.root-cause'), [any(), ...causeChoices(knowledge)]),
    make.select('state', say('overview.stands'), [
      any(),
      ['not-closed', say('overview.not-closed')],
      ...Object.entries(CASE_STATE_WORDS),
    ]),
    make.select('outcome', say('overview.ended'), [
      any(),
      ['confirmed', say('overview.confirmed')],
      ['suspected', say('overview.suspected')],
      ['not-found', say('record.out-not-found')],
    ]),
    make.select('months', say('overview.opened-in'), monthChoices()),
    make.day('from', say('overview.or-from')),
    make.day('until', say('overview.until')),
  ]);
}

/** The search above the list of complaints. */
export function viewComplaintFilter(params: URLSearchParams, knowledge: Knowledge, names: Names): FormView {
  const make = startFields(typedFrom(params), []);
  return viewForm('/complaints', say('overview.search'), [
    make.text('q', say('overview.words'), { hint: say('overview.words-hint-complaints') }),
    make.text('customer', say('complaint.customer'), { hint: say('overview.whole-name') }),
    make.select('yarn', say('record.yarn'), [any(), ...names.yarns]),
    make.select('lot', say('record.lot'), [any(), ...names.lots]),
    make.select('frame', say('record.frame'), [any(), ...names.frames]),
    make.select('cause', say('record.root-cause'), [any(), ...causeChoices(knowledge)]),
    make.select('state', say('overview.stands'), [
      any(),
      ['not-closed', say('overview.not-closed')],
      ...Object.entries(COMPLAINT_STATE_WORDS),
    ]),
    make.select('months', say('overview.received-in'), monthChoices()),
    make.day('from', say('overview.or-from')),
    make.day('until', say('overview.until')),
  ]);
}
